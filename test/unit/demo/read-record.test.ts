import { describe, expect, it } from 'vitest'
import { readRecord } from '../../../docs/examples/demo/read-record.js'

describe('a record as text', () => {
  it('gives one column; # starts a comment and the first other line names the columns', () => {
    const text = '# a floor\n# in m/s\ntime,z\n0,1e-6\n# a pause\n1,-2.5E-6\r\n2,.5\n'
    expect(Array.from(readRecord(text, 'z'))).toEqual([1e-6, -2.5e-6, 0.5])
  })

  it('may begin with a byte order mark and end without a line break', () => {
    expect(Array.from(readRecord('\uFEFFz\n1\n2', 'z'))).toEqual([1, 2])
  })

  it('minds only the column that it reads', () => {
    expect(Array.from(readRecord('clock,z\n12:00,1\n,2\n', 'z'))).toEqual([1, 2])
  })

  it.each([
    ['nothing', '', 'the file is empty'],
    ['nothing but comments', '# a\n# b\n', 'the file is empty'],
    ['a header alone', 'y,z\n', 'no samples'],
    ['no such column', 'x,y\n1,2\n', "no column 'z'; columns are x, y"],
    ['the column twice', 'z,z\n1,2\n', "two columns are called 'z'"],
    ['an empty cell', 'y,z\n1,2\n1,\n', "line 3: column 'z' is empty"],
    ['an empty line', 'y,z\n1,2\n\n1,3\n', 'line 3 is empty'],
    ['a word', 'y,z\n1,2\n1,gap\n', "line 3: column 'z' holds 'gap'"],
    ['NaN', 'z\n1\nNaN\n', "holds 'NaN'"],
    ['a number too large', 'z\n1\n1e999\n', "holds '1e999'"],
    ['a hexadecimal number', 'z\n1\n0x10\n', "holds '0x10'"],
    ['a short row', '# c\ny,z\n1,2\n3\n', 'line 4 has 1 cells, the header has 2'],
    ['a long row', 'y,z\n1,2\n1,2,3\n', 'line 3 has 3 cells, the header has 2'],
    ['semicolons', 'y;z\n1;2\n', "no column 'z'"],
    ['a dead channel', 'z\n0\n0\n0\n', 'never changes'],
  ])('is refused with %s', (_, text, says) => {
    expect(() => readRecord(text, 'z')).toThrow(says)
  })
})
