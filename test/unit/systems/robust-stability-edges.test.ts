import { describe, expect, it } from 'vitest'
import {
  delay,
  robustStability,
  type StateSpace,
  stability,
  stateSpace,
  transferFunction,
} from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

/** x′ = −pole·x − Σ gains·x(t − τ) */
function late(pole: number, gains: readonly number[], seconds: readonly number[]): StateSpace {
  const zeros = seconds.map(() => 0)
  return {
    ...stateSpace({ A: [[-pole]], B: [[1]], C: [[1]] }),
    delays: {
      seconds,
      B: [gains.map((gain) => -gain)],
      C: seconds.map(() => [1]),
      D12: [zeros],
      D21: seconds.map(() => [0]),
      D22: seconds.map(() => zeros),
    },
  } as StateSpace
}

describe('an integrator in a loop with a delay', () => {
  // Stable for gain times delay below π/2; N. D. Hayes, J. London Mathematical Society 25 (1950) 226
  const upTo = (seconds: number) =>
    robustStability({ box: { seconds: [0.1, seconds] }, system: ({ seconds: tau }) => late(0, [1], [tau]) })

  it('is proven up to π/2 s at a gain of 1/s, though its only root with the delay cut is 0', () => {
    expect(upTo(1.5707)).toMatchObject({ verdict: 'proven', powers: { seconds: 1 } })
    expect(upTo(1.5709).counterexample).toEqual({ seconds: 1.5709 })
  })
})

describe('two fixed delays beside each other', () => {
  // x′ = −x − a x(t − τ₁) − b x(t − τ₂) is stable whatever the delays where |a| + |b| < 1; J. K. Hale, S. M. Verduyn Lunel,
  // Introduction to Functional Differential Equations, 1993 (from memory). What both do together cancels: no term for it.
  const within = (most: number) =>
    robustStability({
      box: { a: [-most, most], b: [-0.5, 0.5] },
      system: ({ a, b }) => late(1, [a, b], [1, Math.SQRT2]),
    })

  it('are proven for gains of either sign that add up to less than the pole', () => {
    expect(within(0.49)).toMatchObject({ verdict: 'proven', provenShare: 1 })
  })

  it('have a counterexample where both can outweigh it at 0 Hz', () => {
    const { verdict, counterexample } = within(0.6)
    expect(verdict).toBe('counterexample')
    expect(counterexample).toEqual({ a: -0.6, b: -0.5 })
  })
})

describe('a spring that may all but vanish', () => {
  const system = ({ stiffness }: { stiffness: number }) =>
    transferFunction({ numerator: [1], denominator: [1, 1, stiffness] })

  it('leaves open what is nearest to none, at 0 Hz, and says how much is proven', () => {
    // s² + s + k is stable for k > 0, but within 1e-6 of the largest value nothing is said: k = 1e-9 is never reached by halves.
    const found = robustStability({ box: { stiffness: [1e-9, 1] }, system, parts: 13 })
    expect(found).toMatchObject({ verdict: 'undecided', counterexample: null, parts: 13 })
    // The whole, and six times two halves, of which the lower one is left each time.
    expect(found.reason).toBe('13 parts are not enough: open with stiffness 1e-9 to 0.007813; 0 comes too near at 0 Hz')
    expect(found.provenShare).toBeCloseTo(1 - 2 ** -6, 8)
  })

  it('is proven from a thousandth on', () => {
    expect(robustStability({ box: { stiffness: [1e-3, 1] }, system }).verdict).toBe('proven')
  })
})

it('proves a system without states, which has nothing that could run away', () => {
  const system = ({ seconds }: { seconds: number }) => delay({ seconds })
  expect(robustStability({ box: { seconds: [1, 2] }, system }).verdict).toBe('proven')
})

it('tries no power but the first where a parameter may be 0 or less', () => {
  // 1 + x² is affine in the square, which does not tell −x from x.
  const system = ({ x }: { x: number }) => transferFunction({ numerator: [1], denominator: [1, 1 + x * x] })
  expect(robustStability({ box: { x: [0.1, 1] }, system }).powers).toEqual({ x: 2 })
  const found = robustStability({ box: { x: [-0.5, 1] }, system })
  expect([found.verdict, found.reason]).toEqual([
    'undecided',
    'no power of x in which the characteristic function is affine',
  ])
})

it('is undecided where the order changes within the box', () => {
  const system = ({ x }: { x: number }) =>
    transferFunction({ numerator: [1], denominator: x < 0.5 ? [1, 1 + x] : [1, 2, 1 + x] })
  expect(robustStability({ box: { x: [0, 1] }, system })).toMatchObject({
    verdict: 'undecided',
    reason: 'no power of x in which the characteristic function is affine',
  })
  expect(stability(system({ x: 1 })).verdict).toBe('stable')
})

it('halves the box of a delay and a damping until the window between two unstable ones is proven', () => {
  // x″ + c x′ + x = −0.15·x′(t − τ) with c = 0.1 is stable between τ = 4.21152 and 8.11727, as in robust-stability.test.ts; more
  // damping widens the window.
  const system = ({ tau, damping }: { tau: number; damping: number }) =>
    ({
      ...stateSpace({ A: [[0, 1], [-1, -damping]], B: [[0], [0]], C: [[0, 0]] }), // biome-ignore format: a matrix
      delays: { seconds: [tau], B: [[0], [-0.15]], C: [[0, 1]], D12: [[0]], D21: [[0]], D22: [[0]] },
    }) as StateSpace
  const upTo = (tau: number) => robustStability({ box: { damping: [0.1, 0.12], tau: [4.25, tau] }, system })
  expect(upTo(8.1)).toMatchObject({ verdict: 'proven', powers: { damping: 1, tau: 1 } })
  expect(upTo(8.1).parts).toBeGreaterThan(1)
  expect(upTo(8.12).counterexample).toEqual({ damping: 0.1, tau: 8.12 })
})

it('refuses what is no box at all', () => {
  const error = refusal(() => robustStability({ system: () => delay({ seconds: 1 }) } as never))
  expect([error.code, error.details.path]).toEqual(['invalid-option', 'box'])
})
