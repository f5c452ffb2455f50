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

  // An integer similarity of determinant 1, so that no entry tells what is hidden.
  const T = [
    [1, 2, 0, 1],
    [0, 1, 1, 0],
    [1, 2, 1, 1],
    [2, 4, 1, 3],
  ]
  const inverse = [
    [0, -2, 3, -1],
    [1, 1, -1, 0],
    [-1, 0, 1, 0],
    [-1, 0, -1, 1],
  ]
  const product = (P: number[][], Q: number[][]) =>
    P.map((row) => Q[0].map((_, j) => row.reduce((sum, value, k) => sum + value * Q[k][j], 0)))
  const hidden = (J: number[][]) => {
    const A = product(product(T, J), inverse)
    return stability(stateSpace({ A, B: A.map(() => [1]), C: [A.map(() => 1)] }))
  }
  const chain = (a: number, b: number) => [
    [a, b, 1, 0],
    [-b, a, 0, 1],
    [0, 0, a, b],
    [0, 0, -b, a],
  ]

  it('is marginal with a double or fourfold pole at 0 or ±2j, which is only known to √ε (fault: called unstable)', () => {
    expect(product(T, inverse)).toEqual([0, 1, 2, 3].map((i) => [0, 1, 2, 3].map((j) => (i === j ? 1 : 0))))
    const double = [
      [0, 1, 0, 0],
      [0, 0, 0, 0],
      [0, 0, -1, 0],
      [0, 0, 0, -3],
    ]
    expect(hidden(double)).toMatchObject({ verdict: 'marginal', unstablePoles: 0 })
    expect(hidden(chain(0, 2))).toMatchObject({ verdict: 'marginal', unstablePoles: 0 })
    const nilpotent = chain(0, 0).map((row, i) => row.map((_, j) => (j === i + 1 ? 1 : 0)))
    expect(hidden(nilpotent)).toMatchObject({ verdict: 'marginal', unstablePoles: 0 })
  })

  it('is stable or unstable where such a cluster is clearly off the axis', () => {
    expect(hidden(chain(-0.01, 2))).toMatchObject({ verdict: 'stable', unstablePoles: 0 })
    expect(hidden(chain(0.01, 2))).toMatchObject({ verdict: 'unstable', unstablePoles: 4 })
  })

  it('does not doubt poles that are close to each other but well conditioned', () => {
    // by hand: two equal oscillators side by side, −1e-9 ± j√(1 − 1e-18)
    const oscillator = (rate: number) => [0, 2].flatMap((at) => [at, at + 1].map((row) => [0, 1, 2, 3].map((column) => (row === at ? Number(column === at + 1) : column === at ? -1 : column === at + 1 ? -2 * rate : 0)))) // biome-ignore format: small matrices
    const A = oscillator(1e-9)
    const system = stateSpace({ A, B: A.map(() => [1]), C: [A.map(() => 1)] })
    expect(stability(system)).toMatchObject({ verdict: 'stable', unstablePoles: 0 })
    // A weak spring between them makes one block of both.
    const coupled = A.map((row, i) =>
      row.map((value, j) => (i === 1 && j === 2 ? 1e-10 : i === 3 && j === 0 ? 1e-10 : value)),
    )
    expect(stability({ ...system, A: coupled })).toMatchObject({ verdict: 'stable', unstablePoles: 0 })
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

  it('counts a gain of 33 behind a corner of 30 rad/s and 0.1 s (fault: refused as no-convergence)', () => {
    // by hand: |L| = 1 at 30 √(33² − 1) = 989.5 rad/s, where L has turned by 989.5·0.1 + atan 32.98 = 100.5 rad: past
    // −180° and every whole turn further, 16 times, each of which a pair of poles crosses with the gain
    expect(stability(closed(ratio([990], [1, 30]), late(0.1)))).toMatchObject({
      verdict: 'unstable',
      unstablePoles: 32,
    })
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

  it('is refused where it would take millions of steps', () => {
    const { code, message } = refusal(() => stability(closed(ratio([1e7], [1, 0]), late(1))))
    expect(code).toBe('no-convergence')
    // As far as half a million steps of some radians come
    expect(message).toMatch(/^stability: could not follow the characteristic function beyond [1-9]\d{4}(\.\d+)? Hz$/)
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
