import { rmSync } from 'node:fs'
import { join } from 'node:path'
import { build } from 'tsup'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { oversee } from '../fuzz/oversee.js'
import type { Finding } from '../fuzz/share.js'
import { root } from './support/repository.js'

// The runner of random calls, with functions that misbehave on purpose. Which call is which follows from the order of the
// functions in test/fuzz/planted-worker.ts; what has to be told of each, derived from what it does.

const folder = join(root, 'out/fuzz/planted')
const task = { worker: join(folder, 'planted-worker.js'), seed: 1, grace: 2000, memory: { heap: 64, process: 600 } }

async function told(share: { from: number; runs: number; processes: number }): Promise<string[]> {
  const findings: Finding[] = []
  await oversee({ ...task, ...share }, (finding) => findings.push(finding))
  return findings.sort((a, b) => a.number - b.number).map(({ number, name, problem }) => `${number} ${name} ${problem}`)
}

beforeAll(async () => {
  await build({
    config: false,
    entry: [join(root, 'test/fuzz/planted-worker.ts')],
    format: 'esm',
    outDir: folder,
    target: 'node20',
    silent: true,
    tsconfig: join(root, 'test/tsconfig.json'),
  })
})

afterAll(() => rmSync(folder, { recursive: true, force: true }))

describe('the runner of random calls', () => {
  it('ends what does not return, fills the memory or takes its process along, tells it and goes on', async () => {
    expect(await told({ from: 0, runs: 12, processes: 2 })).toEqual([
      '1 neverReturns does not return',
      '2 fillsTheHeap fills the heap',
      '3 fillsTheProcess takes over 600 MB',
      '4 exits ends its process',
      '5 givesNothing gives NaN at the result',
      '7 neverReturns does not return',
      '8 fillsTheHeap fills the heap',
      '9 fillsTheProcess takes over 600 MB',
      '10 exits ends its process',
      '11 givesNothing gives NaN at the result',
    ])
  })

  it('tells the arguments of a call whose process it had to end, the last call too', async () => {
    const findings: Finding[] = []
    await oversee({ ...task, from: 1, runs: 1, processes: 1 }, (finding) => findings.push(finding))
    expect(findings).toMatchObject([{ number: 1, name: 'neverReturns', args: expect.stringMatching(/^\[.*\]$/s) }])
  })

  it('finds nothing where nothing is wrong', async () => {
    expect(await told({ from: 6, runs: 1, processes: 2 })).toEqual([])
  })
})
