import { describe, expect, it } from 'vitest'
import {
  adaptiveFrequencies,
  delay,
  discretize,
  frequencyResponse,
  gain,
  type LinearSystem,
  lowPass,
  mechanicalSystem,
  parallel,
  series,
  stateSpace,
  transferFunction,
} from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

const rational = (numerator: number[], denominator: number[]) => transferFunction({ numerator, denominator })

/** Largest relative error of a modulus read along chords, at seven places in every interval wider than `spared` relative. */
function worstReading(system: LinearSystem, grid: Float64Array, spared = 0): number {
  const shares = [0.1, 0.25, 0.37, 0.5, 0.63, 0.75, 0.9]
  const wide = Array.from(grid.keys()).filter((k) => k > 0 && grid[k] > grid[k - 1] * (1 + spared))
  const places = wide.flatMap((k) => shares.map((share) => grid[k - 1] * (grid[k] / grid[k - 1]) ** share))
  const coarse = frequencyResponse(system, grid)
  const fine = frequencyResponse(system, places)
  const modulus = ({ re, im }: { re: Float64Array; im: Float64Array }, k: number) => Math.hypot(re[k], im[k])
  let worst = 0
  for (let c = 0; c < coarse.inputs.length * coarse.outputs.length; c++) {
    wide.forEach((k, place) => {
      const [a, b] = [modulus(coarse, c * grid.length + k - 1), modulus(coarse, c * grid.length + k)]
      shares.forEach((share, q) => {
        const truth = modulus(fine, c * places.length + place * shares.length + q)
        worst = Math.max(worst, Math.abs(a * (b / a) ** share - truth) / truth)
      })
    })
  }
  return worst
}

const light = stateSpace({
  A: [
    [0, 1, 0, 0],
    [-13.69, -7.4e-5, 0, 0],
    [0, 0, 0, 1],
    [0, 0, -1705.69, -0.000826],
  ],
  B: [[0], [1], [0], [1]],
  C: [[1, 0, 160, 0]],
})
const undamped = mechanicalSystem({
  mass: [
    [1, 0],
    [0, 2],
  ],
  damping: [
    [0, 0],
    [0, 0],
  ],
  stiffness: [
    [300, -100],
    [-100, 100],
  ],
  inputs: { force: [1, 0], torque: [0, 1] },
  outputs: { near: { displacement: [1, 0] }, far: { acceleration: [0, 1] } },
})
// The chord is checked at three places of an interval; between them it may be worse by a little.
const between = 1.1

