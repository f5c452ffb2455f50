import { type IsolationModel, transmissibility } from '../../../src/isolation/index.js'
import { channel, frequencyResponse, magnitude, phaseDegrees } from '../../../src/systems/index.js'

/** |T| of a model at one frequency [Hz]. */
export function modulusAt(model: IsolationModel, frequency: number): number {
  return magnitude(transmissibility(model, [frequency]))[0] as number
}

/** Phase of T [degrees] at one frequency [Hz], between −180 and 180. */
export function degreesAt(model: IsolationModel, frequency: number): number {
  return phaseDegrees(transmissibility(model, [frequency]))[0] as number
}

/** One channel of the closed model at one frequency [Hz]. */
export function channelAt(model: IsolationModel, input: string, output: string, frequency: number) {
  const series = channel(frequencyResponse(model.closed, [frequency], { inputs: [input], outputs: [output] }), {
    input,
    output,
  })
  return { re: series.re[0] as number, im: series.im[0] as number }
}

/** Modulus of one channel of the closed model at one frequency [Hz]. */
export function gainAt(model: IsolationModel, input: string, output: string, frequency: number): number {
  const { re, im } = channelAt(model, input, output, frequency)
  return Math.hypot(re, im)
}
