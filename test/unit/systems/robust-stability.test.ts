import { describe, expect, it } from 'vitest'
import {
  activelyDampedIsolation,
  airSpring,
  delay,
  fromJson,
  IsolationError,
  passiveIsolation,
  pneumaticIsolation,
  type RobustStabilityOptions,
  robustStability,
  stability,
  standardGravity,
  stateSpace,
  toJson,
  transferFunction,
} from '../../../src/index.js'
import { refusal } from '../refusal.js'

const omega = 2 * Math.PI * 2
const skyHook = ({ gain, seconds }: { gain: number; seconds: number }) =>
  activelyDampedIsolation({
    payload: { mass: 1 },
    mount: { stiffness: omega ** 2 },
    damping: { gain: 2 * omega * gain, delay: seconds },
  }).closed

describe('a sky-hook with delay on an undamped mount of 2 Hz', () => {
  // Largest delay at damping ratio 1: (π/2)/[ω₀(ζ + √(ζ² + 1))] = 51.7767 ms, computed from this closed form, which is that of
  // the upper gain crossover of L = 2ζω₀s·e^(−sτ)/(s² + ω₀²); less damping allows more
  const upTo = (seconds: number) => robustStability({ box: { gain: [0.5, 1], seconds: [0, seconds] }, system: skyHook })

  it('is proven stable for all gains and all delays just below the limit', () => {
    expect(upTo(0.0517)).toMatchObject({ verdict: 'proven', counterexample: null, provenShare: 1, reason: null })
  })

  it('has a counterexample just above it', () => {
    const { verdict, counterexample } = upTo(0.0519)
    expect(verdict).toBe('counterexample')
    expect(counterexample).toEqual({ gain: 1, seconds: 0.0519 })
    expect(stability(skyHook({ gain: 1, seconds: 0.0519 })).verdict).toBe('unstable')
  })
})

describe('a sky-hook with a geophone of 1 Hz on an undamped mount of 4 Hz', () => {
  const system = ({ ratio }: { ratio: number }) =>
    activelyDampedIsolation({
      payload: { mass: 1 },
      mount: { stiffness: (2 * Math.PI * 4) ** 2 },
      damping: { gain: 4 * Math.PI * 4 * ratio, sensor: { naturalFrequency: 1, dampingRatio: 0.7 } },
    }).closed
  // Largest damping ratio: ζ_g (f₀/f_g − f_g/f₀) = 2.625, derived with Routh's criterion
  it('is proven up to a damping ratio of 2.62 and not up to 2.63', () => {
    expect(robustStability({ box: { ratio: [0.1, 2.62] }, system }).verdict).toBe('proven')
    expect(robustStability({ box: { ratio: [0.1, 2.63] }, system }).counterexample).toEqual({ ratio: 2.63 })
  })
})

describe('levelling', () => {
  const mass = 300
  const area = 0.01
  const load = mass * standardGravity
  const swing = 2 * Math.PI * 1.5
  const volume = (1.4 * (load / area + 101325) * area ** 2) / (mass * swing ** 2)
  const oneChamber = ({ rate, damping }: { rate: number; damping: number }) =>
    pneumaticIsolation({
      payload: { mass },
      mount: airSpring({ area, volume, load, diaphragmDamping: damping }),
      levelling: { flowGain: rate * area },
    }).closed

  it('of one chamber may be as fast as c/m at the least damping', () => {
    // κ < c/m = 2ζω₀ (Routh): 540/300 = 1.8 at the lower end of ±10 % of 600 N·s/m
    const upTo = (rate: number) =>
      robustStability({ box: { rate: [0.1, rate], damping: [540, 660] }, system: oneChamber })
    expect(upTo(1.799)).toMatchObject({ verdict: 'proven', powers: { rate: 1, damping: 1 } })
    expect(upTo(1.801).counterexample).toEqual({ rate: 1.801, damping: 540 })
  })
})