describe('adaptiveFrequencies', () => {
  it.each([
    ['a lag', rational([1], [1, 1]), 0.01],
    ['a lag, finely', rational([1], [1, 1]), 1e-4],
    ['a chain of four resonances', series(...new Array(4).fill(rational([1], [1, 1e-3, 1]))), 0.01],
    ['two resonances of damping 1e-5', light, 0.01],
    ['a notch of width 1e-6', rational([1, 1e-6, 1], [1, 2, 1]), 0.05],
    ['a steep low-pass, far down', lowPass({ cutoff: 0.1, order: 8 }), 0.01],
    ['a lag with a delay', series(rational([1], [1, 1]), delay({ seconds: 0.01, input: 'y1' })), 0.01],
    [
      'a sum with a delay',
      parallel(gain(1), series(gain(0.5), delay({ seconds: 0.5, input: 'y1', output: 'y1' }))),
      0.01,
    ],
  ] as [string, LinearSystem, number][])('holds its tolerance for %s', (_, system, tolerance) => {
    const grid = adaptiveFrequencies(system, { from: 0.01, to: 100, tolerance })
    expect([grid[0], grid[grid.length - 1]]).toEqual([0.01, 100])
    for (let k = 1; k < grid.length; k++) expect(grid[k]).toBeGreaterThan(grid[k - 1])
    expect(worstReading(system, grid)).toBeLessThanOrEqual(between * tolerance)
  })

  it('needs few points where little happens', () => {
    expect(adaptiveFrequencies(rational([1], [1, 1]), { from: 0.01, to: 100, tolerance: 0.01 }).length).toBeLessThan(80)
    expect(adaptiveFrequencies(gain(1), { from: 0.01, to: 100, tolerance: 0.01 }).length).toBeLessThan(80)
  })

  it('shows the height of a resonance of damping 1e-5', () => {
    const grid = adaptiveFrequencies(light, { from: 0.01, to: 100, tolerance: 0.01 })
    const { re, im } = frequencyResponse(light, grid)
    // test/reference/data/systems.json, O03-light-damping-norms: 4690.184031325662
    expect(Math.max(...re.map((value, k) => Math.hypot(value, im[k]))) / 4690.184031325662).toBeCloseTo(1, 3)
  })

  it('holds it in every channel of an undamped system but for 1e-9 around its poles and zeros', () => {
    const grid = adaptiveFrequencies(undamped, { from: 0.01, to: 100, tolerance: 0.02 })
    // Intervals that are not divided any further are those of 2e-9 to 4e-9.
    expect(worstReading(undamped, grid, 1e-8)).toBeLessThanOrEqual(between * 0.02)
    // computed from the closed form (300 − ω²)(100 − 2ω²) = 1e4, hence ω² = 175 ± √(175² − 1e4)
    for (const frequency of [0.8916361317879722, 2.840878134872163]) {
      const nearest = grid.reduce((least, f) => Math.min(least, Math.abs(f / frequency - 1)), 1)
      expect(nearest).toBeLessThan(1e-3)
    }
  })

  it('takes a channel that is zero, and one that is only rounding', () => {
    const zero = stateSpace({ A: [[-1]], B: [[1, 0]], C: [[1]] })
    expect(adaptiveFrequencies(zero, { from: 0.1, to: 10, tolerance: 0.01 }).length).toBeLessThan(80)
    // Two equal ways of opposite sign, with coefficients that do not cancel exactly
    const cancelled = stateSpace({
      A: [
        [-1, 0.3],
        [0.3, -1],
      ],
      B: [[1 / 3], [1 / 3]],
      C: [[1, -1 - 2e-16]],
    })
    expect(adaptiveFrequencies(cancelled, { from: 0.1, to: 10, tolerance: 0.01 }).length).toBeLessThan(120)
  })

  it('goes to half the sample rate of a discrete system', () => {
    const digital = discretize(light, { sampleTime: 0.01, method: 'bilinear' })
    const whole = adaptiveFrequencies(digital, { from: 0.01, to: 50, tolerance: 0.01 })
    expect(whole[whole.length - 1]).toBe(50)
    // At the double zero at z = −1 the modulus falls below rounding; short of it the chords must hold.
    const grid = adaptiveFrequencies(digital, { from: 0.01, to: 49.9, tolerance: 0.01 })
    expect(worstReading(digital, grid)).toBeLessThanOrEqual(between * 0.01)
    expect(refusal(() => adaptiveFrequencies(digital, { from: 1, to: 51, tolerance: 0.01 })).code).toBe('out-of-range')
  })

  it('refuses an end on a pole, and gives up on what needs too many points', () => {
    const resonator = rational([1], [1, 0, 4 * Math.PI * Math.PI])
    const onPole = refusal(() => adaptiveFrequencies(resonator, { from: 1, to: 2, tolerance: 0.1 }))
    expect(onPole).toMatchObject({ code: 'singular', details: { path: 'from' } })
    const comb = parallel(gain(1), delay({ seconds: 1 }))
    const many = refusal(() => adaptiveFrequencies(comb, { from: 0.1, to: 1e5, tolerance: 1e-6 }))
    expect([many.code, many.message]).toEqual([
      'no-convergence',
      'adaptiveFrequencies: needs too many frequencies; allow a larger tolerance',
    ])
  })

  it('refuses malformed options', () => {
    const path = (options: unknown) => refusal(() => adaptiveFrequencies(gain(1), options as never)).details.path
    expect(path({ from: 0, to: 1, tolerance: 0.1 })).toBe('from')
    expect(path({ from: 1, to: 1, tolerance: 0.1 })).toBe('to')
    expect(path({ from: 1, to: 2, tolerance: 0 })).toBe('tolerance')
    expect(path({ from: 1, to: 2, tolerance: 0.1, count: 9 })).toBe('count')
  })
})
