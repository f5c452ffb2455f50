import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { type DiscreteStateSpace, margins, transferFunction } from '../../src/systems/index.js'

// Source of every expected value: test/reference/data/discrete-margins.json, 40 digits, no state space.
interface Case {
  readonly title: string
  readonly num: number[]
  readonly den: number[]
  readonly sampleTime: number
  readonly expected: {
    readonly closedLoop: string
    readonly gainCrossovers: readonly (readonly [number, number])[]
    readonly phaseCrossovers: readonly (readonly [number, number])[]
    readonly modulusMargin: number
    readonly modulusMarginFrequency: number
    readonly gainMargin: number | null
    readonly gainReductionMargin: number | null
    readonly delayMargin: number | null
  }
}
const { cases } = JSON.parse(readFileSync(new URL('./data/discrete-margins.json', import.meta.url), 'utf8')) as {
  cases: Case[]
}

/** Near z = 1 a double or triple pole leaves about ε^(1/2) of the digits of a slow crossover; the lightest damping is 1e-4. */
const ofFrequency = 1e-9
const ofGain = 1e-8
const ofPhaseDegrees = 1e-6
/** A minimum is known to rounding, its place only to the square root of it. */
const ofModulus = 1e-9
const ofModulusFrequency = 1e-6

describe.each(cases)('$title', ({ num, den, sampleTime, expected }) => {
  const found = margins(digital(num, den, sampleTime))

  it('has its verdict and its overall margins', () => {
    expect(found.closedLoop).toBe(expected.closedLoop)
    expectSame(found.gainMargin, expected.gainMargin, ofGain)
    expectSame(found.gainReductionMargin, expected.gainReductionMargin, ofGain)
    expectSame(found.delayMargin, expected.delayMargin, ofGain)
  })

  it('has every crossover', () => {
    expect(found.gainCrossovers.length).toBe(expected.gainCrossovers.length)
    expected.gainCrossovers.forEach(([frequency, phaseMargin], k) => {
      expectSame(found.gainCrossovers[k].frequency, frequency, ofFrequency)
      expect(Math.abs(found.gainCrossovers[k].phaseMarginDegrees - phaseMargin)).toBeLessThan(ofPhaseDegrees)
    })
    expect(found.phaseCrossovers.length).toBe(expected.phaseCrossovers.length)
    expected.phaseCrossovers.forEach(([frequency, gainMargin], k) => {
      expectSame(found.phaseCrossovers[k].frequency, frequency, ofFrequency)
      expectSame(found.phaseCrossovers[k].gainMargin, gainMargin, ofGain)
    })
  })

  it('has the modulus margin', () => {
    expectSame(found.modulusMargin, expected.modulusMargin, ofModulus)
    expectSame(found.modulusMarginFrequency, expected.modulusMarginFrequency, ofModulusFrequency)
  })
})

/** The rational function of z in the form of a companion matrix. */
function digital(numerator: number[], denominator: number[], sampleTime: number): DiscreteStateSpace {
  const { delays: _, kind: __, ...matrices } = transferFunction({ numerator, denominator })
  return { ...matrices, kind: 'DiscreteStateSpace', sampleTime }
}

function expectSame(found: number | null, expected: number | null, tolerance: number): void {
  if (expected === null) expect(found).toBeNull()
  else expect(Math.abs((found as number) / expected - 1)).toBeLessThan(tolerance)
}
