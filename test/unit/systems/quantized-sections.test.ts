import { describe, expect, it } from 'vitest'
import {
  discretize,
  frequencyResponse,
  leakyIntegrator,
  lowPass,
  quantizedSections,
  secondOrderSections,
  sectionsSystem,
} from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

const sampleTime = 1e-4
const slow = secondOrderSections(
  discretize(leakyIntegrator({ corner: 0.01 }), { sampleTime, method: 'zero-order-hold' }),
)

describe('sectionsSystem', () => {
  it('is the system the sections were made of', () => {
    const filter = discretize(lowPass({ cutoff: 200, order: 5 }), { sampleTime, method: 'bilinear' })
    const again = sectionsSystem(secondOrderSections(filter), { sampleTime, input: 'error', output: 'force' })
    expect([again.inputs, again.outputs, again.sampleTime]).toEqual([['error'], ['force'], sampleTime])
    const places = [1, 50, 200, 1000]
    const [a, b] = [frequencyResponse(filter, places), frequencyResponse(again, places)]
    // The agreement secondOrderSections promises.
    a.re.forEach((value, k) => {
      expect(Math.hypot(value - (b.re[k] as number), (a.im[k] as number) - (b.im[k] as number))).toBeLessThan(1e-8)
    })
  })

  it('refuses what is no section', () => {
    const bad = (sections: unknown) => refusal(() => sectionsSystem(sections as never, { sampleTime }))
    expect(bad({}).details.path).toBe('sections')
    expect(bad([{ b: [1, 0], a: [1, 0, 0] }]).details.path).toBe('sections[0].b')
    expect(bad([{ b: [1, 0, 0], a: [2, 0, 0] }]).details.path).toBe('sections[0].a[0]')
    expect(bad([{ b: [1, 0, NaN], a: [1, 0, 0] }]).code).toBe('not-finite')
  })
})

describe('quantizedSections', () => {
  it('in double precision costs nothing', () => {
    const found = quantizedSections(slow, { format: 'double', sampleTime })
    expect(found).toMatchObject({ responseError: 0, staticGainError: 0, stable: true, sections: slow })
  })

  it('in single precision costs a slow integrator its gain at 0 Hz', () => {
    // Computed with IEEE 754 single precision in another language: the pole exp(−2π·0.01·1e-4) loses 0.39 % of its distance to 1.
    const found = quantizedSections(slow, { format: 'single', sampleTime })
    expect(found.stable).toBe(true)
    expect((found.staticGainError as number) / 0.00394309).toBeCloseTo(1, 3)
    // The response is largest at 0 Hz.
    expect(found.responseError / 0.00394309).toBeCloseTo(1, 3)
    expect(found.responseErrorFrequency).toBe(0)
  })

  it.each([
    // Computed with rounding to 2⁻²³ and 2⁻³¹ in another language.
    [23, 0.00535991],
    [31, 1.09564e-6],
  ])('with a fixed point and %i bits after it costs what rounding costs', (fractionBits, expected) => {
    const found = quantizedSections(slow, { format: { integerBits: 1, fractionBits }, sampleTime })
    expect((found.staticGainError as number) / expected).toBeCloseTo(1, 3)
  })

  it('with too few bits puts the pole on the circle', () => {
    const found = quantizedSections(slow, { format: { integerBits: 1, fractionBits: 15 }, sampleTime })
    expect(found.stable).toBe(false)
    expect(found.staticGainError).toBeNull()
  })

  it('tells where the response is off most, and by how much', () => {
    // By hand: −0.6 is stored as −0.5 in steps of a half. 1/(1 − 0.6 z⁻¹) is 2.5 at 0 Hz and becomes 2, its largest error; with
    // the other sign the same at half the sample rate, where 1/1.6 and 1/1.5 at 0 Hz differ by 1/24
    const format = { integerBits: 1, fractionBits: 1 }
    const of = (a1: number) => quantizedSections([{ b: [1, 0, 0], a: [1, a1, 0] }], { format, sampleTime: 0.01 })
    expect(of(-0.6)).toMatchObject({ stable: true, precision: 'fixed', fixedPoint: format, responseErrorFrequency: 0 })
    expect(of(-0.6).responseError).toBeCloseTo(0.2, 14)
    expect(of(-0.6).staticGainError).toBeCloseTo(0.2, 14)
    expect(of(-0.6).sections).toEqual([{ b: [1, 0, 0], a: [1, -0.5, 0] }])
    expect(of(0.6).responseErrorFrequency).toBeCloseTo(50, 12)
    expect(of(0.6).responseError).toBeCloseTo(0.2, 14)
    expect(of(0.6).staticGainError).toBeCloseTo(1 / 15, 14)
    expect(quantizedSections(slow, { format: 'single', sampleTime })).toMatchObject({
      precision: 'single',
      fixedPoint: null,
    })
  })

  it.each([
    // inside the triangle |a₂| < 1, |a₁| < 1 + a₂: all poles inside the circle (E. I. Jury, from memory)
    [0, 0.99, true],
    [0, 1.01, false],
    [0, -0.99, true],
    [1.4, 0.41, true],
    [1.4, 0.39, false],
    [-1.4, 0.41, true],
    [-1.4, 0.39, false],
    [1, 0, false],
    [0, 1, false],
  ])('says of a₁ = %d, a₂ = %d whether it is stable: %s', (a1, a2, stable) => {
    expect(quantizedSections([{ b: [1, 0, 0], a: [1, a1, a2] }], { format: 'double', sampleTime }).stable).toBe(stable)
  })

  it('holds from −2 to just below 2 with a bit before the point', () => {
    const format = { integerBits: 1, fractionBits: 3 }
    const stored = (b0: number) =>
      quantizedSections([{ b: [b0, 0, 0], a: [1, 0, 0] }], { format, sampleTime }).sections[0].b[0]
    expect([-2, -2.06, 1.93, 0.3, -0.3].map(stored)).toEqual([-2, -2, 1.875, 0.25, -0.25])
    for (const b0 of [1.95, 2, -2.07]) expect(refusal(() => stored(b0)).code).toBe('out-of-range')
  })

  it('refuses what a format cannot hold', () => {
    const filter = secondOrderSections(
      discretize(lowPass({ cutoff: 200, order: 2 }), { sampleTime, method: 'bilinear' }),
    )
    const format = { integerBits: 0, fractionBits: 15 }
    const error = refusal(() => quantizedSections(filter, { format, sampleTime }))
    expect([error.code, error.details.path]).toEqual(['out-of-range', 'sections[0].a[1]'])
    expect(refusal(() => quantizedSections(filter, { format: 'half' as never, sampleTime })).details.path).toBe(
      'format',
    )
    const broad = { format: { integerBits: 40, fractionBits: 1 }, sampleTime }
    expect(refusal(() => quantizedSections(filter, broad)).details.path).toBe('format.integerBits')
    const large = [{ b: [1e300, 0, 0], a: [1, 0, 0] }] as const
    expect(refusal(() => quantizedSections(large, { format: 'single', sampleTime })).code).toBe('out-of-range')
  })
})
