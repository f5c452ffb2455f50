import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { passiveIsolation } from '../../src/isolation/index.js'
import { channel, frequencyResponse, stability } from '../../src/systems/index.js'

const between = (min: number, max: number) =>
  fc.double({ min: Math.log(min), max: Math.log(max), noNaN: true }).map(Math.exp)
const shape = fc.double({ min: -2, max: 2, noNaN: true })
const damped = { naturalFrequency: between(5, 300), dampingRatio: between(0.002, 0.3) }
const hanging = fc.record({ mass: between(1, 300), ...damped })
const mode = fc.record({
  modalMass: between(50, 1e4),
  ...damped,
  mountShape: shape,
  sensorShape: shape,
  payloadShape: shape,
})
const model = fc
  .record({
    payload: fc.record({ mass: between(10, 1e4), appendages: fc.array(fc.oneof(hanging, mode), { maxLength: 3 }) }),
    mount: fc.record({ stiffness: between(1e4, 1e8), damping: between(10, 1e4) }),
    floor: fc.record({
      modes: fc.array(fc.record({ modalMass: between(100, 1e5), ...damped }), { minLength: 1, maxLength: 3 }),
    }),
  })
  .map(passiveIsolation)

describe('a flexible payload on a flexible floor', () => {
  it('is stable, having nothing but masses, springs and dashpots', () => {
    fc.assert(fc.property(model, ({ closed }) => stability(closed).verdict === 'stable'))
  })

  it('is reciprocal: floor motion reaches the payload as a force on the payload reaches the floor', () => {
    fc.assert(
      fc.property(model, between(0.5, 200), ({ closed }, frequency) => {
        const response = frequencyResponse(closed, [frequency])
        const down = channel(response, { input: 'payloadForce', output: 'floorForce' })
        const up = channel(response, { input: 'floorVelocity', output: 'payloadVelocity' })
        const distance = Math.hypot(
          (down.re[0] as number) - (up.re[0] as number),
          (down.im[0] as number) - (up.im[0] as number),
        )
        // 1e-8 of the larger scale: each row is right to 1e-9 of its largest entry, which may be 1, the rigid one.
        expect(distance).toBeLessThan(1e-8 * Math.max(1, Math.hypot(up.re[0] as number, up.im[0] as number)))
      }),
    )
  })

  it('takes no power from the floor that it does not dissipate: the driving-point mobility of the payload is positive real', () => {
    fc.assert(
      fc.property(model, between(0.5, 200), ({ closed }, frequency) => {
        const { re, im } = channel(frequencyResponse(closed, [frequency]), {
          input: 'payloadForce',
          output: 'payloadVelocity',
        })
        expect(re[0] as number).toBeGreaterThan(-1e-9 * Math.hypot(re[0] as number, im[0] as number))
      }),
    )
  })
})
