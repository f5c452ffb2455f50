import { boltzmann } from '../internal/constants.js'
import type { InstrumentNoise } from './types.js'

/** A suspended coil with its load and amplifier, in SI units. */
export interface CoilCircuit {
  readonly frequency: number
  /** Damping ratio without a load */
  readonly open: number
  readonly mass: number
  /** Voltage per velocity */
  readonly G: number
  readonly coil: number
  /** Infinity for an open circuit */
  readonly load: number
  readonly temperature: number
  readonly voltage: number
  readonly current: number
}

const perDecade = 48

/** Noise of the signal [(m/s)/√Hz]: the voltage at the load over the loaded voltage per velocity. */
export function coilNoise(circuit: CoilCircuit): InstrumentNoise {
  const frequency = Float64Array.from(
    { length: 5 * perDecade + 1 },
    (_, k) => circuit.frequency * 10 ** (k / perDecade - 2),
  )
  const { temperature, voltage, current, G, coil, load } = circuit
  const perVelocity = G / (1 + coil / load)
  const amplitudeDensity = frequency.map((place) => {
    const { re, im } = impedance(circuit, place / circuit.frequency)
    const square = 4 * boltzmann * temperature * re + voltage ** 2 + current ** 2 * (re * re + im * im)
    return Math.sqrt(square) / perVelocity
  })
  return { frequency, amplitudeDensity }
}

/** Impedance seen by the amplifier at r natural frequencies. */
function impedance({ frequency, open, mass, G, coil, load }: CoilCircuit, r: number): { re: number; im: number } {
  // Motional part G²/(mω₀) · jr/(1 − r² + 2jζ₀r).
  const [a, b] = [1 - r * r, 2 * open * r]
  const scale = (G ** 2 / (2 * Math.PI * frequency * mass)) * (r / (a * a + b * b))
  const re = coil + scale * b
  const im = scale * a
  if (load === Infinity) return { re, im }
  // Z·R/(Z + R)
  const size = (re + load) ** 2 + im ** 2
  return { re: (load * (re * (re + load) + im * im)) / size, im: (load * load * im) / size }
}
