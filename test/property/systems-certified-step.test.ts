import fc from 'fast-check'
import { expect, it } from 'vitest'
import { scopeOf } from '../../src/internal/check.js'
import type { Complex } from '../../src/linear/complex.js'
import { certifiedSteps } from '../../src/systems/certified-step.js'
import { type CharacteristicSum, characteristicSum } from '../../src/systems/characteristic-terms.js'
import { stateSpace } from '../../src/systems/index.js'

const entry = fc.double({ min: -3, max: 3, noNaN: true }).map((value) => Math.round(value * 100) / 100)
const rows = (count: number, width: number) =>
  fc.array(fc.array(entry, { minLength: width, maxLength: width }), { minLength: count, maxLength: count })
const loops = fc.tuple(fc.integer({ min: 1, max: 4 }), fc.integer({ min: 1, max: 3 })).chain(([n, d]) =>
  fc.record({
    A: rows(n, n),
    B: rows(n, d),
    C: rows(d, n),
    seconds: fc.array(fc.double({ min: 0.01, max: 3, noNaN: true }), { minLength: d, maxLength: d }),
    omega: fc.double({ min: 1e-3, max: 20, noNaN: true }),
  }),
)
const pieces = 400

it('a certified step turns by less than 180°, seen in 400 pieces', () => {
  let long = 0
  fc.assert(
    fc.property(loops, ({ A, B, C, seconds, omega }) => {
      const sum = characteristicSum(scopeOf('test'), stateSpace({ A, B, C }), seconds)
      const start = sum.at(0, omega)
      if (start === null || Math.hypot(start.value.re, start.value.im) < 1e-6) return
      const step = certifiedSteps(sum)(start, 4, () => 0)
      if (step > 0.05) long += 1
      let [turned, largest] = [0, 0]
      let last = { ...start.value }
      for (let k = 1; k <= pieces; k++) {
        const next = valueAt(sum, 0, omega + (step * k) / pieces)
        turned += turn(last, next)
        largest = Math.max(largest, Math.abs(turned))
        last = next
      }
      expect(largest).toBeLessThan(Math.PI)
    }),
    { numRuns: 500 },
  )
  // Steps that are all tiny would prove nothing.
  expect(long).toBeGreaterThan(200)
})

it('nothing lies beside a step that is certified for some width, seen by its turns around it', () => {
  let long = 0
  fc.assert(
    fc.property(loops, fc.double({ min: 1e-3, max: 0.3, noNaN: true }), ({ A, B, C, seconds, omega }, wide) => {
      const sum = characteristicSum(scopeOf('test'), stateSpace({ A, B, C }), seconds)
      const start = sum.at(0, omega)
      if (start === null || Math.hypot(start.value.re, start.value.im) < 1e-6) return
      const step = certifiedSteps(sum)(start, 4, () => wide)
      if (step === 0) return
      if (step > 0.05) long += 1
      const corners: [number, number][] = [[-wide, omega], [wide, omega], [wide, omega + step], [-wide, omega + step]] // biome-ignore format: a rectangle
      let turned = 0
      corners.forEach(([x, y], side) => {
        const [toX, toY] = corners[(side + 1) % 4]
        for (let k = 1; k <= pieces; k++) {
          const at = (share: number) => valueAt(sum, x + (toX - x) * share, y + (toY - y) * share)
          turned += turn(at((k - 1) / pieces), at(k / pieces))
        }
      })
      expect(Math.abs(turned)).toBeLessThan(0.01)
    }),
    { numRuns: 200 },
  )
  // Steps that are all tiny would prove nothing.
  expect(long).toBeGreaterThan(50)
})

/** A sample is reused by the next call. */
function valueAt(sum: CharacteristicSum, re: number, im: number): Complex {
  const sample = sum.at(re, im)
  if (sample === null) throw new Error('a pole within a certified step')
  return { ...sample.value }
}

function turn(a: Complex, b: Complex): number {
  return Math.atan2(b.im * a.re - b.re * a.im, b.re * a.re + b.im * a.im)
}
