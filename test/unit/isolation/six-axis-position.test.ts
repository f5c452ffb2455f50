import { describe, expect, it } from 'vitest'
import type { Point } from '../../../src/elements/index.js'
import {
  controlElements,
  loopMargins,
  passiveIsolation,
  type SixAxisLoop,
  sixAxisIsolation,
  transmissibility,
} from '../../../src/isolation/index.js'
import { channel, frequencyResponse, simulate } from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

const corners = [-0.6, 0.6].flatMap((x) => [-0.4, 0.4].map((y): Point => [x, y, -0.5]))
const mount = { stiffness: 9e4, damping: 300, lateral: { stiffness: 4e4, damping: 200 } }
const payload = {
  mass: 1000,
  inertia: [140, 240, 270] as const,
  centreOfMass: [0, 0, 0] as const,
  supports: corners.map((position) => ({ position, mount })),
}
const upright = corners.map((position) => ({ position, direction: [0, 0, 1] as const }))
const held = (position: object, more: object = {}) =>
  sixAxisIsolation({
    payload,
    damping: {
      sensors: upright,
      actuators: upright,
      loops: [{ axis: 'Z', gain: 0, position } as SixAxisLoop],
      ...more,
    },
  })

describe('a position loop', () => {
  it('without integral action is a spring beside the mounts', () => {
    const frequencies = [0.5, 2, 3, 10]
    const stiffer = { ...mount, stiffness: 9e4 + 2e4 }
    const expected = transmissibility(
      passiveIsolation({ payload: { mass: 1000 }, mount: stiffer, count: 4 }),
      frequencies,
    )
    const ports = { input: 'floorVelocityZ', output: 'payloadVelocityZ' }
    const { closed } = held({ stiffness: 8e4 })
    const found = channel(
      frequencyResponse(closed, frequencies, { inputs: [ports.input], outputs: [ports.output] }),
      ports,
    )
    found.re.forEach((re, k) => {
      // A few roundings of a response below 10.
      expect(Math.hypot(re - expected.re[k], found.im[k] - expected.im[k])).toBeLessThan(1e-12)
    })
  })

  it('with integral action takes a lasting load back to its height', () => {
    const { closed } = held({ stiffness: 8e4, integralRate: 2 })
    const inputs = { payloadForceZ: new Float64Array(20000).fill(100) }
    const { stretchZ } = simulate(closed, { inputs, sampleTime: 0.002 }).outputs
    // Without the integral 100 N sink it by 100/(36e4 + 8e4) = 0.227 mm; computed from the closed form
    expect(Math.abs(stretchZ[200])).toBeGreaterThan(1e-4)
    expect(Math.abs(stretchZ[19999])).toBeLessThan(1e-7)
  })

  it('is a loop of its own, and by itself no active control of vibration', () => {
    const model = held({ stiffness: 8e4, integralRate: 2 }, { delay: 1e-3 })
    expect(loopMargins(model).map(({ name, margins }) => [name, margins.closedLoop])).toEqual([
      ['damping, Z', 'stable'],
      ['position, Z', 'stable'],
    ])
    expect(controlElements(model).active).toBe(false)
  })

  it('needs feet that stay together and values that make sense', () => {
    const apart = refusal(() =>
      sixAxisIsolation({
        payload,
        feet: 'independent',
        damping: { sensors: upright, actuators: upright, loops: [{ axis: 'Z', gain: 0, position: { stiffness: 1 } }] },
      }),
    )
    expect([apart.code, apart.details.path]).toEqual(['unsupported', 'damping'])
    const slow = refusal(() => held({ stiffness: 1, integralRate: -1 }))
    expect([slow.code, slow.details.path]).toEqual(['out-of-range', 'damping.loops[0].position.integralRate'])
  })
})
