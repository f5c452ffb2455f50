import { describe, expect, it } from 'vitest'
import {
  delay,
  discretize,
  lowPass,
  mechanicalSystem,
  prepare,
  series,
  settlingTime,
  stateSpace,
  transferFunction,
} from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'
import { within } from '../within.js'

const rational = (numerator: number[], denominator: number[]) => transferFunction({ numerator, denominator })
const expectTime = (found: number | null, expected: number, relative: number) => {
  expect(found).toBeTypeOf('number')
  expect(Math.abs((found as number) - expected)).toBeLessThanOrEqual(relative * expected)
}

// A place where the response crosses the band is as sharp as the response over its slope, a few units of rounding.
const rounding = 1e-12

describe('settlingTime of a system', () => {
  it('is ln(1/band) time constants of a lag', () => {
    // computed from the closed form ln(50)/2
    const lag = rational([2], [1, 2])
    expectTime(settlingTime(lag, { band: 0.02, relative: 'of-final' }), 1.956011502714073, rounding)
    expectTime(settlingTime(lag, { band: 0.02 }), 1.956011502714073, rounding)
    expectTime(settlingTime(lag, { band: 0.02, relative: 'of-step' }), 1.956011502714073, rounding)
  })

  // Computed from the closed form ln(1000)/(ζω₀): the envelope of a mount that is to come down to a thousandth.
  it.each([
    [2, 0.1, 5.497017],
    [2, 0.7, 0.785288],
    [1.5, 0.05, 14.658712],
  ])(
    'of the envelope of %d Hz and damping %d to a thousandth is %d s, and its swing is back just before',
    (f0, ratio, time) => {
      const omega = 2 * Math.PI * f0
      const envelope = rational([ratio * omega], [1, ratio * omega])
      expect(settlingTime(envelope, { band: 1e-3 })).toBeCloseTo(time, 6)
      // the step of a mass on spring and dashpot lies inside its envelope 1/√(1 − ζ²)·e^(−ζω₀t) and touches it twice a period
      const swing = settlingTime(rational([omega ** 2], [1, 2 * ratio * omega, omega ** 2]), { band: 1e-3 }) as number
      const slack = -Math.log(1 - ratio ** 2) / (2 * ratio * omega)
      expect(swing).toBeLessThan(time + slack)
      expect(swing).toBeGreaterThan(time + slack - 1 / (2 * f0 * Math.sqrt(1 - ratio ** 2)))
    },
  )

  it('counts an absolute band in the unit of the output', () => {
    // computed from the closed form ln(50)/2 for 1 % of a final value of 100 against a band of 2
    expectTime(settlingTime(rational([200], [1, 2]), { band: 2 }), 1.956011502714073, rounding)
  })

  it.each([
    // computed from the closed form 1 − e^(−ζωt) (cos ω_d t + ζ/√(1 − ζ²) sin ω_d t), ζ = 0.1, ω = 1
    [0.05, 28.967853935520917],
    [0.02, 38.383280486941146],
  ])('is the last of many exits of an oscillator, band %f', (band, expected) => {
    expectTime(settlingTime(rational([1], [1, 0.2, 1]), { band }), expected, rounding)
  })

  it.each([
    // computed from the same closed form with ζ = 0.5, whose first overshoot is e^(−π ζ/√(1 − ζ²)) = 0.163033534821580
    [0.163, 3.6479505190912804],
    [0.1631, 1.9704048980702895],
  ])('tells a peak just above the band from one just below, band %f', (band, expected) => {
    // A peak 2e-4 above the band is crossed at a small slope, which costs two digits.
    expectTime(settlingTime(rational([1], [1, 1, 1]), { band }), expected, 100 * rounding)
  })

  it('needs no independent eigenvectors', () => {
    // computed from the closed forms (1 + t) e^(−t) = 0.02 and Σ_(k<5) tᵏ/k! e^(−t) = 0.01
    const double = stateSpace({
      A: [
        [-1, 1],
        [0, -1],
      ],
      B: [[0], [1]],
      C: [[1, 0]],
    })
    expectTime(settlingTime(double, { band: 0.02 }), 5.833921701917391, rounding)
    const one = rational([1], [1, 1])
    // Five coupled lags lose a few digits in the Gramian only, not in the exponential.
    expectTime(settlingTime(series(one, one, one, one, one), { band: 0.01 }), 11.60462557947718, rounding)
  })

  it('is found after sixty thousand periods of a lightly damped oscillator, within a second or two', () => {
    // computed from the closed form of the oscillator with ζ = 1e-5, ω = 2π
    const omega = 2 * Math.PI
    const light = stateSpace({
      A: [
        [0, 1],
        [-omega * omega, -2e-5 * omega],
      ],
      B: [[0], [omega * omega]],
      C: [[1, 0]],
    })
    // The phase after 4e5 rad is known to 4e5 ε, an absolute error that counts little in so long a time.
    expectTime(
      within(5, () => settlingTime(light, { band: 0.02 })),
      62261.50094697303,
      1e-9,
    )
  })

  it('does not mind rates six decades apart', () => {
    // computed from the closed form: the lags of 1 µs and 10 µs delay the response of 1/(s + 1) by 11 µs, so that 2 % are
    // reached at ln 50 + ln(1/((1 − 1e-6)(1 − 1e-5)))
    const stiff = series(rational([1e6], [1, 1e6]), rational([1], [1, 1]), rational([1e5], [1, 1e5]))
    // Each doubling of a step of 1 µs may lose half an ε: 4e6 ε in all.
    expectTime(settlingTime(stiff, { band: 0.02 }), 3.912034005478646, 1e-9)
  })

  it('is 0 where the response never leaves the band', () => {
    expect(settlingTime(rational([1], [1, 1]), { band: 2 })).toBe(0)
    expect(settlingTime(stateSpace({ A: [], B: [], C: [[]], D: [[3]] }), { band: 1e-9 })).toBe(0)
    expect(settlingTime(stateSpace({ A: [[-1]], B: [[0]], C: [[1]], D: [[1]] }), { band: 1e-9 })).toBe(0)
  })

  it('starts from the jump of a direct gain', () => {
    // computed from the closed form e^(−t) = 0.2 of s/(s + 1)
    const highPass = rational([1, 0], [1, 1])
    expectTime(settlingTime(highPass, { band: 0.2 }), 1.6094379124341003, rounding)
    for (const relative of ['of-final', 'of-step'] as const) {
      expect(refusal(() => settlingTime(highPass, { band: 0.1, relative }))).toMatchObject({
        code: 'out-of-range',
        details: { path: 'relative' },
      })
    }
  })

  it('takes another final value, and is null where the response does not stay near it', () => {
    const lag = rational([1], [1, 1])
    // computed from the closed form: 1 − e^(−t) enters 1.05 ± 0.1 at 0.95, t = ln 20
    expectTime(settlingTime(lag, { band: 0.1, final: 1.05 }), 2.995732273553991, rounding)
    expect(settlingTime(lag, { band: 0.1, final: 1.2 })).toBeNull()
    // The limit itself lies on the edge of this band.
    expect(settlingTime(lag, { band: 0.5, final: 1.5 })).toBeNull()
  })

  it('is null for a marginal system, and an error for an unstable one', () => {
    expect(settlingTime(rational([1], [1, 0, 1]), { band: 0.1 })).toBeNull()
    expect(settlingTime(rational([1], [1, 0]), { band: 0.1 })).toBeNull()
    expect(refusal(() => settlingTime(rational([1], [1, -1]), { band: 0.1 }))).toMatchObject({
      code: 'unstable',
      details: { path: 'system' },
    })
  })

  it('takes a mechanical and a prepared system', () => {
    // computed from the closed form of the oscillator with ζ = 0.1, ω = 1
    const oscillator = mechanicalSystem({
      mass: [[1]],
      damping: [[0.2]],
      stiffness: [[1]],
      inputs: { force: [1] },
      outputs: { motion: { displacement: [1] } },
    })
    for (const system of [oscillator, prepare(oscillator)]) {
      expectTime(settlingTime(system, { band: 0.05 }), 28.967853935520917, rounding)
    }
  })

  it('refuses what it cannot answer', () => {
    const lag = lowPass({ cutoff: 1 })
    const two = stateSpace({ A: [[-1]], B: [[1, 1]], C: [[1]] })
    const late = delay({ seconds: 1 })
    expect(refusal(() => settlingTime(two, { band: 0.1 })).code).toBe('dimension-mismatch')
    expect(refusal(() => settlingTime(late, { band: 0.1 })).code).toBe('unsupported')
    const digital = discretize(lag, { sampleTime: 0.01, method: 'bilinear' })
    expect(refusal(() => settlingTime(digital as never, { band: 0.1 })).code).toBe('unsupported')
    expect(refusal(() => settlingTime(lag, { band: 0 }))).toMatchObject({
      code: 'out-of-range',
      details: { path: 'band', value: 0 },
    })
    expect(refusal(() => settlingTime(lag, { band: 0.1, relative: 'percent' as never })).code).toBe('invalid-option')
    expect(refusal(() => settlingTime(lag, { band: 0.1, final: Number.NaN })).code).toBe('not-finite')
    expect(refusal(() => settlingTime(lag, { band: 0.1, from: 0 } as never))).toMatchObject({
      code: 'invalid-option',
      details: { path: 'from' },
    })
    expect(refusal(() => settlingTime(null as never, { band: 0.1 })).code).toBe('invalid-option')
    // 1e13 time constants of the fast pole
    const slow = stateSpace({ A: [[-1, 1], [0, -1e-13]], B: [[0], [1]], C: [[1, 0]] }) // biome-ignore format: matrix
    const { code, message } = refusal(() => settlingTime(slow, { band: 0.1 }))
    expect([code, message]).toEqual([
      'no-convergence',
      'settlingTime: system takes too long to settle for a settling time that can be proved',
    ])
  })
})

