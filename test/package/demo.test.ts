import { spawnSync } from 'node:child_process'
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { describe, expect, it } from 'vitest'

// The demonstration as a user starts it, on the build that the set-up of these tests has made.
const root = fileURLToPath(new URL('../..', import.meta.url))

const demo = (words: string[]) =>
  spawnSync(process.execPath, ['docs/examples/demo.mjs', ...words], { cwd: root, encoding: 'utf8' })
const widest = (text: string) => Math.max(...text.split('\n').map((line) => [...line].length))

describe('npm run demo', () => {
  it('judges seven candidates, states the simplest that passes and writes a page that needs no network', () => {
    const { status, stdout, stderr } = demo([])
    expect([status, stderr]).toEqual([0, ''])
    expect(stdout).toContain('Scenario: invented')
    for (const name of ['rubber mounts', 'steel springs', 'air springs', 'damped air springs', 'parallel active']) {
      expect(stdout).toMatch(new RegExp(`^${name} .*(pass|fail)$`, 'm'))
    }
    expect(stdout).toMatch(/^series active .*(pass|fail)$/m)
    expect(stdout).toMatch(/^stack .*(pass|fail)$/m)
    expect(stdout).toContain('simplest that passes, stage at rest: damped air springs')
    expect(stdout).toContain('simplest that passes, stage scanning too: parallel active')
    expect(widest(stdout)).toBeLessThanOrEqual(120)

    const report = readFileSync(join(root, 'out', 'report.html'), 'utf8')
    expect(report.match(/<svg /g)?.length).toBe(3)
    expect(report.replaceAll(/ xmlns(:\w+)?="[^"]*"/g, '')).not.toMatch(/https?:|<script|<link|src=/)
    const identifiers = Array.from(report.matchAll(/ id="([^"]+)"/g), ([, id]) => id)
    expect(new Set(identifiers).size).toBe(identifiers.length)
  })
})

describe('npm run demo with something amiss', () => {
  it.each([
    [
      'a missing file',
      ['none.csv', '--rate', '100', '--column', 'z', '--quantity', 'velocity'],
      'there is no such file',
    ],
    ['an unknown option', ['--frequency', '3'], "unknown option '--frequency'"],
  ])('refuses %s in one line, with exit code 1', (_, words, says) => {
    const { status, stdout, stderr } = demo(words)
    expect([status, stdout]).toEqual([1, ''])
    expect(stderr).toMatch(/^demo: [^\n]+\n$/)
    expect(stderr).toContain(says)
  })
})
