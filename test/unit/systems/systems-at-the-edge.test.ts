import { describe, expect, it } from 'vitest'
import { scopeOf } from '../../../src/internal/check.js'
import { activeBand, activelyDampedIsolation } from '../../../src/isolation/index.js'
import { characteristicSum } from '../../../src/systems/characteristic-terms.js'
import {
  absolutePhaseDegrees,
  adaptiveFrequencies,
  bandPass,
  channel,
  discretize,
  frequencyResponse,
  gainLimits,
  hInfinityNorm,
  lowPass,
  magnitude,
  margins,
  poles,
  prepare,
  type StateSpace,
  secondOrderSections,
  stability,
  stateSpace,
  transferFunction,
} from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

const rational = (numerator: number[], denominator: number[]) => transferFunction({ numerator, denominator })
const only = { input: 'u1', output: 'y1' } as const
const turn = 2 * Math.PI

describe('a prepared system', () => {
  const two = stateSpace({
    A: [
      [-1, 2],
      [-3, -4],
    ],
    B: [
      [1, 0],
      [0, 2],
    ],
    C: [
      [1, 1],
      [0, 5],
    ],
  })
  const grid = [0, 0.1, 1, 10]

  it('answers as the system itself, for all channels and for some in another order', () => {
    expect(frequencyResponse(prepare(two), grid)).toEqual(frequencyResponse(two, grid))
    const some = { inputs: ['u2'], outputs: ['y2', 'y1'] } as const
    expect(frequencyResponse(prepare(two), grid, some)).toEqual(frequencyResponse(two, grid, some))
    const bounded = frequencyResponse(prepare(two), grid, { errorBound: 'residual' })
    expect(bounded.errorBound?.every((value) => value > 0 && value < 1e-12)).toBe(true)
  })

  it('answers from what was worked out once', () => {
    const handle = prepare(two)
    const { kernel, eigenvalues } = handle.factors as { kernel: Record<string, unknown>; eigenvalues: object }
    const counting = (asked: string[]) => {
      const watched = Object.fromEntries(
        Object.entries(kernel).map(([name, f]) => [
          name,
          (...args: unknown[]) => {
            asked.push(name)
            return (f as (...args: unknown[]) => unknown)(...args)
          },
        ]),
      )
      return { ...handle, factors: { kernel: watched, eigenvalues } }
    }
    const [along, bounded]: string[][] = [[], []]
    frequencyResponse(counting(along), grid)
    frequencyResponse(counting(bounded), grid, { errorBound: 'residual' })
    expect([along, bounded]).toEqual([['along'], new Array(4).fill('boundedAt')])
  })

  it('has the verdict of the system itself', () => {
    // s² + 5s + 10
    expect(stability(prepare(two))).toEqual(stability(two))
    expect(stability(prepare(two)).abscissa).toBeCloseTo(-2.5, 12)
  })
})

it('a mechanical system without outputs is no record of one', () => {
  const record = {
    kind: 'MechanicalSystem',
    mass: [[1]],
    damping: [[0]],
    stiffness: [[1]],
    forces: [[1]],
    inputs: ['f'],
  }
  expect(refusal(() => poles(record as never)).details.path).toBe('system.outputs')
})