describe('two chambers with a restrictor of 4.2962553e7 Pa s/m³ ± 20 %', () => {
  const system = ({ rate, resistance }: { rate: number; resistance: number }) =>
    pneumaticIsolation({
      payload: { mass: 300 },
      mount: airSpring({
        area: 0.01,
        volume: 1e-3,
        load: 300 * standardGravity,
        dampingChamber: { volume: 3e-3, flowResistance: resistance },
      }),
      levelling: { flowGain: 0.01 * rate },
    }).closed
  // Computed from the closed form k₀t_a(1 + κt_a) − k₀t_b(1 + κt_a)² − mκ > 0 (Routh): the limit of κ is 8.350028 1/s at the
  // nominal resistance, 8.055479 at its lower end and 7.993214 at its upper one
  const upTo = (rate: number) =>
    robustStability({ box: { rate: [0.1, rate], resistance: [0.8 * 4.2962553e7, 1.2 * 4.2962553e7] }, system })

  it('is proven for rates up to 7.98 1/s', () => {
    expect(upTo(7.98)).toMatchObject({ verdict: 'proven', powers: { rate: 1, resistance: -1 } })
  })

  it('has a counterexample below 8 1/s at the upper end of the resistance', () => {
    expect(upTo(8).counterexample).toEqual({ rate: 8, resistance: 1.2 * 4.2962553e7 })
  })
})

describe('a box with stable corners', () => {
  // x″ + 0.1x′ + x = −0.15·x′(t − τ) has |L| = 1 at ω = √(1 + 0.003125) ± 0.055902, where it crosses at ωτ = ± acos(−2/3): stable
  // below τ = 2.17551 and between 4.21152 and 8.11727. Computed from these closed forms
  const late = ({ tau }: { tau: number }) => {
    const system = stateSpace({ A: [[0, 1], [-1, -0.1]], B: [[0], [0]], C: [[0, 0]] }) // biome-ignore format: a matrix
    return { ...system, delays: { seconds: [tau], B: [[0], [-0.15]], C: [[0, 1]], D12: [[0]], D21: [[0]], D22: [[0]] } }
  }

  it('gives up the window in which it is unstable', () => {
    expect(['stable', 'unstable', 'stable']).toEqual([1, 3.2, 5].map((tau) => stability(late({ tau })).verdict))
    const found = robustStability({ box: { tau: [0.5, 8] }, system: late })
    expect(found).toMatchObject({ verdict: 'counterexample', worst: null })
    expect(stability(late(found.counterexample as { tau: number })).verdict).toBe('unstable')
    expect(found.parts).toBeGreaterThan(1)
  })

  it('is proven on either side of it', () => {
    expect(robustStability({ box: { tau: [0.5, 2.15] }, system: late }).verdict).toBe('proven')
    expect(robustStability({ box: { tau: [4.4, 7.9] }, system: late }).verdict).toBe('proven')
  })
})

describe('a box right up to the edge', () => {
  // 77.254249 ms: the same closed form at damping ratio 0.5, where the pair crosses at 3.236068 Hz; to a part in 10⁸ of it
  it('is undecided when parts run out, and says where it is open and how much is not', () => {
    const system = ({ seconds }: { seconds: number }) => skyHook({ gain: 0.5, seconds })
    const found = robustStability({ box: { seconds: [0, 0.07725424] }, system, parts: 7 })
    expect(found).toMatchObject({ verdict: 'undecided', counterexample: null, provenShare: 0.875, parts: 7 })
    expect(found.reason).toBe(
      '7 parts are not enough: open with seconds 0.0676 to 0.07243; 0 comes too near at 3.236 Hz',
    )
  })
})

