import { describe, expect, it } from 'vitest'
import {
  connect,
  delay,
  gain,
  integrator,
  type Margins,
  margins,
  parallel,
  poles,
  type StateSpace,
  series,
  stateSpace,
  transferFunction,
} from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

const ratio = (numerator: number[], denominator: number[]) => transferFunction({ numerator, denominator })
const hertz = (omega: number) => omega / (2 * Math.PI)
/** Twelve digits: crossovers are polished to rounding on loops of a few states. */
const digits = 12
const closeTo = (found: number | null, expected: number, places = digits) => {
  expect(found).toBeTypeOf('number')
  expect(found).toBeCloseTo(expected, places)
}

describe('margins of textbook loops', () => {
  // Definitions: K. J. Åström, R. M. Murray, Feedback Systems, 2008, sections 9.3 and 11.3; S = 1/(1 + L), modulus margin
  // 1/max |S|. Values computed from the closed forms of |L| = 1, arg L = −180° and min |1 + L|.
  it('of 1/(s(s + 1))', () => {
    const found = margins(ratio([1], [1, 1, 0]))
    expect(found).toMatchObject({
      kind: 'Margins',
      closedLoop: 'stable',
      gainMargin: null,
      gainReductionMargin: null,
      phaseCrossovers: [],
    })
    expect(found.gainCrossovers.length).toBe(1)
    closeTo(found.gainCrossovers[0].frequency, hertz(0.78615138), 8)
    closeTo(found.phaseMarginDegrees, 51.827292, 6)
    closeTo(found.modulusMargin, 0.68125004, 8)
  })

  it('of 1/(s(s + 1)²)', () => {
    const found = margins(ratio([1], [1, 2, 1, 0]))
    closeTo(found.gainMargin, 2)
    closeTo(found.phaseCrossovers[0].frequency, 0.15915494309189535)
    closeTo(found.gainCrossovers[0].frequency, hertz(0.6823278), 8)
    closeTo(found.phaseMarginDegrees, 21.38639, 6)
    closeTo(1 / found.modulusMargin, 3.36713042, 8)
    closeTo(found.modulusMarginFrequency, hertz(0.76661), 5)
  })

  it('of (0.5 s + 1.3)/(s³ + 1.2 s² + 1.6 s)', () => {
    const loop = ratio([0.5, 1.3], [1, 1.2, 1.6, 0])
    const found = margins(loop)
    closeTo(found.gainMargin, 2.74285714, 8)
    closeTo(found.phaseCrossovers[0].frequency, hertz(1.72378321), 8)
    closeTo(found.gainCrossovers[0].frequency, hertz(1.03642), 5)
    closeTo(found.phaseMarginDegrees, 44.652, 3)
    closeTo(1 / found.modulusMargin, 2.29282532, 8)
    const closed = poles(unitFeedback(loop))
    expect(closed.map(({ re }) => re.toFixed(8))).toEqual(['-0.73892965', '-0.23053518', '-0.23053518'])
    closeTo(closed[1].im, 1.30619868, 8)
  })

  it('keeps the bounds between modulus margin and the others', () => {
    // Åström, Murray (from memory): gain margin ≥ Ms/(Ms − 1), phase margin ≥ 2 asin(1/(2 Ms)). For Ms of 1/(s(s + 1)²),
    // 3.36713042: 1.42246113 and 17.083°, computed from these closed forms
    const { gainMargin, phaseMarginDegrees } = margins(ratio([1], [1, 2, 1, 0]))
    expect(gainMargin).toBeGreaterThan(1.42246)
    expect(phaseMarginDegrees).toBeGreaterThan(17.08)
  })
})

