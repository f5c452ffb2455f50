import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  activelyDampedIsolation,
  controlElements,
  type IsolationModel,
  parallelActiveIsolation,
  passiveIsolation,
  seriesActiveIsolation,
} from '../../src/isolation/index.js'
import { channel, frequencyResponse, stability, transferFunction } from '../../src/systems/index.js'

const decades = (low: number, high: number) =>
  fc.double({ min: low, max: high, noNaN: true }).map((power) => 10 ** power)
const payloads = fc
  .record({ mass: decades(0, 4), frequency: decades(-0.3, 1.3), dampingRatio: decades(-2, -0.3) })
  .map(({ mass, frequency, dampingRatio }) => {
    const omega = 2 * Math.PI * frequency
    const mount = { stiffness: mass * omega ** 2, damping: 2 * dampingRatio * mass * omega }
    return { payload: { mass }, mount, frequency, omega }
  })
const sensors = fc.option(fc.record({ naturalFrequency: decades(-1, 0.7), dampingRatio: decades(-0.7, 0.3) }), {
  nil: undefined,
})
const actuators = fc.option(fc.record({ bandwidth: decades(1, 3) }), { nil: undefined })
const delays = fc.oneof(fc.constant(0), decades(-5, -2))

interface Complex {
  readonly re: number
  readonly im: number
}
const response = (model: IsolationModel, input: string, output: string, frequency: number): Complex => {
  const series = channel(frequencyResponse(model.closed, [frequency], { inputs: [input], outputs: [output] }), {
    input,
    output,
  })
  return { re: series.re[0] as number, im: series.im[0] as number }
}
const distance = (a: Complex, b: Complex) => Math.hypot(a.re - b.re, a.im - b.im) / Math.hypot(b.re, b.im)
const size = ({ re, im }: Complex) => Math.hypot(re, im)

// As for passive models: a few roundings times a condition below 1e4.
const solved = 1e-11

describe('parallel active isolation', () => {
  it('without gains is the passive isolation', () => {
    fc.assert(
      fc.property(payloads, sensors, actuators, delays, decades(-1, 1), (one, sensor, actuator, delay, ratio) => {
        const { payload, mount, frequency } = one
        const path = { ...(sensor ? { sensor } : {}), ...(actuator ? { actuator } : {}), delay }
        const model = parallelActiveIsolation({ payload, mount, feedback: { velocityGain: 0, ...path } })
        const passive = passiveIsolation({ payload, mount })
        for (const input of ['floorVelocity', 'payloadForce', 'reactionForce']) {
          for (const output of ['payloadVelocity', 'stretch', 'floorForce']) {
            const expected = response(passive, input, output, ratio * frequency)
            expect(distance(response(model, input, output, ratio * frequency), expected)).toBeLessThan(solved)
          }
        }
        expect(controlElements(model).active).toBe(false)
      }),
    )
  })

  it('with feedforward of gain 1 and no delay leaves nothing of a reaction force', () => {
    fc.assert(
      fc.property(payloads, decades(-1, 1), fc.double({ min: 0, max: 2, noNaN: true }), (one, ratio, damping) => {
        const { payload, mount, frequency, omega } = one
        const model = parallelActiveIsolation({
          payload,
          mount,
          feedback: { velocityGain: damping * payload.mass * omega },
          feedforward: { gain: 1 },
        })
        const left = size(response(model, 'reactionForce', 'payloadVelocity', ratio * frequency))
        const all = size(response(model, 'payloadForce', 'payloadVelocity', ratio * frequency))
        // Two equal forces of opposite sign meet on the payload.
        expect(left / all).toBeLessThan(4 * Number.EPSILON)
      }),
    )
  })

  it('leaves the stated share of a reaction force, whatever the feedback does', () => {
    const share = fc.double({ min: -1, max: 2, noNaN: true })
    fc.assert(
      fc.property(payloads, share, decades(-5, -2), decades(-1, 1), (one, gain, delay, ratio) => {
        const { payload, mount, frequency, omega } = one
        const feedback = { velocityGain: 0.6 * payload.mass * omega, actuator: { bandwidth: 100 }, delay: 1e-3 }
        const model = parallelActiveIsolation({ payload, mount, feedback, feedforward: { gain, delay } })
        const at = ratio * frequency
        const left = response(model, 'reactionForce', 'payloadVelocity', at)
        const force = response(model, 'payloadForce', 'payloadVelocity', at)
        const phase = 2 * Math.PI * at * delay
        const rest = { re: 1 - gain * Math.cos(phase), im: gain * Math.sin(phase) }
        const expected = {
          re: rest.re * force.re - rest.im * force.im,
          im: rest.re * force.im + rest.im * force.re,
        }
        const error = Math.hypot(left.re - expected.re, left.im - expected.im) / size(force)
        expect(error).toBeLessThan(solved)
      }),
    )
  })

  it('without sensor, actuator and delay is stable for any gain that damps and any virtual mass', () => {
    fc.assert(
      fc.property(payloads, decades(-3, 3), decades(-3, 3), ({ payload, mount, omega }, damping, added) => {
        const feedback = {
          velocityGain: damping * payload.mass * omega,
          accelerationGain: added * payload.mass,
        }
        expect(stability(parallelActiveIsolation({ payload, mount, feedback }).closed).verdict).toBe('stable')
      }),
    )
  })
})