describe('a mode without damping right on a sample', () => {
  // 1/(s² + 1) at 1 rad/s
  const free = rational([1], [1, 0, 1])

  it('is left out of the frequencies between, and refused as an end', () => {
    const frequencies = adaptiveFrequencies(free, { from: 0.1 / turn, to: 10 / turn, tolerance: 0.01 })
    expect(Array.from(frequencies).every((place) => place * turn !== 1)).toBe(true)
    const error = refusal(() => adaptiveFrequencies(free, { from: 0.1 / turn, to: 1 / turn, tolerance: 0.01 }))
    expect([error.code, error.details.path]).toEqual(['singular', 'to'])
  })

  it('has the phase of the response on either side, however close', () => {
    const [below, above] = absolutePhaseDegrees(free, [(1 - 5e-7) / turn, (1 + 5e-7) / turn])
    expect([below, above]).toEqual([0, -180])
  })

  it('does not keep a delayed sky-hook on such a mount from its active band', () => {
    const model = activelyDampedIsolation({
      payload: { mass: 1 },
      mount: { stiffness: 1 },
      damping: { gain: 0.4, delay: 0.1 },
    })
    // |T/T₀| = |m s² + k|/|m s² + k + g s e^(−sτ)|, m = k = 1: below 1/2 about the resonance only
    const [[from, to]] = activeBand(model, { improvement: 2 })
    const ratio = (omega: number) => {
      const open = 1 - omega ** 2
      const [re, im] = [open + 0.4 * omega * Math.sin(0.1 * omega), 0.4 * omega * Math.cos(0.1 * omega)]
      return Math.abs(open) / Math.hypot(re, im)
    }
    expect(ratio(from * turn)).toBeCloseTo(0.5, 9)
    expect(ratio(to * turn)).toBeCloseTo(0.5, 9)
    expect(from * turn).toBeLessThan(1)
    expect(to * turn).toBeGreaterThan(1)
  })
})

describe('a band-pass', () => {
  it('that is as wide as 6 : 1 has two equal poles', () => {
    // to − from = 2√(from·to): 2ω₀ s/(s + ω₀)²
    const wide = bandPass({ from: Math.SQRT2 - 1, to: Math.SQRT2 + 1 })
    const at = magnitude(channel(frequencyResponse(wide, [Math.SQRT2 - 1, 1, Math.SQRT2 + 1]), only))
    expect(at[0]).toBeCloseTo(Math.SQRT1_2, 12)
    expect(at[1]).toBeCloseTo(1, 12)
    expect(at[2]).toBeCloseTo(Math.SQRT1_2, 12)
    for (const { dampingRatio } of poles(wide)) expect(dampingRatio).toBeCloseTo(1, 7)
  })

  it('of order 2 has its corners whether its poles are pairs about one frequency or far apart', () => {
    for (const [from, to] of [
      [1, 1.02],
      [1, 2],
      [1, 6],
      [1, 400],
    ]) {
      // biome-ignore format: pairs
      const centre = Math.sqrt(from * to)
      const found = magnitude(channel(frequencyResponse(bandPass({ from, to, order: 2 }), [from, centre, to]), only))
      expect(found[0]).toBeCloseTo(Math.SQRT1_2, 10)
      expect(found[1]).toBeCloseTo(1, 10)
      expect(found[2]).toBeCloseTo(Math.SQRT1_2, 10)
    }
  })
})

describe('second-order sections', () => {
  it('leave the zeros of a pair to the pair, where a real pole lies closest to the circle', () => {
    // (z² + 0.25)/((z − 0.99)(z² − 0.6z + 0.25)): acting last, the pole 0.99 alone, one sample late
    const system = discretize(lowPass({ cutoff: 1 }), { sampleTime: 1, method: 'bilinear' })
    const third = {
      ...system,
      A: [[1.59, -0.844, 0.2475], [1, 0, 0], [0, 1, 0]],
      B: [[1], [0], [0]],
      C: [[1, 0, 0.25]],
      D: [[0]],
      states: ['a', 'b', 'c'],
    } // biome-ignore format: matrices
    const [first, last] = secondOrderSections(third)
    expect(last.a[1]).toBeCloseTo(-0.99, 12)
    expect([last.a[2], last.b[0], last.b[2]]).toEqual([0, 0, 0])
    expect(first.b[1] / first.b[0]).toBeCloseTo(0, 9)
    expect(first.b[2] / first.b[0]).toBeCloseTo(0.25, 9)
    expect(first.a[1]).toBeCloseTo(-0.6, 12)
    expect(first.a[2]).toBeCloseTo(0.25, 12)
  })

  it('are refused for a response beyond the range of numbers', () => {
    const system = discretize(lowPass({ cutoff: 1 }), { sampleTime: 1, method: 'bilinear' })
    const vast = { ...system, A: [[0.5]], B: [[1e200]], C: [[1e200]], D: [[0]] }
    expect(refusal(() => secondOrderSections(vast)).code).toBe('singular')
  })
})

