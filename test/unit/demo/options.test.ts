import { describe, expect, it } from 'vitest'
import { parseOptions } from '../../../docs/examples/demo/options.js'

const complete = ['floor.csv', '--rate', '100', '--column', 'z', '--quantity', 'velocity']
const without = (name: string) => complete.filter((word, k) => word !== name && complete[k - 1] !== name)
const replaced = (name: string, value: string) => complete.map((word, k) => (complete[k - 1] === name ? value : word))

describe('the command line', () => {
  it('asks for the invented floor and VC-E when it is empty', () => {
    const options = parseOptions([])
    expect(options.file).toBeNull()
    expect(options.criterion.name).toBe('VC-E')
  })

  it('takes a file with its rate, column, quantity, and a criterion', () => {
    const options = parseOptions([...complete, '--criterion=VC-G'])
    expect(options).toMatchObject({ file: 'floor.csv', rate: 100, column: 'z', quantity: 'velocity' })
    expect(options.criterion.name).toBe('VC-G')
  })

  it.each([
    ['an unknown option', [...complete, '--gain', '2'], "unknown option '--gain'"],
    ['an unknown short option', [...complete, '-x'], "unknown option '-x'"],
    ['two files', [...complete, 'other.csv'], 'one file at a time'],
    ['an option given twice', [...complete, '--rate', '100'], '--rate is given twice'],
    ['an option without value', [...complete, '--criterion'], '--criterion needs a value'],
    ['an option in place of a value', ['floor.csv', '--rate', '--column', 'z'], '--rate needs a value'],
    ['no rate', without('--rate'), 'missing --rate'],
    ['no column', without('--column'), 'missing --column'],
    ['no quantity', without('--quantity'), 'missing --quantity'],
    ['a rate without a file', ['--rate', '100'], '--rate needs a file'],
    ['a rate in words', replaced('--rate', 'fast'), "--rate must be a number above 0 [Hz], got 'fast'"],
    ['a rate of 0', replaced('--rate', '0'), '--rate must be a number above 0'],
    ['a negative rate', replaced('--rate', '-100'), '--rate must be a number above 0'],
    ['an infinite rate', replaced('--rate', 'Infinity'), '--rate must be a number above 0'],
    ['another quantity', replaced('--quantity', 'displacement'), "got 'displacement'"],
    ['an unknown criterion', [...complete, '--criterion', 'VC-Z'], '--criterion: '],
  ])('refuses %s', (_, words, says) => {
    expect(() => parseOptions(words)).toThrow(says)
  })
})
