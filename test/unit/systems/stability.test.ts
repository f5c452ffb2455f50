import { describe, expect, it } from 'vitest'
import {
  connect,
  delay,
  gain,
  integrator,
  parallel,
  type StateSpace,
  series,
  stability,
  stateSpace,
  transferFunction,
} from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

const ratio = (numerator: number[], denominator: number[]) => transferFunction({ numerator, denominator })
const late = (seconds: number) => delay({ seconds })
/** y = L (u − y) */
const closed = (...loop: StateSpace[]) =>
  connect({
    blocks: { loop: series(...loop) },
    inputs: ['u'],
    outputs: { y: 'loop.y1' },
    wires: { 'loop.u1': ['u', '-loop.y1'] },
  } as Parameters<typeof connect>[0])

describe('stability without delays', () => {
  it.each([
    // by hand
    ['stable', [1, 2, 1], 0, -1],
    ['marginal', [1, 0, 4], 0, 0],
    ['unstable', [1, -3, 2], 2, 2],
    ['unstable', [1, 0, -1], 1, 1],
    ['marginal', [1, 3, 2, 0], 0, 0],
  ] as const)('is %s for a denominator %j', (verdict, denominator, unstablePoles, abscissa) => {
    const found = stability(ratio([1], [...denominator]))
    expect(found).toMatchObject({ kind: 'Stability', verdict, unstablePoles })
    expect(found.abscissa).toBeCloseTo(abscissa, 7)
  })

  it('counts hidden modes', () => {
    const hidden = stateSpace({ A: [[1, 0], [0, -1]], B: [[0], [1]], C: [[0, 1]] }) // biome-ignore format: small matrices
    expect(stability(hidden)).toMatchObject({ verdict: 'unstable', unstablePoles: 1 })
  })

  it('is not confused by a slow pole beside fast ones', () => {
    // by hand: −1e-6 and −1e6
    expect(stability(series(ratio([1], [1, 1e-6]), ratio([1], [1, 1e6])))).toMatchObject({ verdict: 'stable' })
    expect(stability(series(ratio([1], [1, -1e-6]), ratio([1], [1, 1e6])))).toMatchObject({ verdict: 'unstable' })
  })

  it('of a system without states is stable, without an abscissa', () => {
    expect(stability(gain(3))).toEqual({ kind: 'Stability', verdict: 'stable', unstablePoles: 0, abscissa: null })
  })
})

describe('stability of a lag with delay in its loop', () => {
  // Computed from the closed form for k e^(−sτ)/(s + 1): ω = √(k² − 1), τ = (π − atan ω)/ω.
  const limits = [
    [1.5, 2.0576512039621826],
    [2, 1.2091995761561454],
    [5, 0.3617394710074713],
    [20, 0.08114235059009696],
  ] as const

  it.each(limits)('has the limit of k = %f at %f s', (k, tau) => {
    const lag = ratio([k], [1, 1])
    expect(stability(closed(lag, late(tau * (1 - 1e-6))))).toMatchObject({ verdict: 'stable', unstablePoles: 0 })
    expect(stability(closed(lag, late(tau)))).toMatchObject({ verdict: 'marginal', unstablePoles: 0 })
    expect(stability(closed(lag, late(tau * (1 + 1e-6))))).toMatchObject({ verdict: 'unstable', unstablePoles: 2 })
  })

  it('is stable for any delay below k = 1, and unstable without delay below k = −1', () => {
    for (const seconds of [1e-3, 1, 1e3]) {
      expect(stability(closed(ratio([0.9], [1, 1]), late(seconds))).verdict).toBe('stable')
    }
    expect(stability(closed(ratio([-1.1], [1, 1]), late(0.1)))).toMatchObject({ verdict: 'unstable', unstablePoles: 1 })
  })
})