describe('a discrete loop with a pole at z = −1, the end of its axis', () => {
  const loop = (k: number) => {
    const system = discretize(lowPass({ cutoff: 1 }), { sampleTime: 1, method: 'bilinear' })
    return { ...system, A: [[-1]], B: [[1]], C: [[k]], D: [[0]] }
  }

  it('is stable up to the gain at which it runs away at 0 Hz', () => {
    // z + 1 + k g = 0: |z| < 1 for −2 < k g < 0
    const [range] = gainLimits(loop(-1)).stable
    expect(range.from).toBe(0)
    expect(range.to).toBeCloseTo(2, 9)
    expect(margins(loop(-0.5)).closedLoop).toBe('stable')
  })

  it('is stable at no positive gain with the other sign', () => {
    expect(gainLimits(loop(1)).stable).toEqual([])
  })
})

describe('an echo', () => {
  /** y = w, w = e^(−sτ)(g w + u) behind a lag of 1 rad/s */
  const echo = (g: number) =>
    ({
      ...stateSpace({ A: [[-1]], B: [[1]], C: [[0]] }),
      delays: { seconds: [0.5], B: [[0]], C: [[1]], D12: [[1]], D21: [[0]], D22: [[g]] },
    }) as StateSpace

  it('of half the gain is followed through its comb as far as is asked', () => {
    const options = { from: 0.1, to: 5, tolerance: 0.01 }
    const frequencies = adaptiveFrequencies(echo(0.5), options)
    // |1/(1 + jω)|/|1 − e^(−jω/2)/2|: times 2 at 2 Hz and 4 Hz, times 2/3 at 1 Hz and 3 Hz
    const size = magnitude(channel(frequencyResponse(echo(0.5), frequencies), only))
    const read = (place: number) => {
      const k = frequencies.findIndex((frequency) => frequency >= place)
      const share = Math.log(place / frequencies[k - 1]) / Math.log(frequencies[k] / frequencies[k - 1])
      return Math.exp((1 - share) * Math.log(size[k - 1]) + share * Math.log(size[k]))
    }
    for (const [place, factor] of [[1, 2 / 3], [2, 2], [3, 2 / 3], [4, 2]]) // biome-ignore format: pairs
      expect(Math.abs((read(place) * Math.hypot(1, turn * place)) / factor - 1)).toBeLessThan(0.02)
  })

  it('of the whole gain has no form without its delay, and poles on the axis that are passed by', () => {
    const frequencies = adaptiveFrequencies(echo(1), { from: 0.5, to: 1.5, tolerance: 0.01 })
    expect(frequencies[frequencies.length - 1]).toBe(1.5)
  })
})

it('the characteristic sum has no value at a pole of the system with its delays cut', () => {
  // 1/s behind a delay: det(1 + e^(−sτ)/s)
  const integrator = stateSpace({ A: [[0]], B: [[1]], C: [[-1]] })
  const sum = characteristicSum(scopeOf('test'), integrator, [1])
  expect(sum.at(0, 0)).toBeNull()
  // 1 + e^(−1)
  expect(sum.at(1, 0)?.value.re).toBeCloseTo(1 + Math.exp(-1), 12)
})

it('the largest gain of a system whose response leaves the range of numbers is not told, for it is not infinite', () => {
  const of = (size: number) => hInfinityNorm(stateSpace({ A: [[-1]], B: [[size]], C: [[size]] })).norm
  expect(of(1e100) / 1e200).toBeCloseTo(1, 12)
  expect(refusal(() => of(1e200)).code).toBe('singular')
})
