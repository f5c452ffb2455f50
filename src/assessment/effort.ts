import type { Scope } from '../internal/check.js'
import type { IsolationModel, ModelLimit } from '../isolation/model.js'
import { angularFrequency } from '../systems/frequency-response.js'
import type { StateSpace } from '../systems/types.js'
import { rms } from '../vibration/rms.js'
import { type Drive, predictedDensity } from './predicted-density.js'

/** What is asked of an actuator under the predicted vibration, a record and the moves of a site, held against its bound. */
export interface Effort {
  /** Which bound, such as `actuatorExpansion` */
  readonly name: string
  /** Output of the model that it is taken from */
  readonly output: string
  /** What of the output; `'rms'` counts over long times, since a coil grows hot by it */
  readonly of: 'value' | 'rate' | 'rms'
  /** Root mean square under the spectra; null without any */
  readonly rms: number | null
  /** Largest value during the record, or the rms over it; null without */
  readonly inRecord: number | null
  /** Largest value during the moves, or the rms over them; null without */
  readonly inMoves: number | null
  /** Three times the rms, which a Gaussian signal exceeds in 0.3 % of the time, with what record and moves need on top; where
   * the rms is bounded, that of all together */
  readonly peak: number
  /** null where none is known */
  readonly limit: number | null
  /** Limit over peak, Infinity where nothing is needed; null without limit */
  readonly headroom: number | null
  /** N, m or A, per second for a rate */
  readonly unit: string
}

/** Largest value and rate of an output and its rms, or the rms of all three in a steady state. */
export type Extent = { readonly [of in Effort['of']]: number }

/** Extents by output; null where that load is not there. */
export type Extents = ReadonlyMap<string, Extent> | null

/** An effort that is asked for. */
export type Wanted = Pick<Effort, 'name' | 'output' | 'of' | 'limit' | 'unit'>

/** Every output of a model that has a bound. */
export function boundedOf({ limits }: Pick<IsolationModel, 'limits'>): (Wanted & { readonly limit: number })[] {
  return limits.flatMap(({ name, output, of, value, unit }: ModelLimit) =>
    output === null ? [] : [{ name, output, of: of ?? 'value', limit: value, unit }],
  )
}

/** An effort with a bound to hold it against. */
export type BoundedEffort = Effort & { readonly limit: number }

/** Effort of every actuator that has a bound, under independent drives. */
export function effortOf(
  scope: Scope,
  model: IsolationModel,
  drives: readonly Drive[],
  inMoves: Extents,
): BoundedEffort[] {
  const wanted = boundedOf(model)
  const steady = steadyExtents(scope, model.closed, wanted, drives)
  return wanted.map((each) => effort(each, steady, null, inMoves))
}

/** Root mean square of outputs and of their rates under independent drives. */
export function steadyExtents(
  scope: Scope,
  closed: StateSpace,
  wanted: readonly Pick<Wanted, 'output'>[],
  drives: readonly Drive[],
): Map<string, Extent> {
  const outputs = [...new Set(wanted.map(({ output }) => output))]
  return new Map(
    outputs.map((output) => {
      const { frequency, density } = predictedDensity(scope, closed, output, drives)
      const level = (shown: Float64Array) =>
        rms({ kind: 'Spectrum', quantity: 'unspecified', frequency, density: shown, support: 'points' })
      const value = level(density)
      return [
        output,
        { value, rate: level(density.map((each, k) => each * angularFrequency(frequency[k]) ** 2)), rms: value },
      ]
    }),
  )
}

export function effort<W extends Wanted>(wanted: W, steady: Extents, record: Extents, moves: Extents): Effort & W {
  const { output, of, limit } = wanted
  const [rms, inRecord, inMoves] = [steady, record, moves].map((each) => each?.get(output)?.[of] ?? null)
  const [vibration, shaken, moved] = [rms, inRecord, inMoves].map((value) => value ?? 0)
  const peak = of === 'rms' ? Math.hypot(vibration, shaken, moved) : 3 * vibration + shaken + moved
  return { ...wanted, rms, inRecord, inMoves, peak, headroom: limit === null ? null : limit / peak }
}

/** What a series of samples and its peaks come to; the rms as if all of it came once every `over` seconds. */
export function extentOf(
  values: Float64Array,
  { value, rate, sampleTime, over }: { value: number; rate: number; sampleTime: number; over: number },
): Extent {
  let square = 0
  for (let k = 1; k < values.length; k++) square += (values[k] ** 2 + values[k - 1] ** 2) / 2
  return { value, rate, rms: Math.sqrt((square * sampleTime) / over) }
}

/** The largest of each over several loads that do not meet. */
export function largestExtents(all: readonly ReadonlyMap<string, Extent>[]): Map<string, Extent> {
  const largest = new Map<string, Extent>()
  for (const [output, extent] of all.flatMap((each) => [...each])) {
    const { value, rate, rms } = largest.get(output) ?? { value: 0, rate: 0, rms: 0 }
    largest.set(output, {
      value: Math.max(value, extent.value),
      rate: Math.max(rate, extent.rate),
      rms: Math.max(rms, extent.rms),
    })
  }
  return largest
}