describe('margins of velocity feedback on an undamped mount', () => {
  const omega = 4 * Math.PI
  const loop = (ratioOfDamping: number, seconds: number) =>
    series(ratio([2 * ratioOfDamping * omega, 0], [1, 0, omega ** 2]), delay({ seconds }))

  // Computed from the closed forms ω = ω₀(√(ζ² + 1) + ζ) and τ = (π/2)/ω, f₀ = 2 Hz.
  it.each([
    [0.5, 3.236068, 0.0772542],
    [1, 4.828427, 0.0517767],
    [2, 8.472136, 0.0295085],
    [5, 20.198039, 0.0123774],
  ])('has the crossover and the delay limit of ζ = %f', (damping, crossover, limit) => {
    const seconds = 0.001
    const found = margins(loop(damping, seconds))
    expect(found.closedLoop).toBe('stable')
    closeTo(found.gainCrossovers[1].frequency, crossover, 6)
    closeTo((found.delayMargin as number) + seconds, limit, 7)
    expect(margins(loop(damping, limit * 1.001)).closedLoop).toBe('unstable')
    expect(margins(loop(damping, limit * 0.999)).closedLoop).toBe('stable')
  })

  it('has all margins of ζ = 1 with 5 ms', () => {
    // computed from the closed forms 90° − ω_c τ, ω = π/(2τ), (ω² − ω₀²)/(2ζω₀ω); modulus by 30-digit minimisation of |1 + L|
    const found = margins(loop(1, 0.005))
    closeTo(found.gainCrossovers[1].phaseMarginDegrees, 81.3088, 4)
    closeTo(found.phaseCrossovers[0].frequency, 50, 9)
    closeTo(found.gainMargin, 12.48, 9)
    closeTo(found.modulusMargin, 0.893419, 6)
    // A minimum is known to rounding, its place only to the square root of it.
    closeTo(found.modulusMarginFrequency, 25.0944773, 5)
  })

  // Computed from the closed form ζ_max = ζ_g (f₀/f_g − f_g/f₀) (Routh), oscillation at f_g; ζ_g = 0.7.
  it.each([
    [4, 1, 2.625],
    [2, 1, 1.05],
    [2, 0.5, 2.625],
    [10, 4.5, 1.240556],
  ])('f₀ = %f Hz with a high-pass sensor of %f Hz allows ζ up to %f', (mount, sensor, limit) => {
    const [w0, wg] = [2 * Math.PI * mount, 2 * Math.PI * sensor]
    const found = margins(series(ratio([w0, 0], [1, 0, w0 ** 2]), ratio([1, 0, 0], [1, 1.4 * wg, wg ** 2])))
    // L is for 2ζ = 1
    closeTo(found.gainMargin, 2 * limit, 5)
    closeTo(found.phaseCrossovers[0].frequency, sensor, 10)
  })

  it('is unstable for any gain with the sensor above the mount', () => {
    const [w0, wg] = [4 * Math.PI, 9 * Math.PI]
    const sensor = ratio([1, 0, 0], [1, 1.4 * wg, wg ** 2])
    for (const k of [1e-3, 1, 100]) {
      expect(margins(series(ratio([k * w0, 0], [1, 0, w0 ** 2]), sensor)).closedLoop).toBe('unstable')
    }
  })
})

describe('margins of conditionally stable loops', () => {
  it('has a factor below 1 that destabilises, and none above', () => {
    // by hand: K(s + 1)²/s³ is stable for K > 1/2 (Routh), crosses −180° at 1 rad/s with |L| = 2K
    const found = margins(ratio([2, 4, 2], [1, 0, 0, 0]))
    expect(found).toMatchObject({ closedLoop: 'stable', gainMargin: null })
    closeTo(found.gainReductionMargin, 0.25)
    closeTo(found.phaseCrossovers[0].frequency, 0.15915494309189535)
  })

  it('holds an unstable plant between two gains', () => {
    // by hand: K/((s − 1)(s/4 + 1)²): characteristic (s − 1)(s + 4)² + 16K = s³ + 7s² + 8s + 16K − 16, stable for
    // 1 < K < 4.5 (Routh); the upper limit oscillates at √8 rad/s
    const found = margins(ratio([32], [1, 7, 8, -16]))
    expect(found.closedLoop).toBe('stable')
    closeTo(found.gainMargin, 2.25)
    closeTo(found.gainReductionMargin, 0.5)
    closeTo(found.phaseCrossovers[0].frequency, 0.45015815807855303)
  })

  it('has three gain crossovers, and the least of their phase margins with its sign', () => {
    // a lag of gain 4 and a resonance at 10 rad/s; crossovers by |N|² = |D|² in 30 digits (test/reference/data/margins.json)
    const found = margins(parallel(ratio([4], [1, 1]), ratio([9], [1, 0.3, 100])))
    expect(found.gainCrossovers.map(({ frequency }) => frequency.toFixed(6))).toEqual([
      '0.638690',
      '1.498953',
      '1.670014',
    ])
    closeTo(found.phaseMarginDegrees, 39.10658038552715, 8)
    // The least phase margin is not the least delay: 39.1° at 1.67 Hz is 65 ms, less than 478 ms and 264 ms.
    closeTo(found.delayMargin, 0.0650469763787, 10)
  })
})