describe('settlingTime of a record', () => {
  const time = [0, 1, 2, 3, 4]

  it('lies between the samples, on straight lines', () => {
    // by hand: from 3 at 1 s to 1 at 2 s, the edge 1.5 is met at 1.75 s
    expect(settlingTime({ time, values: [0, 3, 1, 1.2, 1] }, { band: 0.5 })).toBe(1.75)
    // by hand: from −1 at 0 s to 1 at 1 s, the edge 0.5 is met at 0.75 s
    const below = { time: Float64Array.from(time), values: Float64Array.of(-1, 1, 1.1, 0.9, 1) }
    expect(settlingTime(below, { band: 0.5 })).toBe(0.75)
  })

  it('counts the edge as inside', () => {
    expect(settlingTime({ time, values: [1.5, 0.5, 1.5, 0.5, 1] }, { band: 0.5 })).toBe(0)
  })

  it('is the first time where the record never leaves the band, on the axis of the record', () => {
    expect(settlingTime({ time: [-2, 5], values: [1, 1] }, { band: 0.1 })).toBe(-2)
  })

  it('is null where the record ends outside', () => {
    expect(settlingTime({ time, values: [0, 0, 0, 0, 2] }, { band: 0.5, final: 1 })).toBeNull()
    expect(settlingTime({ time: [0], values: [2] }, { band: 0.5, final: 1 })).toBeNull()
  })

  it('takes the band relative to the final value or to the change', () => {
    // by hand: final 12, from 10: 'of-final' 0.1 is 1.2, met from 10 to 12 at 10.8; 'of-step' 0.1 is 0.2, met at 11.8
    const record = { time, values: [10, 10, 12, 12, 12] }
    expect(settlingTime(record, { band: 0.1, relative: 'of-final' })).toBeCloseTo(1.4, 14)
    expect(settlingTime(record, { band: 0.1, relative: 'of-step' })).toBeCloseTo(1.9, 14)
  })

  it('refuses malformed records', () => {
    const path = (record: unknown) => refusal(() => settlingTime(record as never, { band: 0.1 })).details.path
    expect(path({ time: [0, 1], values: [0] })).toBe('record.values')
    expect(path({ time: [0, 0], values: [0, 1] })).toBe('record.time[1]')
    expect(path({ time: [], values: [] })).toBe('record.time')
    expect(path({ time: [0], values: [Number.NaN] })).toBe('record.values[0]')
    expect(path({ time: [0], values: [0], unit: 'm' })).toBe('record.unit')
  })
})
