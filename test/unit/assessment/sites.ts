import { springMount } from '../../../src/elements/index.js'
import { type IsolationModel, passiveIsolation } from '../../../src/isolation/index.js'
import type { Spectrum } from '../../../src/vibration/index.js'
import { spectrum } from '../../../src/vibration/index.js'

/** A floor of constant velocity density [(m/s)²/Hz] between two frequencies [Hz]. */
export function flatFloor(density: number, from: number, to: number): Spectrum {
  return spectrum({ quantity: 'velocity', frequency: [from, to], density: [density, density] })
}

/** One kilogram on spring and dashpot. */
export function voigt(naturalFrequency: number, dampingRatio: number): IsolationModel {
  return passiveIsolation({ payload: { mass: 1 }, mount: springMount({ mass: 1, naturalFrequency, dampingRatio }) })
}
