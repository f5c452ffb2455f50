// The reaction of the moving stage, invented: force on the payload while the stage scans.
import { channel, frequencyResponse, logFrequencies, oneThirdOctaveBands } from 'restmass'

/** One-sided amplitude density of the reaction [N/√Hz] over frequency [Hz], straight lines in log-log. */
export const scanningStage = {
  frequency: [0.5, 1, 3, 10, 30, 120],
  amplitudeDensity: [0.02, 0.05, 0.1, 0.1, 0.05, 0.01],
}

/** Steps of 0.14 %, which resolves resonances with a damping ratio of 0.01 and more. */
const points = 4000

/** Band levels [m/s] of a payload that floor and stage shake at once, independent of each other.
 *
 * The reaction enters at `reactionForce`, the one input that a feedforward sees.
 */
export function bandsWhileScanning(model, floorOnly, stage) {
  const ports = { input: 'reactionForce', output: 'payloadVelocity' }
  const frequency = Array.from(logFrequencies({ from: stage.frequency[0], to: stage.frequency.at(-1), count: points }))
  const response = channel(
    frequencyResponse(model.closed, frequency, { inputs: [ports.input], outputs: [ports.output] }),
    ports,
  )
  const density = frequency.map((f, k) => {
    const size = Math.hypot(response.re[k], response.im[k]) * amplitudeDensityAt(stage, f)
    return size * size
  })
  const edges = { from: floorOnly.bands[0].nominal, to: floorOnly.bands.at(-1).nominal }
  const { bands } = oneThirdOctaveBands({ quantity: 'velocity', frequency, density, support: 'points' }, edges)
  return {
    ...floorOnly,
    bands: floorOnly.bands.map((band, k) => ({ ...band, rms: Math.hypot(band.rms, bands[k].rms) })),
  }
}

function amplitudeDensityAt({ frequency, amplitudeDensity }, f) {
  const k = Math.max(
    0,
    Math.min(
      frequency.length - 2,
      frequency.findLastIndex((corner) => corner <= f),
    ),
  )
  const share = Math.log(f / frequency[k]) / Math.log(frequency[k + 1] / frequency[k])
  return amplitudeDensity[k] * (amplitudeDensity[k + 1] / amplitudeDensity[k]) ** share
}
