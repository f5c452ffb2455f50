import { describe, expect, it } from 'vitest'
import { fourierPlan } from '../../../src/linear/fourier.js'

/** Direct sum; the angle is reduced first, so that it is good to a few ε per term. */
function direct(data: Float64Array, length: number): Float64Array {
  const out = new Float64Array(2 * length)
  for (let k = 0; k < length; k++) {
    for (let n = 0; n < length; n++) {
      const angle = (-2 * Math.PI * ((k * n) % length)) / length
      out[2 * k] += data[2 * n] * Math.cos(angle) - data[2 * n + 1] * Math.sin(angle)
      out[2 * k + 1] += data[2 * n] * Math.sin(angle) + data[2 * n + 1] * Math.cos(angle)
    }
  }
  return out
}

describe('fourierPlan', () => {
  const lengths = [...Array.from({ length: 40 }, (_, i) => i + 1), 64, 97, 100, 128, 243, 256, 509, 1000]

  it.each(lengths)('agrees with the direct sum for length %i, also on the second call', (length) => {
    const plan = fourierPlan(length)
    const out = new Float64Array(2 * length)
    for (const seed of [0.7, 1.9]) {
      const data = Float64Array.from({ length: 2 * length }, (_, i) => Math.sin(seed * i * i + i))
      const copy = data.slice()
      plan.transform(out, data)
      const expected = direct(data, length)
      // The direct sum itself errs by up to ε per term of a sum of `length` terms of size 1.
      const tolerance = 8 * Number.EPSILON * length
      expected.forEach((value, i) => {
        expect(Math.abs(out[i] - value)).toBeLessThanOrEqual(tolerance)
      })
      expect(data).toEqual(copy)
    }
  })

  it('turns a delay by one sample into e^(−2πik/L): the forward sign', () => {
    for (const length of [4, 5]) {
      const data = new Float64Array(2 * length)
      data[2] = 1
      const out = new Float64Array(2 * length)
      fourierPlan(length).transform(out, data)
      // computed from the closed form: cos and −sin of 90° and of 72°
      expect(out[2]).toBeCloseTo(length === 4 ? 0 : 0.30901699437494745, 14)
      expect(out[3]).toBeCloseTo(length === 4 ? -1 : -0.9510565162951535, 14)
    }
  })
})