describe('active damping', () => {
  it('is parallel active isolation with that velocity gain', () => {
    fc.assert(
      fc.property(payloads, sensors, actuators, delays, decades(-1, 1), (one, sensor, actuator, delay, ratio) => {
        const { payload, mount, frequency, omega } = one
        const path = { ...(sensor ? { sensor } : {}), ...(actuator ? { actuator } : {}), delay }
        const damped = activelyDampedIsolation({ payload, mount, damping: { dampingRatio: 0.4, ...path } })
        const parallel = parallelActiveIsolation({
          payload,
          mount,
          feedback: { velocityGain: 0.8 * payload.mass * omega, ...path },
        })
        const at = ratio * frequency
        const expected = response(parallel, 'floorVelocity', 'payloadVelocity', at)
        // A loop near its limit magnifies roundings by 1/|1 + L|.
        const error = distance(response(damped, 'floorVelocity', 'payloadVelocity', at), expected)
        expect(error).toBeLessThan(1e3 * solved)
      }),
    )
  })

  it('takes off the payload what it puts on the floor', () => {
    fc.assert(
      fc.property(payloads, decades(-1, 1), ({ payload, mount, frequency, omega }, ratio) => {
        const model = activelyDampedIsolation({ payload, mount, damping: { gain: payload.mass * omega } })
        const at = ratio * frequency
        const velocity = response(model, 'payloadForce', 'payloadVelocity', at)
        const floor = response(model, 'payloadForce', 'floorForce', at)
        // m s v = F − floorForce: d'Alembert on the payload.
        const inertia = 2 * Math.PI * at * payload.mass
        const sum = { re: floor.re - inertia * velocity.im - 1, im: floor.im + inertia * velocity.re }
        expect(size(sum) / (1 + size(floor))).toBeLessThan(solved)
      }),
    )
  })
})

describe('noise', () => {
  it('enters wherever a sensor or an actuator is, and reaches the payload', () => {
    fc.assert(
      fc.property(payloads, sensors, actuators, ({ payload, mount, frequency }, sensor, actuator) => {
        const path = { ...(sensor ? { sensor } : {}), ...(actuator ? { actuator } : {}) }
        const models = [
          activelyDampedIsolation({ payload, mount, damping: { dampingRatio: 0.3, ...path } }),
          parallelActiveIsolation({ payload, mount, feedback: { velocityGain: payload.mass, ...path } }),
          seriesActiveIsolation({
            payload,
            mount,
            activeStage: {
              mass: 0.1 * payload.mass,
              actuator: { stiffness: 1e3 * mount.stiffness, damping: mount.damping, stroke: 1e-5 },
              ...(sensor ? { sensor } : {}),
              sensorLocation: 'activeStage',
              controller: { gain: 1, highPass: 0.1, lowPass: 100 },
            },
          }),
        ]
        for (const model of models) {
          expect(model.noiseSources.map(({ input }) => input)).toEqual(['sensorNoise', 'actuatorNoise'])
          for (const { input } of model.noiseSources) {
            expect(size(response(model, input, 'payloadVelocity', frequency))).toBeGreaterThan(0)
          }
        }
      }),
      { numRuns: 50 },
    )
  })
})

describe('a series stage with its sensor on the floor', () => {
  it('multiplies the mechanical transmissibility by 1 − M·k_a/(k_a + c_a·s)', () => {
    const match = fc.double({ min: -1, max: 2, noNaN: true })
    fc.assert(
      fc.property(payloads, match, decades(-4, -2), decades(-1, 1), (one, gain, time, ratio) => {
        const { payload, mount, frequency } = one
        const stiffness = 50 * mount.stiffness
        const stage = (share: number) =>
          seriesActiveIsolation({
            payload,
            mount,
            activeStage: {
              mass: 0.1 * payload.mass,
              actuator: { stiffness, damping: time * stiffness, stroke: 1e-5 },
              sensorLocation: 'floor',
              controller: transferFunction({ numerator: [share], denominator: [1, 0] }),
            },
          })
        const at = ratio * frequency
        const [t, mechanical] = [gain, 0].map((share) =>
          response(stage(share), 'floorVelocity', 'payloadVelocity', at),
        ) as [Complex, Complex]
        const lag = 2 * Math.PI * at * time
        const factor = { re: 1 - gain / (1 + lag * lag), im: (gain * lag) / (1 + lag * lag) }
        const expected = {
          re: factor.re * mechanical.re - factor.im * mechanical.im,
          im: factor.re * mechanical.im + factor.im * mechanical.re,
        }
        expect(Math.hypot(t.re - expected.re, t.im - expected.im) / size(mechanical)).toBeLessThan(1e2 * solved)
      }),
    )
  })
})
