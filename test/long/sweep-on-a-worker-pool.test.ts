import { execFileSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'

const root = fileURLToPath(new URL('../..', import.meta.url))
const folder = mkdtempSync(join(tmpdir(), 'restmass-sweep-'))
const run = (command: string, words: string[]) => execFileSync(command, words, { cwd: root, stdio: 'ignore' })

describe('10 000 points of stiffness, gain and delay', () => {
  beforeAll(() => run('npm', ['run', '--silent', 'build']), 300_000)
  afterAll(() => rmSync(folder, { recursive: true, force: true }))

  it('are the same to the last bit from 1, 2 and 7 shards on two threads', () => {
    const joined = [1, 2, 7].map((count) => {
      const files = Array.from({ length: count }, (_, index) => join(folder, `${index}-of-${count}.json`))
      files.forEach((file, index) => {
        const words = ['--threads', '2', '--shard', `${index}/${count}`, '--out', file]
        run(process.execPath, ['docs/examples/sweep-on-a-worker-pool.mjs', ...words])
      })
      const out = join(folder, `of-${count}.json`)
      run(process.execPath, ['docs/examples/merge-sweep-shards.mjs', out, ...files])
      return readFileSync(out, 'utf8')
    })
    expect(JSON.parse(joined[0] ?? '').rows).toHaveLength(10_000)
    expect(joined[1]).toBe(joined[0])
    expect(joined[2]).toBe(joined[0])
  })
})