describe('margins of loops that are negative at zero or have a feedthrough', () => {
  it('counts the gain at which a pole passes zero', () => {
    // by hand: −0.5/(s + 1) closes to s + 1 − 0.5 k
    expect(margins(ratio([-0.5], [1, 1]))).toMatchObject({
      closedLoop: 'stable',
      gainReductionMargin: null,
      phaseMarginDegrees: null,
      delayMargin: null,
      gainCrossovers: [],
      phaseCrossovers: [],
      modulusMarginFrequency: 0,
    })
    closeTo(margins(ratio([-0.5], [1, 1])).gainMargin, 2)
    closeTo(margins(ratio([-0.5], [1, 1])).modulusMargin, 0.5)
    // by hand: 2/(s − 1) closes to s − 1 + 2k
    closeTo(margins(ratio([2], [1, -1])).gainReductionMargin, 0.5)
    // by hand: −2/(s + 1) closes to s − 1
    expect(margins(ratio([-2], [1, 1]))).toMatchObject({ closedLoop: 'unstable', gainMargin: null })
  })

  it('counts the gain at which a pole passes infinity', () => {
    // by hand: −0.5 s/(s + 1) closes to (1 − 0.5 k) s + 1
    const found = margins(ratio([-0.5, 0], [1, 1]))
    expect(found).toMatchObject({ closedLoop: 'stable', modulusMarginFrequency: Number.POSITIVE_INFINITY })
    closeTo(found.gainMargin, 2)
    closeTo(found.modulusMargin, 0.5)
    // by hand: −2 s/(s + 1) closes to 1 − s: unstable, and stable only below k = 1/2
    expect(margins(ratio([-2, 0], [1, 1])).closedLoop).toBe('unstable')
  })

  it('does not take the rounding of a zero at 0 Hz for a negative gain', () => {
    // s·(dip)/(resonance)(lag)²: L(0) is exactly 0, whatever is lost on the way to it, so no finite gain destabilises
    const w = 2 * Math.PI * 30
    const loop = series(
      ratio([3e-5 * w, 0], [1, 2e-5 * w, w ** 2]),
      ratio([1, 2.00002e-5 * w, (1.00001 * w) ** 2], [1, 2 * w, w ** 2]),
    )
    const { gainMargin, closedLoop } = margins(loop)
    expect(closedLoop).toBe('stable')
    expect(gainMargin).toBeNull()
  })
})

describe('margins of loops without crossovers', () => {
  const none = { gainCrossovers: [], phaseCrossovers: [], phaseMarginDegrees: null, delayMargin: null }

  it.each([
    // by hand: the closed loop is 1/(1 + L); L k = −1 is the only way to lose it
    [2, { gainMargin: null, gainReductionMargin: null, modulusMargin: 3 }],
    [1, { gainMargin: null, gainReductionMargin: null, modulusMargin: 2 }],
    [0, { gainMargin: null, gainReductionMargin: null, modulusMargin: 1 }],
    [-0.5, { gainMargin: 2, gainReductionMargin: null, modulusMargin: 0.5 }],
    [-2, { gainMargin: null, gainReductionMargin: 0.5, modulusMargin: 1 }],
  ])('a static gain of %f', (value, expected) => {
    expect(margins(gain(value))).toMatchObject({ closedLoop: 'stable', ...none, ...expected })
  })

  it('a small lag', () => {
    // by hand: |L| < 1/2 everywhere and L never leaves the right half plane
    const found = margins(ratio([0.5], [1, 1]))
    expect(found).toMatchObject({ ...none, closedLoop: 'stable', gainMargin: null, gainReductionMargin: null })
    closeTo(found.modulusMargin, 1)
  })

  it('a loop that nothing drives, with an unstable mode beside it', () => {
    const loop = stateSpace({ A: [[1, 0], [0, -1]], B: [[0], [1]], C: [[0, 0.5]] }) // biome-ignore format: small matrices
    expect(margins(loop)).toMatchObject({ ...none, closedLoop: 'unstable', gainMargin: null })
  })

  it('of gain zero behind a delay are those of no loop', () => {
    expect(margins(series(gain(0), ratio([1], [1, 1]), delay({ seconds: 1e-3 })))).toMatchObject({
      ...none,
      closedLoop: 'stable',
      gainMargin: null,
      modulusMargin: 1,
    })
  })
})

