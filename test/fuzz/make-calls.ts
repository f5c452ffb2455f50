import { openSync, writeSync } from 'node:fs'
import { inspect } from 'node:util'
import { randomNumbers } from '../../src/internal/random-numbers.js'
import { type AnyFunction, fault } from './judge.js'
import { mutated } from './mutate.js'
import type { RecordedCall } from './recorded-calls.js'
import type { Finding, Share, UnderWay } from './share.js'
import { endless, heavy, longestListOf, patienceWith } from './weights.js'

/** Functions, and calls of them to start from. */
export interface Subject {
  readonly functions: Readonly<Record<string, AnyFunction>>
  readonly calls: readonly RecordedCall[]
}

/** Makes the calls of a share, tells every fault, and returns how many calls it made. */
export function makeCalls(subject: Subject, share: Share, tell: (finding: Finding) => void): number {
  const { seed, first, step, end, progress, lost } = share
  const draw = drawnCalls(subject, seed)
  if (lost !== null) tell({ ...lost, args: shown(draw(lost.number).args) })
  const underWay = openSync(progress, 'w')
  let made = 0
  for (let number = first; number < end; number += step) {
    const { name, args } = draw(number)
    const patience = patienceWith(name)
    writeSync(underWay, JSON.stringify({ number, name, patience } satisfies UnderWay).padEnd(120), 0)
    made += 1
    const problem = fault(subject.functions[name] as AnyFunction, args, { patience, infinite: endless.includes(name) })
    if (problem !== null) tell({ number, name, problem, args: shown(args) })
  }
  return made
}

/** The call of each number, the same for the same seed. */
export function drawnCalls(subject: Subject, seed: number): (number: number) => RecordedCall {
  const names = Object.keys(subject.functions)
  const searches = names.filter((name) => heavy.includes(name))
  const light = names.filter((name) => !heavy.includes(name))
  const byName = new Map(names.map((name) => [name, subject.calls.filter((call) => call.name === name)]))
  return (number) => {
    const random = randomNumbers(seed + 7919 * number)
    // Every function gets its share of calls, however often the documentation uses it.
    const turn = Math.floor(number / 200)
    const isHeavy = number % 200 === 0 && searches.length > 0
    const name = (isHeavy ? searches[turn % searches.length] : light[number % light.length]) as string
    const known = byName.get(name) ?? []
    const base = known[Math.floor(known.length * random())]
    return { name, args: base === undefined ? [] : mutated(base.args, random, longestListOf(name)) }
  }
}

function shown(args: readonly unknown[]): string {
  return inspect(args, { depth: 7, maxArrayLength: 8, maxStringLength: 60, breakLength: 160 }).slice(0, 40000)
}
