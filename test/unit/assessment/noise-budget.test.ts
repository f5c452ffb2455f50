import { describe, expect, it } from 'vitest'
import { noiseBudget } from '../../../src/assessment/index.js'
import { geophone, idealActuator } from '../../../src/elements/index.js'
import { activelyDampedIsolation, passiveIsolation } from '../../../src/isolation/index.js'
import { rms, type Spectrum, spectrum } from '../../../src/vibration/index.js'
import { refusal } from '../refusal.js'

/** Straight pieces in log-log hold to 1e-4 of a density. */
const pieces = 1e-4

const floor = spectrum({ quantity: 'velocity', frequency: [0.1, 100], amplitudeDensity: [1e-7, 1e-7] })
const white = (amplitude: number) => ({ frequency: [0.1, 100], amplitudeDensity: [amplitude, amplitude] })
// 1000 kg, 2 Hz, damping 0.03, active damping 0.7.
const payload = { mass: 1000 }
const mount = { stiffness: 157913.67041742973, damping: 753.9822368615503 }
const damping = {
  gain: 17592.9188601,
  sensor: { ...geophone({ naturalFrequency: 1e-5, dampingRatio: 0.7 }), noise: table(1e-8) },
  actuator: { ...idealActuator(), noise: table(1e-4) },
}
const active = activelyDampedIsolation({ payload, mount, damping })

function table(amplitude: number) {
  const { frequency, amplitudeDensity } = white(amplitude)
  return { frequency: Float64Array.from(frequency), amplitudeDensity: Float64Array.from(amplitudeDensity) }
}

function densityNear({ frequency, density }: Spectrum, place: number): number {
  const next = frequency.findIndex((entry) => entry >= place)
  const [f1, f2] = [frequency[next - 1] as number, frequency[next] as number]
  const [s1, s2] = [density[next - 1] as number, density[next] as number]
  return s1 * (s2 / s1) ** (Math.log(place / f1) / Math.log(f2 / f1))
}

describe('noiseBudget', () => {
  const budgetOf = () => noiseBudget(active, { floor })

  it.each([
    // Computed from the closed forms |T|² S, |g·s/Δ|² n², |s/Δ|² F² with Δ = m s² + (c + g) s + k.
    [0.5, 9.882364564872391e-15, 1.2103173377958639e-17, 3.910420447969391e-18],
    [2, 4.7082004128354305e-15, 9.194970913867522e-17, 2.970807833386242e-17],
    [20, 1.3580769630203626e-18, 1.9572285643528762e-18, 6.323619732105452e-19],
  ])(
    'at %f Hz has the floor, the sensor and the actuator of the closed form',
    (frequency, ground, sensor, actuator) => {
      const { contributions, total } = budgetOf()
      const found = [contributions.floor, contributions.sensorNoise, contributions.actuatorNoise].map((part) =>
        densityNear(part as Spectrum, frequency),
      )
      ;[ground, sensor, actuator].forEach((value, k) => {
        // The sensor's corner at 1e-5 Hz takes less than 1e-6.
        expect(Math.abs((found[k] as number) / value - 1)).toBeLessThan(pieces)
      })
      expect(Math.abs(densityNear(total, frequency) / (ground + sensor + actuator) - 1)).toBeLessThan(pieces)
    },
  )

  it('sums its mean squares from high to low frequencies', () => {
    // Computed by adaptive quadrature of the closed forms: 0.1 and 10 to 100 Hz, and the sensor alone.
    const { total, runningRms } = budgetOf()
    expect(Math.abs((runningRms.total[0] as number) / 1.4540102584842e-7 - 1)).toBeLessThan(pieces)
    const tail = rms(total, { from: 10, to: 100 })
    expect(Math.abs(tail / 1.2615439360089826e-8 - 1)).toBeLessThan(pieces)
    const sensor = runningRms.contributions.sensorNoise as Float64Array
    expect(Math.abs((sensor[0] as number) / 2.0344331375844645e-8 - 1)).toBeLessThan(pieces)
    expect(runningRms.total).toHaveLength(total.frequency.length)
    expect(runningRms.total[runningRms.total.length - 1]).toBe(0)
    expect(Array.from(runningRms.total.slice(1)).every((value, k) => value <= (runningRms.total[k] as number))).toBe(
      true,
    )
  })

  it('says from where on the controllers do harm', () => {
    // Computed by root search on the closed forms: 6.466620 Hz, up to the end of the tables.
    const { worseThanPassive } = budgetOf()
    expect(worseThanPassive).toHaveLength(1)
    const [[from, to]] = worseThanPassive as [[number, number]]
    expect(from).toBeCloseTo(6.46662, 3)
    expect(to).toBeCloseTo(100, 9)
  })

  it('names the noise that nobody has given, and covers what all tables cover', () => {
    const sensor = geophone({
      naturalFrequency: 0.1,
      dampingRatio: 0.7,
      noise: { ...white(1e-9), frequency: [0.5, 50] },
    })
    const found = noiseBudget(activelyDampedIsolation({ payload, mount, damping: { gain: 1e4, sensor } }), { floor })
    expect(found.unknown).toEqual(['actuatorNoise'])
    expect(Object.keys(found.contributions)).toEqual(['floor', 'sensorNoise'])
    for (const part of [found.total, ...Object.values(found.contributions)]) {
      expect(part.frequency[0]).toBe(0.5)
      expect(part.frequency[part.frequency.length - 1]).toBe(50)
    }
  })

  it('of a passive model has floor and force, and nothing worse', () => {
    const payloadForce = spectrum({ quantity: 'force', frequency: [0.1, 100], amplitudeDensity: [1e-3, 1e-3] })
    const found = noiseBudget(passiveIsolation({ payload, mount }), { floor, payloadForce })
    expect(Object.keys(found.contributions)).toEqual(['floor', 'payloadForce'])
    expect(found.worseThanPassive).toEqual([])
    expect(found.unknown).toEqual([])
  })

  it('refuses a model without a steady state', () => {
    const still = passiveIsolation({ payload, mount: { stiffness: 1e4 } })
    expect(refusal(() => noiseBudget(still, { floor })).code).toBe('unstable')
    expect(refusal(() => noiseBudget(active, { floor, noise: 1 } as never)).details.path).toBe('noise')
    expect(refusal(() => noiseBudget({} as never, { floor })).code).toBe('invalid-option')
  })
})
