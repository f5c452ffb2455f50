import type { Scope } from '../internal/check.js'
import { finiteResult } from '../internal/finite-result.js'
import { inRatio, logLogBetween, logRatio } from '../internal/log-ratio.js'
import { channel } from '../systems/channel.js'
import { frequencyResponse } from '../systems/frequency-response.js'
import { magnitude } from '../systems/series-values.js'
import type { StateSpace } from '../systems/types.js'
import type { InstrumentNoise, MotionQuantity } from './types.js'

/** Points per decade that keep the straight pieces within 0.2 % of a second-order corner of damping 0.5 or more. */
const density = 64

/** How many times a motion has been differentiated: |motion| = ω^order · |displacement|. */
const order: Readonly<Record<MotionQuantity, number>> = { displacement: 0, velocity: 1, acceleration: 2 }

/** The table with each density multiplied by a factor, so finely divided that straight pieces in log-log follow it. */
export function shapedNoise(
  scope: Scope,
  noise: InstrumentNoise,
  factors: (frequency: Float64Array) => ArrayLike<number>,
): InstrumentNoise {
  const frequency = divided(noise.frequency)
  const factor = factors(frequency)
  return finiteNoise(scope, { frequency, amplitudeDensity: frequency.map((at, k) => densityAt(noise, at) * factor[k]) })
}

/** The table, refused where it left the range of numbers. */
export function finiteNoise(scope: Scope, noise: InstrumentNoise): InstrumentNoise {
  for (const value of noise.amplitudeDensity) finiteResult(scope, 'noise density', value)
  return noise
}

/** |output/input| of a block with one of each. */
export function gains(block: StateSpace, frequency: Float64Array): Float64Array {
  return magnitude(channel(frequencyResponse(block, frequency), { input: block.inputs[0], output: block.outputs[0] }))
}

/** Factors that turn an amplitude density of one kind of motion into that of another. */
export function motionFactors(frequency: Float64Array, from: MotionQuantity, to: MotionQuantity): Float64Array {
  return frequency.map((place) => (2 * Math.PI * place) ** (order[to] - order[from]))
}

/** Density between the entries of a table: straight in log-log, straight where an entry is 0. */
export function densityAt({ frequency, amplitudeDensity }: InstrumentNoise, place: number): number {
  const next = frequency.findIndex((entry) => entry >= place)
  if (frequency[next] === place) return amplitudeDensity[next]
  const [a, b] = [amplitudeDensity[next - 1], amplitudeDensity[next]]
  const [from, to] = [frequency[next - 1], frequency[next]]
  if (a > 0 && b > 0) return logLogBetween(place, from, a, to, b)
  return a + ((b - a) * (place - from)) / (to - from)
}

function divided(frequency: Float64Array): Float64Array {
  const places = [frequency[0]]
  for (let k = 1; k < frequency.length; k++) {
    const [from, to] = [frequency[k - 1], frequency[k]]
    const parts = Math.max(1, Math.ceil((logRatio(to, from) / Math.LN10) * density))
    for (let j = 1; j < parts; j++) places.push(inRatio(from, to, j / parts))
    places.push(to)
  }
  return Float64Array.from(places)
}
