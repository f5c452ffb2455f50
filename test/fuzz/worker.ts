import { once } from 'node:events'
import { openSync, writeSync } from 'node:fs'
import { inspect } from 'node:util'
import { randomNumbers } from '../../src/internal/random-numbers.js'
import { fault } from './judge.js'
import { mutated } from './mutate.js'
import { publicFunction, publicFunctions, recordedCalls } from './recorded-calls.js'
import { heavy, patienceWith } from './weights.js'

/** Which calls a process makes: every `step`-th from `first` on. */
export interface Share {
  readonly seed: number
  readonly first: number
  readonly step: number
  readonly end: number
  /** File with the number of the call under way, for whoever watches for calls that never return. */
  readonly progress: string
}

/** One fault found. */
export interface Finding {
  readonly number: number
  readonly name: string
  readonly problem: string
  /** The arguments, as text. */
  readonly args: string
}

const [{ seed, first, step, end, progress }] = (await once(process, 'message')) as [Share]
const underWay = openSync(progress, 'w')
let made = 0
const calls = recordedCalls()
const names = publicFunctions()
const light = names.filter((name) => !heavy.includes(name))
const byName = new Map(names.map((name) => [name, calls.filter((call) => call.name === name)]))

for (let number = first; number < end; number += step) {
  const random = randomNumbers(seed + 7919 * number)
  // Every function gets its share of calls, however often the documentation uses it.
  const turn = Math.floor(number / 200)
  const name = (number % 200 === 0 ? heavy[turn % heavy.length] : light[number % light.length]) as string
  const known = byName.get(name) ?? []
  const base = known[Math.floor(known.length * random())]
  writeSync(underWay, `${number}`.padStart(12), 0)
  made += 1
  const args = base === undefined ? [] : mutated(base.args, random)
  const problem = fault(publicFunction(name), args, patienceWith(name))
  if (problem !== null) process.send?.({ number, name, problem, args: shown(args) } satisfies Finding)
}
process.send?.(made, () => process.disconnect())

function shown(args: readonly unknown[]): string {
  return inspect(args, { depth: 7, maxArrayLength: 8, maxStringLength: 60, breakLength: 160 }).slice(0, 40000)
}
