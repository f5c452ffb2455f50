import { describe, expect, it } from 'vitest'
import {
  airSpring,
  elastomerMount,
  naturalFrequency,
  springMount,
  standardGravity,
  staticDeflection,
} from '../../../src/elements/index.js'
import {
  activelyDampedIsolation,
  type IsolationModel,
  isolationSummary,
  parallelActiveIsolation,
  passiveIsolation,
  pneumaticIsolation,
} from '../../../src/isolation/index.js'
import { poles } from '../../../src/systems/index.js'
import { gainAt, modulusAt } from './read-off.js'

// Every expected value below is common practice, no source, unless said otherwise.
const mass = 1000
const payload = { mass }
const resonance = (model: IsolationModel) =>
  Math.min(...poles(model.closed).flatMap(({ im, naturalFrequency: f }) => (im > 0 ? [f] : [])))

describe('deflection and frequency', () => {
  it('5 mm of a rubber mount with a dynamic ratio of 1.4 mean 8.3 Hz', () => {
    const stiffness = (1.4 * mass * standardGravity) / 5e-3
    // A loss factor of 0.05 and a band about the frequency meant; the dynamic stiffness holds at its middle.
    const mount = elastomerMount({ stiffness, lossFactor: 0.05, band: [8.3 / 10, 83], staticRatio: 1.4 })
    // The static spring is what deflects.
    expect((mass * standardGravity) / mount.stiffness).toBeCloseTo(5e-3, 6)
    expect(isolationSummary(passiveIsolation({ payload, mount })).peakFrequency).toBeCloseTo(8.3, 1)
  })

  it('10 mm of a steel spring mean 5 Hz', () => {
    const mount = { stiffness: (mass * standardGravity) / 10e-3, damping: 20 }
    expect(resonance(passiveIsolation({ payload, mount }))).toBeCloseTo(5, 1)
    expect(staticDeflection({ naturalFrequency: naturalFrequency({ mass, stiffness: mount.stiffness }) })).toBeCloseTo(
      10e-3,
      9,
    )
  })
})

describe('an air spring of 2 Hz and damping ratio 0.1, levelled, of one chamber', () => {
  const omega = 2 * Math.PI * 2
  const area = 0.04
  const load = mass * standardGravity
  const volume = (1.4 * (load / area + 101325) * area ** 2) / (mass * omega ** 2)
  const mount = airSpring({ area, volume, load, diaphragmDamping: 0.2 * mass * omega })
  /** Levelling at a tenth of its limit 2ζω₀. */
  const air = pneumaticIsolation({ payload, mount, levelling: { flowGain: 0.02 * omega * area } })
  const rubber = passiveIsolation({ payload, mount: springMount({ mass, naturalFrequency: 8, dampingRatio: 0.05 }) })

  it('passes at most 0.36 at 4 Hz and 0.22 at 5 Hz', () => {
    expect(modulusAt(air, 4)).toBeLessThanOrEqual(0.36)
    expect(modulusAt(air, 5)).toBeLessThanOrEqual(0.22)
  })

  it('isolates where a rubber mount of 8 Hz still amplifies', () => {
    expect(modulusAt(rubber, 4)).toBeGreaterThan(1.3)
    expect(modulusAt(rubber, 5)).toBeGreaterThan(1.6)
    expect(isolationSummary(rubber).isolationFrom).toBeCloseTo(8 * Math.SQRT2, 6)
  })
})

describe('damping the payload actively', () => {
  const mount = springMount({ mass, naturalFrequency: 2, dampingRatio: 0.03 })
  const passive = passiveIsolation({ payload, mount })
  const active = activelyDampedIsolation({ payload, mount, damping: { dampingRatio: 0.7 } })

  it('lowers the peak', () => {
    expect(isolationSummary(passive).peak).toBeGreaterThan(16)
    expect(isolationSummary(active).peak).toBeLessThan(1.05)
  })

  it('changes the attenuation above ten times the resonance by less than 5 %', () => {
    for (const frequency of [20, 30, 100, 500]) {
      expect(Math.abs(modulusAt(active, frequency) / modulusAt(passive, frequency) - 1)).toBeLessThan(0.05)
    }
  })

  it('costs attenuation where it is done by a dashpot instead', () => {
    const dashpot = passiveIsolation({
      payload,
      mount: springMount({ mass, naturalFrequency: 2, dampingRatio: 0.73 }),
    })
    expect(modulusAt(dashpot, 20) / modulusAt(active, 20)).toBeGreaterThan(10)
  })
})

describe('a motor in parallel with the springs', () => {
  const model = (frequency: number, velocityGain: number, accelerationGain = 0) =>
    parallelActiveIsolation({
      payload,
      mount: springMount({ mass, naturalFrequency: frequency, dampingRatio: 0.03 }),
      feedback: { velocityGain, accelerationGain },
    })

  it('without acceleration feedback leaves the isolation well above resonance to the spring', () => {
    for (const frequency of [30, 100, 300]) {
      const change = modulusAt(model(2, 2e4), frequency) / modulusAt(model(2, 0), frequency)
      expect(Math.abs(change - 1)).toBeLessThan(0.02)
    }
    // With a virtual mass as large as the payload it is halved.
    expect(modulusAt(model(2, 0, mass), 100) / modulusAt(model(2, 0), 100)).toBeCloseTo(0.5, 2)
  })

  it('of given force does less the stiffer the spring', () => {
    // Motion of the payload per newton of the motor, below the resonance of the softest spring.
    const motion = [2, 4, 8, 16].map((frequency) =>
      gainAt(model(frequency, 0), 'actuatorNoise', 'payloadVelocity', 0.5),
    )
    motion.slice(1).forEach((value, k) => {
      // Twice the frequency is four times the stiffness.
      expect((motion[k] as number) / value).toBeGreaterThan(3.7)
    })
  })
})