describe('margins of loops on the boundary', () => {
  it('an integrator', () => {
    // by hand
    const found = margins(integrator())
    expect(found).toMatchObject({ closedLoop: 'stable', gainMargin: null, phaseCrossovers: [] })
    closeTo(found.phaseMarginDegrees, 90)
    closeTo(found.delayMargin, Math.PI / 2)
    closeTo(found.modulusMargin, 1)
  })

  it('two integrators: marginal, with the crossover at −1', () => {
    const found = margins(ratio([1], [1, 0, 0]))
    expect(found).toMatchObject({ closedLoop: 'marginal', gainMargin: null, phaseMarginDegrees: null })
    expect(found.gainCrossovers.length).toBe(1)
    closeTo(found.gainCrossovers[0].phaseMarginDegrees, 0)
    closeTo(found.modulusMargin, 0, 9)
  })

  it('two integrators with any delay are unstable', () => {
    expect(margins(series(ratio([1], [1, 0, 0]), delay({ seconds: 1e-3 }))).closedLoop).toBe('unstable')
  })
})

describe('margins of a loop that starts at −1', () => {
  it.each([
    // by hand: L(0) = −1 exactly or to rounding, so that the closed loop keeps a pole at 0
    ['a lag', ratio([-1], [1, 1])],
    ['a lag of 1/3 three times', series(ratio([-3], [1, 1]), ratio([1 / 3], [1, 1]))],
    ['a resonance', series(gain(-1 / 3), ratio([0.3], [1, 0.02, 0.1]))],
    ['two resonances', series(gain(-1 / 7), ratio([7 * 31.7], [1, 0.3, 31.7]), ratio([0.37], [1, 0.1, 0.37]))],
  ])('%s: no crossover where it only starts (fault: crossovers near 1e-20 Hz)', (_, loop) => {
    const { gainCrossovers, phaseCrossovers, modulusMargin, modulusMarginFrequency } = margins(loop)
    for (const { frequency } of [...gainCrossovers, ...phaseCrossovers]) expect(frequency).toBeGreaterThan(1e-3)
    expect(modulusMargin).toBeLessThan(1e-14)
    expect(modulusMarginFrequency).toBe(0)
  })
})

describe('margins of a loop with many turns of its delay', () => {
  it('lists them all: a gain of 33 behind 30 rad/s and 0.1 s (fault: refused as no-convergence)', () => {
    const found = margins(series(ratio([990], [1, 30]), delay({ seconds: 0.1 })))
    expect(found).toMatchObject({ closedLoop: 'unstable', gainMargin: null })
    // computed from the closed form |L| = 1 at 30 √(33² − 1), arg L = −0.1 ω − atan(ω/30)
    expect(found.gainCrossovers.length).toBe(1)
    closeTo(found.gainCrossovers[0].frequency, 157.4910338896925, 9)
    // computed from the closed form: |L| = 1e-3 at 9.9e5 rad/s, after (99000 + π/2 − π)/2π whole turns past −180°
    expect(Math.abs(found.phaseCrossovers.length - 15757)).toBeLessThanOrEqual(1)
  })

  it('refuses where they are too many', () => {
    expect(refusal(() => margins(series(ratio([29700], [1, 30]), delay({ seconds: 0.1 }))))).toMatchObject({
      code: 'unsupported',
    })
  })
})

