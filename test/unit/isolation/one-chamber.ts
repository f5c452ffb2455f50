import { type AirSpring, airSpring, standardGravity } from '../../../src/elements/index.js'

/** One chamber under a mass [kg], natural frequency [Hz] and damping ratio of the diaphragm as asked for. */
export function oneChamber(frequency: number, dampingRatio: number, mass = 1000, extra: object = {}) {
  const omega = 2 * Math.PI * frequency
  const area = 0.04
  const load = mass * standardGravity
  const volume = (1.4 * (load / area + 101325) * area ** 2) / (mass * omega ** 2)
  const diaphragmDamping = 2 * dampingRatio * mass * omega
  const mount: AirSpring = airSpring({ area, volume, load, diaphragmDamping, ...extra })
  /** Flow gain for a levelling rate κ [1/s] */
  return { payload: { mass }, mount, flowGain: (rate: number) => rate * area }
}
