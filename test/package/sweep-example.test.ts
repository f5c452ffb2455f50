import { spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { afterAll, describe, expect, it } from 'vitest'

// The sweep as a user starts it, on the build that the set-up of these tests has made.
const root = fileURLToPath(new URL('../..', import.meta.url))
const folder = mkdtempSync(join(tmpdir(), 'restmass-sweep-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const node = (...words: string[]) => spawnSync(process.execPath, words, { cwd: root, encoding: 'utf8' })
const shard = (index: number, count: number, file: string) => {
  const words = ['--steps', '3x3x2', '--threads', '2', '--shard', `${index}/${count}`, '--out', join(folder, file)]
  return node('docs/examples/sweep-on-a-worker-pool.mjs', ...words)
}
const text = (file: string) => readFileSync(join(folder, file), 'utf8')

describe('a sweep on a worker pool', () => {
  it('fills its bar and says how many points it has', () => {
    const { status, stdout, stderr } = shard(0, 1, 'whole.json')
    expect(status).toBe(0)
    expect(stdout).toMatch(/18 of 18 points, \d+ unstable, 0 without result\n$/)
    expect(stderr).toContain(`[${'#'.repeat(40)}] 18/18, done`)
  })

  it.each([2, 7])(
    'gives the same bytes from %i shards',
    (count) => {
      const files = Array.from({ length: count }, (_, index) => `${index}-of-${count}.json`)
      files.forEach((file, index) => {
        expect(shard(index, count, file).status).toBe(0)
      })
      const merge = node(
        'docs/examples/merge-sweep-shards.mjs',
        ...[`of-${count}.json`, ...files].map((file) => join(folder, file)),
      )
      expect([merge.status, merge.stderr]).toEqual([0, ''])
      expect(text(`of-${count}.json`)).toBe(text('whole.json'))
    },
    120_000,
  )

  it('goes on where its file ends', () => {
    const before = text('0-of-2.json')
    expect(shard(0, 2, '0-of-2.json').status).toBe(0)
    expect(text('0-of-2.json')).toBe(before)
  })

  it('refuses a shard that is none', () => {
    const { status, stderr } = node('docs/examples/sweep-on-a-worker-pool.mjs', '--shard', 'one')
    expect([status, stderr]).toEqual([1, "'one' must be 2 whole numbers with / between\n"])
  })
})