describe('what the proof needs', () => {
  it('is the power of each parameter in which the characteristic function is affine', () => {
    const system = ({ mass, frequency, damping }: { mass: number; frequency: number; damping: number }) =>
      passiveIsolation({ payload: { mass }, mount: { stiffness: 100 * (2 * Math.PI * frequency) ** 2, damping } })
        .closed
    const found = robustStability({ box: { mass: [80, 120], frequency: [1, 2], damping: [1, 9] }, system })
    expect(found).toMatchObject({ verdict: 'proven', powers: { mass: -1, frequency: 2, damping: 1 } })
    // Nearest to instability: c/2m = 1/240, at the least damping and the largest mass
    expect(found.worst?.parameters).toMatchObject({ mass: 120, damping: 1 })
    expect(found.worst?.abscissa).toBeCloseTo(-1 / 240, 12)
  })

  it('is not there for a mass that the gain of the loop follows by its root', () => {
    const system = ({ mass }: { mass: number }) =>
      activelyDampedIsolation({ payload: { mass }, mount: { stiffness: 1e4 }, damping: { dampingRatio: 0.5 } }).closed
    expect(robustStability({ box: { mass: [80, 120] }, system })).toMatchObject({
      verdict: 'undecided',
      reason: 'no power of mass in which the characteristic function is affine',
    })
  })

  it('is not there for a parameter that bends it, nor for two that bend it together', () => {
    const pole = (a: number) => transferFunction({ numerator: [1], denominator: [1, a] })
    const bent = robustStability({ box: { x: [0.5, 1] }, system: ({ x }) => pole(Math.exp(x)) })
    expect(bent).toMatchObject({ verdict: 'undecided', powers: {}, provenShare: 0 })
    expect(bent.reason).toBe('no power of x in which the characteristic function is affine')
    // In the middle, y = 1, it is affine in x, elsewhere not
    const together = robustStability({
      box: { x: [0.2, 0.5], y: [0.5, 1.5] },
      system: ({ x, y }) => pole(x * y + (y - 1) * x * x),
    })
    expect(together.reason).toBe('the characteristic function is not affine in each parameter at once')
  })

  it('is a system that can be made and judged everywhere', () => {
    const system = ({ x }: { x: number }) => {
      if (x > 1.5)
        throw new IsolationError('out-of-range', 'no such mount', { function: 'springMount', path: 'stiffness' })
      return transferFunction({ numerator: [1], denominator: [1, x] })
    }
    expect(robustStability({ box: { x: [1, 2] }, system })).toMatchObject({
      verdict: 'undecided',
      reason: 'no such mount',
    })
    const broken = () => {
      throw new TypeError('typing error')
    }
    expect(() => robustStability({ box: { x: [1, 2] }, system: broken })).toThrow(TypeError)
  })
})

it('takes a delay that goes down to nothing, where the system has none', () => {
  const system = ({ tau }: { tau: number }) => skyHook({ gain: 1, seconds: tau })
  expect(system({ tau: 0 }).delays).toBeNull()
  expect(robustStability({ box: { tau: [0, 0.01] }, system }).verdict).toBe('proven')
})

it('refuses what is no box', () => {
  const system = () => delay({ seconds: 1 })
  const path = (options: object) =>
    refusal(() => robustStability({ box: { x: [1, 2] }, system, ...options } as RobustStabilityOptions<'x'>)).details
      .path
  expect(path({ box: {} })).toBe('box')
  expect(path({ box: { x: [2, 1] } })).toBe('box.x[1]')
  expect(path({ box: { x: [Number.NaN, 1] } })).toBe('box.x[0]')
  expect(path({ box: { x: 1 } })).toBe('box.x')
  expect(path({ box: Object.fromEntries(Array.from({ length: 7 }, (_, k) => [`x${k}`, [0, 1]])) })).toBe('box')
  expect(path({ system: 1 })).toBe('system')
  expect(path({ system: () => 1 })).toBe('system')
  expect(path({ parts: 0 })).toBe('parts')
  expect(path({ margin: 1 })).toBe('margin')
})

it('survives JSON', () => {
  const found = robustStability({ box: { gain: [0.5, 1], seconds: [0, 0.01] }, system: skyHook })
  expect(fromJson(toJson(found), { kind: 'RobustStability' })).toEqual(found)
})
