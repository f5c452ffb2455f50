// A worker like any other whose functions misbehave on purpose: what the overseer has to notice.
import { once } from 'node:events'
import { makeCalls } from './make-calls.js'
import type { Share } from './share.js'

const functions = {
  halves: (value: unknown) => (typeof value === 'number' && Number.isFinite(value) ? value / 2 : 0),
  neverReturns: () => {
    for (;;);
  },
  fillsTheHeap: () => {
    for (const kept: unknown[] = []; ; ) kept.push([kept.length])
  },
  fillsTheProcess: () => {
    for (const kept: unknown[] = []; ; ) kept.push(new Float64Array(2 ** 20).fill(1))
  },
  exits: () => process.exit(3),
  givesNothing: () => Number.NaN,
}

const [share] = (await once(process, 'message')) as [Share]
const calls = Object.keys(functions).map((name) => ({ name, args: [8] }))
const made = makeCalls({ functions, calls }, share, (finding) => process.send?.(finding))
process.send?.(made, () => process.disconnect())
