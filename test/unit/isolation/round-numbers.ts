import { transferFunction } from '../../../src/systems/index.js'

/** Frequency [Hz] of so many radians per second. */
export const hertz = (omega: number) => omega / (2 * Math.PI)

/** 1/(s/omega + 1) with one input and one output. */
export const firstOrder = (omega: number) => transferFunction({ numerator: [omega], denominator: [1, omega] })
