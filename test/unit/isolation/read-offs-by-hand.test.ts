import { describe, expect, it } from 'vitest'
import { scopeOf } from '../../../src/internal/check.js'
import { compliancePeak, intervalsWhere, summaryOf } from '../../../src/isolation/isolation-summary.js'
import { transfer } from '../../../src/isolation/seated.js'
import { sharedLine } from '../../../src/isolation/shared-line.js'
import { parallel } from '../../../src/systems/parallel.js'
import { transferFunction } from '../../../src/systems/transfer-function.js'
import { hertz } from './round-numbers.js'

const scope = scopeOf('test')
/** k/(s² + 2ζω₀s + ω₀²), as motion of the payload per motion of the floor. */
const oscillator = (omega: number, dampingRatio: number, k = 1) =>
  transferFunction({
    numerator: [k],
    denominator: [1, 2 * dampingRatio * omega, omega ** 2],
    input: 'floorVelocity',
    output: 'payloadVelocity',
  })

describe('resonances of a response', () => {
  it('come in the order of their frequencies, undamped ones among the others', () => {
    const sum = parallel(parallel(oscillator(1, 0.001), oscillator(10, 0, 100)), oscillator(100, 0.001, 1e4))
    const { resonances, peak, peakFrequency } = summaryOf(scope, sum, '')
    expect(resonances.map(({ frequency }) => Math.round(2 * Math.PI * frequency))).toEqual([1, 10, 100])
    expect(resonances[1].amplification).toBe(Number.POSITIVE_INFINITY)
    // 1/(2ζ) = 500 of each beside what the others have there, one apiece at most
    for (const k of [0, 2]) expect(Math.abs(resonances[k].amplification - 500)).toBeLessThan(3)
    expect([peak, peakFrequency]).toEqual([Number.POSITIVE_INFINITY, resonances[1].frequency])
  })
})

describe('the largest displacement per force', () => {
  /** Velocity per force on a mass of 2 kg on 8 N/m, resonant at 2 rad/s */
  const compliant = (dampingRatio: number) =>
    transferFunction({
      numerator: [1, 0],
      denominator: [2, 8 * dampingRatio, 8],
      input: 'payloadForceZ',
      output: 'payloadVelocityZ',
    })

  // Closed form of one degree of freedom: 1/(2ζ√(1 − ζ²)) of 1/k, at ω₀√(1 − 2ζ²).
  it.each([0.01, 0.1, 0.5])('is that of a spring under resonance, damping ratio %d', (zeta) => {
    const { frequency, amplification } = compliancePeak(scope, compliant(zeta), 'Z', 1 / 8)
    expect(amplification / (1 / 8 / (2 * zeta * Math.sqrt(1 - zeta ** 2)))).toBeCloseTo(1, 9)
    expect(frequency / hertz(2 * Math.sqrt(1 - 2 * zeta ** 2))).toBeCloseTo(1, 6)
  })

  it('has no bound without damping', () => {
    const { frequency, amplification } = compliancePeak(scope, compliant(0), 'Z', 1 / 8)
    expect(amplification).toBe(Number.POSITIVE_INFINITY)
    expect(frequency).toBeCloseTo(hertz(2), 9)
  })

  it('is that at rest where nothing resonates', () => {
    expect(compliancePeak(scope, compliant(0.8), 'Z', 1 / 8)).toEqual({ frequency: 0, amplification: 1 / 8 })
  })
})

describe('intervals of a response', () => {
  const omega = [0.5, 1.5, 2.5, 3.5, 4.5]
  const response = (g: (omega: number) => number) => ({
    at: (w: number) => ({ re: g(w), im: 0 }),
    scan: { omega, re: omega.map(g), im: omega.map(() => 0) },
  })
  const below = (g: (omega: number) => number) =>
    intervalsWhere(
      response(g),
      (re) => re,
      (value) => value < 0,
    ).map((interval) => interval.map((place) => 2 * Math.PI * place))

  it('lie between the zeros where the condition holds, from 0 and to Infinity', () => {
    expect(below(() => 1)).toEqual([])
    expect(below(() => -1)).toEqual([[0, Number.POSITIVE_INFINITY]])
    const [[from, to], ...others] = below((w) => (w - 1) * (w - 3))
    expect([from, to].map((place) => Math.round(place * 1e9) / 1e9)).toEqual([1, 3])
    expect(others).toEqual([])
    const both = below((w) => -(w - 1) * (w - 3)).flat()
    expect(both.map((place) => Math.round(place * 1e9) / 1e9)).toEqual([0, 1, 3, Number.POSITIVE_INFINITY])
  })
})

describe('chambers on a common line', () => {
  it('take in what they lack of the mean pressure of their group', () => {
    const member = (index: number) => ({ index, part: 1 })
    const groups = [
      { place: [0, 0, 0] as const, members: [member(0), member(1), member(2)] },
      { place: [1, 0, 0] as const, members: [member(3), member(4)] },
    ]
    const { blocks, wires } = sharedLine(scope, { flowResistance: 0.5 }, groups as never)
    const D = blocks.line.D.map((row) => row.map((value) => Math.round(value * 3e9) / 1e9))
    // (mean − own)/R: two thirds and a half of what each has over the others, over 0.5 Pa·s/m³; here times 3
    expect(D).toEqual([
      [2, -4, 2, 0, 0],
      [2, 2, -4, 0, 0],
      [0, 0, 0, 3, -3],
    ])
    expect(wires).toEqual({
      'line.pressure1': 'mounts.pressure1',
      'line.pressure2': 'mounts.pressure2',
      'line.pressure3': 'mounts.pressure3',
      'line.pressure4': 'mounts.pressure4',
      'line.pressure5': 'mounts.pressure5',
      'mounts.exchange1': 'line.flow1',
      'mounts.exchange2': 'line.flow2',
      'mounts.exchange3': 'line.flow3',
    })
  })
})

describe('motion of one place by that of another', () => {
  // v(to) = v(from) + ω × (to − from)
  it('adds what the rotation makes of the way between them', () => {
    expect(transfer([2, 3, 5], [1, 1, 1]).map((row) => row.map((value) => value + 0))).toEqual([
      [1, 0, 0, 0, 4, -2],
      [0, 1, 0, -4, 0, 1],
      [0, 0, 1, 2, -1, 0],
      [0, 0, 0, 1, 0, 0],
      [0, 0, 0, 0, 1, 0],
      [0, 0, 0, 0, 0, 1],
    ])
  })
})