describe('margins of a light resonance above 1 in a very narrow band', () => {
  const omega = 2 * Math.PI * 30

  it('finds both of its crossovers', () => {
    // computed from the closed form L = g/(2ζ + ju), u = ω/ω₀ − ω₀/ω: |L| = 1 at u = ±√(g² − 4ζ²), ζ = 1e-5, g = 3e-5,
    // arg L = −atan(u/2ζ)
    const found = margins(ratio([3e-5 * omega, 0], [1, 2e-5 * omega, omega ** 2]))
    expect(found.gainCrossovers.length).toBe(2)
    closeTo(found.gainCrossovers[0].frequency, 29.99966459167851, 10)
    closeTo(found.gainCrossovers[1].frequency, 30.00033541207137, 10)
    // at half a band of 2e-5 the angle multiplies rounding by 1e5
    closeTo(found.gainCrossovers[0].phaseMarginDegrees, -131.8103148957786, 7)
    closeTo(found.gainCrossovers[1].phaseMarginDegrees, 131.8103148957786, 7)
  })

  it('finds them where the peak is only 1 + 5e-8', () => {
    // the same closed form with g = 2ζ(1 + 5e-8): u = ±√((4ζ²)(1e-7)) = ±6.3e-9
    const found = margins(ratio([2.0000001e-5 * omega, 0], [1, 2e-5 * omega, omega ** 2]))
    expect(found.gainCrossovers.length).toBe(2)
    expect(Math.abs(found.gainCrossovers[1].phaseMarginDegrees)).toBeGreaterThan(179.9)
  })

  it('finds none where it stays below', () => {
    const found = margins(ratio([1.9999999e-5 * omega, 0], [1, 2e-5 * omega, omega ** 2]))
    expect(found.gainCrossovers).toEqual([])
  })
})

describe('margins refuses', () => {
  it('loops with a delay whose gain does not roll off', () => {
    const late = delay({ seconds: 1 })
    for (const loop of [
      series(gain(0.5), late),
      series(ratio([0.5, 2], [1, 1]), late),
      parallel(gain(0.2), series(ratio([2], [1, 1]), late)),
      late,
    ]) {
      expect(refusal(() => margins(loop))).toMatchObject({ code: 'unsupported', details: { function: 'margins' } })
    }
  })

  it('a loop that is −1 at infinite frequency', () => {
    expect(refusal(() => margins(gain(-1))).code).toBe('algebraic-loop')
    expect(refusal(() => margins(ratio([-1, 3], [1, 1]))).code).toBe('algebraic-loop')
  })

  it('more than one channel, and what is no system', () => {
    expect(refusal(() => margins(gain([[1, 2]])))).toMatchObject({
      code: 'dimension-mismatch',
      details: { path: 'loop' },
    })
    const refused = (loop: unknown) => refusal(() => margins(loop as StateSpace))
    expect(refused(undefined).code).toBe('invalid-option')
    expect(refused({ ...gain(1), D: [[Number.NaN]] })).toMatchObject({
      code: 'not-finite',
      details: { path: 'loop.D[0][0]' },
    })
    expect(refused({ ...integrator(), A: [[Number.POSITIVE_INFINITY]] })).toMatchObject({
      code: 'not-finite',
      details: { path: 'loop.A[0][0]' },
    })
  })
})

describe('margins', () => {
  it('gives plain data without a single NaN', () => {
    const visit = (value: unknown): void => {
      if (typeof value === 'number') expect(value).not.toBeNaN()
      else if (typeof value === 'object' && value !== null) Object.values(value).forEach(visit)
    }
    const loops: StateSpace[] = [gain(0), integrator(), ratio([1], [1, 0, 1]), ratio([-2, 0], [1, 0, 1])]
    for (const loop of loops) {
      const found: Margins = margins(loop)
      visit(found)
      expect(structuredClone(found)).toEqual(found)
    }
  })
})

function unitFeedback(loop: StateSpace): StateSpace {
  return connect({
    blocks: { loop },
    inputs: ['u'],
    outputs: { y: 'loop.y1' },
    wires: { 'loop.u1': ['u', '-loop.y1'] },
  } as Parameters<typeof connect>[0])
}