describe('stability of an integrator with delay in its loop', () => {
  it.each([
    // by hand: k e^(−s)/s has a pair of poles crossing at every ω = k = π/2 + 2πn, so 2 poles per n with π/2 + 2πn < k
    [1.57, 0],
    [1.5708, 2],
    [7.85, 2],
    [7.86, 4],
    [100, 32],
    [1000, 318],
  ])('has its unstable poles counted for a gain of %f', (k, unstablePoles) => {
    expect(stability(closed(ratio([k], [1, 0]), late(1)))).toMatchObject({
      verdict: unstablePoles === 0 ? 'stable' : 'unstable',
      unstablePoles,
      abscissa: null,
    })
  })

  it('is marginal at the limit, and for a loop left open', () => {
    expect(stability(closed(ratio([Math.PI / 2], [1, 0]), late(1))).verdict).toBe('marginal')
    expect(stability(series(integrator(), late(1))).verdict).toBe('marginal')
    // by hand: with negative feedback turned around, one real pole on the right
    expect(stability(closed(ratio([-0.3], [1, 0]), late(1)))).toMatchObject({ verdict: 'unstable', unstablePoles: 1 })
  })

  it('of two integrators is never stable', () => {
    for (const seconds of [1e-4, 0.1, 3]) {
      expect(stability(closed(integrator(), integrator(), late(seconds)))).toMatchObject({
        verdict: 'unstable',
        unstablePoles: 2,
      })
    }
  })
})

describe('stability of other systems with delays', () => {
  it('of a delay alone is stable', () => {
    expect(stability(late(5))).toEqual({ kind: 'Stability', verdict: 'stable', unstablePoles: 0, abscissa: null })
  })

  it('counts an unstable mode that no delay touches', () => {
    expect(stability(parallel(ratio([1], [1, -1]), late(1)))).toMatchObject({ verdict: 'unstable', unstablePoles: 1 })
  })

  it('takes several delays, each in its own loop', () => {
    // by hand: two independent loops of k = 2, one below and one above its limit of 1.2092 s
    const pair = connect({
      blocks: { a: closed(ratio([2], [1, 1]), late(1)), b: closed(ratio([2], [1, 1]), late(1.3)) },
      inputs: ['u'],
      outputs: { y: 'b.y' },
      wires: { 'a.u': 'u', 'b.u': 'a.y' },
    } as Parameters<typeof connect>[0])
    expect(pair.delays?.seconds).toEqual([1, 1.3])
    expect(stability(pair)).toMatchObject({ verdict: 'unstable', unstablePoles: 2 })
  })

  it('comes to an end with an integrator that the delay hardly feels', () => {
    // an integrator whose pole is cancelled by the zero of the resonance behind it: a pole stays at 0
    const loop = [integrator(), ratio([0.0449, 0], [1, 0.0449, 54.57]), late(0.0121)]
    expect(stability(closed(...loop))).toMatchObject({ verdict: 'marginal', unstablePoles: 0 })
  })

  it('is refused where delays feed each other without roll-off', () => {
    for (const loop of [
      [gain(0.5), late(1)],
      [ratio([0.5, 1], [1, 3]), late(1)],
    ]) {
      expect(refusal(() => stability(closed(...loop)))).toMatchObject({
        code: 'unsupported',
        details: { function: 'stability' },
      })
    }
  })
})

describe('stability refuses', () => {
  it('what is no system, by the path of the fault', () => {
    const refused = (system: unknown) => refusal(() => stability(system as StateSpace))
    const good = series(integrator(), late(1))
    expect(refused(7).code).toBe('invalid-option')
    expect(refused({ ...good, B: [[Number.NaN]] })).toMatchObject({
      code: 'not-finite',
      details: { path: 'system.B[0][0]' },
    })
    const delays = good.delays
    expect(refused({ ...good, delays: { ...delays, seconds: [Number.NaN] } }).details.path).toBe(
      'system.delays.seconds[0]',
    )
    expect(refused({ ...good, delays: { ...delays, D22: [[Number.POSITIVE_INFINITY]] } })).toMatchObject({
      code: 'not-finite',
      details: { path: 'system.delays.D22[0][0]' },
    })
  })
})
