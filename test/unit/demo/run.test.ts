import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, describe, expect, it } from 'vitest'
import { parseOptions } from '../../../docs/examples/demo/options.js'
import { examine, run } from '../../../docs/examples/demo/run.js'
import { terminalText } from '../../../docs/examples/demo/terminal.js'
import { page } from '../../../docs/examples/html/page.js'
import { recordText } from '../../data/read-record.js'

const folder = mkdtempSync(join(tmpdir(), 'restmass-demo-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))
const table = (folderOfRecord: string, name: string) => {
  const path = join(folder, `${name}.csv`)
  writeFileSync(path, recordText(folderOfRecord, name))
  return path
}
const tremor = table('suburban-microtremor', 'suburban_microtremor')
const tower = table('tower-floors-ambient', 'tower_floors_ambient')

const words = (file: string, rate: string, column: string, quantity: string) => [
  file,
  '--rate',
  rate,
  '--column',
  column,
  '--quantity',
  quantity,
]
const fileWith = (text: string) => {
  const path = join(folder, 'record.csv')
  writeFileSync(path, text)
  return path
}
const textOf = (line: string[]) => terminalText(examine(parseOptions(line)))
const widest = (text: string) => Math.max(...text.split('\n').map((line) => [...line].length))

// Two processors may be busy with other tests.
describe('a measured floor', { timeout: 30_000 }, () => {
  it('at 100 Hz leaves the bands above 40 Hz unjudged, and says so', () => {
    const text = textOf(words(tremor, '100', 'vel_Z', 'velocity'))
    expect(text).toContain('not judged, since the record does not cover them: the bands at 50, 63, 80 Hz of VC-E')
    expect(text).not.toContain('rough')
    // README of the record, computed there with SciPy: class VC-G, worst band 8 Hz.
    expect(text).toContain('the floor itself meets VC-G')
    expect(text).toMatch(/^floor alone +– +8 /m)
    expect(widest(text)).toBeLessThanOrEqual(120)
  })

  it('of 28 s has rough bands, and says which', () => {
    const text = textOf(words(tower, '200', 'floor20_E', 'acceleration'))
    expect(text).toMatch(/rough, since they rest on few spectral lines/)
    expect(text).toMatch(/1 Hz\s+\(2\.2 lines\), 1\.25 Hz\s+\(2\.7 lines\), 1\.6 Hz\s+\(3\.4 lines\)/)
    expect(text).not.toContain('not judged, since')
    // README of the record, computed there with SciPy: worst band 1.6 Hz, the sway of the tower.
    expect(text).toMatch(/^floor alone +– +1\.6 /m)
    expect(widest(text)).toBeLessThanOrEqual(120)
  })

  it('may be as short and as slow as the refusals allow', () => {
    const samples = Array.from({ length: 13 * 23 }, (_, n) => `${1e-5 * Math.sin(n * n)}`)
    const text = textOf(words(fileWith(`z\n${samples.join('\n')}\n`), '23', 'z', 'velocity'))
    expect(text).toContain('the bands at 12.5, 16, 20, 25, 31.5, 40, 50, 63, 80 Hz of VC-E')
    expect(text).toContain('1 Hz (1 lines)')
  })
})

describe('the page', () => {
  it('takes its title, which may hold the name of any file, as text', () => {
    const html = page({ title: 'a <b> & c.csv', version: '1.2.3', from: 'npm run demo', sections: [] })
    expect(html).toContain('<h1>a &lt;b&gt; &amp; c.csv</h1>')
    expect(html).not.toContain('<b>')
    expect(html).toContain('restmass 1.2.3')
  })
})

describe('a run with something amiss', () => {
  const z = (file: string) => words(file, '100', 'z', 'velocity')

  it.each<[string, () => string[], string]>([
    ['an unknown option', () => ['--frequency', '3'], "unknown option '--frequency'"],
    ['a missing file', () => z(join(folder, 'none.csv')), 'there is no such file'],
    ['a folder for a file', () => z(folder), 'cannot read'],
    ['an empty file', () => z(fileWith('')), 'the file is empty'],
    ['a gap', () => z(fileWith('z\n1\n\n2\n')), 'line 3 is empty'],
    ['rows of differing length', () => z(fileWith('y,z\n1,2\n1\n')), 'line 3 has 1 cells'],
    ['a missing column', () => words(tremor, '100', 'vel_U', 'velocity'), 'columns are vel_Z, vel_N, vel_E'],
    ['a rate that is no number', () => words(tremor, 'x', 'vel_Z', 'velocity'), "got 'x'"],
    ['a rate too high', () => words(tremor, '10000', 'vel_Z', 'velocity'), 'at 10000 Hz the record lasts 4.8 s'],
    ['a rate too low', () => words(tremor, '10', 'vel_Z', 'velocity'), 'not even the 10 Hz band'],
    ['numbers whose squares are none', () => z(fileWith(`z\n${'1e200\n-1e200\n'.repeat(1000)}`)), 'samples'],
  ])('refuses %s in one line, with exit code 1', async (_, line, says) => {
    const printed: string[] = []
    const complaints: string[] = []
    const code = await run(line(), {
      print: (text) => printed.push(text),
      complain: (text) => complaints.push(text),
    })
    expect([code, printed, complaints.length]).toEqual([1, [], 1])
    expect(complaints[0]).toMatch(/^demo: [^\n]+$/)
    expect(complaints[0]).toContain(says)
  })
})
