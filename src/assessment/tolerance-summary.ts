import { fail, type Scope, within } from '../internal/check.js'
import { rankCorrelation } from './rank-correlation.js'
import type { Spread } from './tolerance.js'
import type { TrialResult } from './tolerance-trial.js'

/** Share of samples that pass, with the range that holds the true share in 95 of 100 studies. */
export interface Yield {
  readonly passed: number
  readonly samples: number
  readonly share: number
  readonly low: number
  readonly high: number
}

/** How far a value strays, over samples and corners; those ended by an error do not count. */
export interface ValueSpread {
  readonly least: number
  readonly largest: number
  /** Parameters at the least value */
  readonly atLeast: { readonly [name: string]: number }
  /** Parameters at the largest value */
  readonly atLargest: { readonly [name: string]: number }
}

/** Bounds of |T| per frequency. */
export interface Envelope {
  readonly frequency: Float64Array
  readonly nominal: Float64Array
  readonly low: Float64Array
  readonly high: Float64Array
}

/** How much a parameter has to do with a value. */
export interface Influence {
  readonly parameter: string
  /** Rank correlation, −1 to 1 */
  readonly correlation: number
}

/** Wilson's score interval at 95 %. */
export function yieldOf(drawn: readonly TrialResult[]): Yield {
  const samples = drawn.length
  const passed = drawn.filter(({ trial }) => trial.pass).length
  const share = passed / samples
  const z2 = 1.959963984540054 ** 2
  const centre = (share + z2 / (2 * samples)) / (1 + z2 / samples)
  const half = Math.sqrt(z2 * ((share * (1 - share)) / samples + z2 / (4 * samples ** 2))) / (1 + z2 / samples)
  return { passed, samples, share, low: passed === 0 ? 0 : centre - half, high: passed === samples ? 1 : centre + half }
}

export function valueSpreads(scope: Scope, results: readonly TrialResult[]): { [name: string]: ValueSpread } {
  const trials = results.map(({ trial }) => trial).filter(({ error }) => error === null)
  const names = Object.keys(trials[0]?.values ?? {})
  if (trials.some(({ values }) => Object.keys(values).join() !== names.join())) {
    fail('invalid-option', within(scope, 'evaluate'), 'must return values of the same names every time')
  }
  return Object.fromEntries(
    names.map((name) => {
      const sorted = [...trials].sort((a, b) => a.values[name] - b.values[name])
      const [first, last] = [sorted[0], sorted[sorted.length - 1]]
      const spread: ValueSpread = {
        least: first.values[name],
        largest: last.values[name],
        atLeast: first.parameters,
        atLargest: last.parameters,
      }
      return [name, spread]
    }),
  )
}

export function envelopeOf(scope: Scope, results: readonly TrialResult[]): Envelope | null {
  const first = results[0]
  if (first.magnitude === null || first.frequency === null) return null
  const low = Float64Array.from(first.magnitude)
  const high = Float64Array.from(first.magnitude)
  for (const { magnitude, frequency, trial } of results) {
    if (trial.error !== null) continue
    if (frequency?.length !== low.length || frequency.some((f, k) => f !== first.frequency?.[k])) {
      fail(
        'dimension-mismatch',
        within(scope, 'evaluate'),
        'must return the transmissibility on the same grid every time',
      )
    }
    magnitude?.forEach((value, k) => {
      low[k] = Math.min(low[k], value)
      high[k] = Math.max(high[k], value)
    })
  }
  return { frequency: Float64Array.from(first.frequency), nominal: Float64Array.from(first.magnitude), low, high }
}

export function influenceOf(
  spreads: readonly Spread[],
  drawn: readonly TrialResult[],
): { [value: string]: Influence[] } {
  const finished = drawn.filter(({ trial }) => trial.error === null)
  const names = Object.keys(finished[0]?.trial.values ?? {})
  const ranked = (results: readonly TrialResult[], value: (result: TrialResult) => number) =>
    spreads
      .flatMap(({ name }, k): Influence[] => {
        const correlation = rankCorrelation(
          results.map(({ positions }) => positions[k]),
          results.map(value),
        )
        return correlation === null ? [] : [{ parameter: name, correlation }]
      })
      .sort((a, b) => Math.abs(b.correlation) - Math.abs(a.correlation))
  return {
    ...Object.fromEntries(names.map((name) => [name, ranked(finished, ({ trial }) => trial.values[name])])),
    pass: ranked(drawn, ({ trial }) => Number(trial.pass)),
  }
}
