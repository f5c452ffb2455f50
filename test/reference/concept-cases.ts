import { readFileSync } from 'node:fs'
import { airSpring } from '../../src/elements/index.js'
import { type IsolationModel, type IsolationOptions, isolation } from '../../src/isolation/index.js'

// Source of every expected value: test/reference/data/concepts.json, computed with 40 digits from the force balances.
export type Complex = readonly [number, number]
export interface Case {
  id: string
  concept: string
  options: Record<string, unknown>
  frequencies: number[]
  expected: Record<'T' | 'compliance' | 'L' | 'reactionResidual' | 'reactionCompliance', Complex[] | undefined>
  margins?: { unstablePoles: number; modulusMargin: number; gainCrossovers: Complex[]; phaseCrossovers: Complex[] }
  unstablePoles?: number
}
export const { cases } = JSON.parse(readFileSync(new URL('./data/concepts.json', import.meta.url), 'utf8')) as {
  cases: Case[]
}

/** The options of a case with its air springs made from theirs. */
export function modelOf({ concept, options }: Case): IsolationModel {
  const text = JSON.stringify({ ...options, concept })
  return isolation(
    JSON.parse(text, (_, value) => (value?.airSpring ? airSpring(value.airSpring) : value)) as IsolationOptions,
  )
}
