import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import {
  delay,
  type Margins,
  margins,
  parallel,
  type StateSpace,
  series,
  transferFunction,
} from '../../src/systems/index.js'

// Source of every expected value: test/reference/data/margins.json, 40 digits, no state space.
interface Case {
  readonly title: string
  readonly terms: readonly (readonly { num: number[]; den: number[] }[])[]
  readonly delay: number
  readonly expected: {
    readonly gainCrossovers: readonly (readonly [number, number])[]
    readonly phaseCrossovers: readonly (readonly [number, number])[]
    readonly modulusMargin: number
    readonly modulusMarginFrequency: number | null
  }
}
const { cases } = JSON.parse(readFileSync(new URL('./data/margins.json', import.meta.url), 'utf8')) as { cases: Case[] }

/** A crossover is polished to rounding; ε over the lightest damping, 1e-5, is 2e-11, and some is lost on the way. */
const ofFrequency = 1e-9
/** |L| and its phase change by a factor two and by 45° over a band of 1e-5, so what is left of 1e-13 there is 1e-8. */
const ofGainMargin = 1e-7
const ofPhaseDegrees = 1e-6
/** A minimum is known to rounding, its place only to the square root of it. */
const ofModulus = 1e-9
const ofModulusFrequency = 1e-6

describe.each(cases)('$title', ({ terms, delay: seconds, expected }) => {
  const found: Margins = margins(loopOf(terms, seconds))

  it('has every gain crossover with its phase margin', () => {
    const { gainCrossovers } = found
    expect(gainCrossovers.length).toBe(expected.gainCrossovers.length)
    expected.gainCrossovers.forEach(([frequency, phaseMargin], k) => {
      expectRatio(gainCrossovers[k].frequency, frequency, ofFrequency)
      expect(Math.abs(gainCrossovers[k].phaseMarginDegrees - phaseMargin)).toBeLessThan(ofPhaseDegrees)
    })
  })

  it('has every phase crossover with its gain margin', () => {
    // Where the list ends with delay is stated to a sample only: |L| about 1e-3.
    const listed = <T>(all: readonly T[], gainMargin: (one: T) => number) =>
      all.filter((one) => seconds === 0 || gainMargin(one) < 990)
    const crossovers = listed(found.phaseCrossovers, (one) => one.gainMargin)
    const wanted = listed(expected.phaseCrossovers, ([, gainMargin]) => gainMargin)
    expect(crossovers.length).toBe(wanted.length)
    wanted.forEach(([frequency, gainMargin], k) => {
      expectRatio(crossovers[k].frequency, frequency, ofFrequency)
      expectRatio(crossovers[k].gainMargin, gainMargin, ofGainMargin)
    })
  })

  it('has the modulus margin', () => {
    expectRatio(found.modulusMargin, expected.modulusMargin, ofModulus)
    // A loop that only tends to 1 from above has its minimum at 0 or Infinity, but wherever rounding puts it.
    if (expected.modulusMargin < 0.999) {
      expectRatio(found.modulusMarginFrequency, expected.modulusMarginFrequency ?? 0, ofModulusFrequency)
    }
  })
})

function loopOf(terms: Case['terms'], seconds: number): StateSpace {
  const blocks = ({ num, den }: { num: number[]; den: number[] }) =>
    transferFunction({ numerator: num, denominator: den })
  // A double lead is only proper together with the lags behind it.
  const products = terms.map((term) => series(...properBlocks(term).map(blocks)))
  const sum = products.length === 1 ? products[0] : parallel(...products)
  return seconds === 0 ? sum : series(sum, delay({ seconds }))
}

/** Blocks with more zeros than poles take the blocks behind them along until they are proper. */
function properBlocks(term: readonly { num: number[]; den: number[] }[]): { num: number[]; den: number[] }[] {
  const blocks: { num: number[]; den: number[] }[] = []
  for (const { num, den } of term) {
    const last = blocks.at(-1)
    if (last !== undefined && last.num.length > last.den.length) {
      blocks[blocks.length - 1] = { num: product(last.num, num), den: product(last.den, den) }
    } else blocks.push({ num, den })
  }
  return blocks
}

function product(a: readonly number[], b: readonly number[]): number[] {
  const result = new Array<number>(a.length + b.length - 1).fill(0)
  a.forEach((x, i) => {
    b.forEach((y, j) => {
      result[i + j] += x * y
    })
  })
  return result
}

function expectRatio(found: number, expected: number, tolerance: number): void {
  expect(Math.abs(found / expected - 1)).toBeLessThan(tolerance)
}
