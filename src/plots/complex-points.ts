import { checkNumbers, checkOneOf, fail, type Scope, show, within } from '../internal/check.js'
import type { ComplexSeries } from '../systems/types.js'
import type { TransferEstimate } from '../vibration/types.js'
import { type NamedResult, namedResults } from './named-results.js'

/** Something complex over frequency: computed, or estimated from records. */
export type ComplexResult = ComplexSeries | TransferEstimate

/** One sample of a complex result. */
export interface ComplexPoint {
  readonly frequency: number
  readonly re: number
  readonly im: number
  /** Relative standard deviation of an estimate; null where there is no finite one. */
  readonly error: number | null
}

/** Samples of complex results by name, all numbers or ±Infinity. */
export function complexPoints(
  scope: Scope,
  results: ComplexResult | Readonly<Record<string, ComplexResult>>,
): (NamedResult<ComplexResult> & { readonly points: readonly ComplexPoint[] })[] {
  return namedResults(scope, results, isComplex).map((named) => ({ ...named, points: pointsOf(named) }))
}

function isComplex(value: object): boolean {
  return ['ComplexSeries', 'TransferEstimate'].includes((value as { kind?: string }).kind ?? '')
}

function pointsOf({ scope, result }: NamedResult<ComplexResult>): ComplexPoint[] {
  if (typeof result !== 'object' || result === null) {
    fail('invalid-option', scope, `must be a ComplexSeries or a TransferEstimate, got ${show(result)}`)
  }
  checkOneOf(scope, 'kind', result.kind, ['ComplexSeries', 'TransferEstimate'])
  const frequency = checkNumbers(scope, 'frequency', result.frequency, { unit: 'Hz', atLeast: 0 })
  return Array.from(frequency, (f, k) => ({
    frequency: f,
    re: sample(scope, 're', result.re, frequency.length, k),
    im: sample(scope, 'im', result.im, frequency.length, k),
    error: finite((result as Partial<TransferEstimate>).randomError?.[k]),
  }))
}

function finite(error: number | undefined): number | null {
  return error !== undefined && Number.isFinite(error) ? error : null
}

function sample(scope: Scope, key: string, list: unknown, length: number, k: number): number {
  const values = list as ArrayLike<number>
  if (values?.length !== length) {
    fail('dimension-mismatch', within(scope, key), `must have ${length} entries like frequency, got ${values?.length}`)
  }
  const value: unknown = values[k]
  if (typeof value === 'number' && !Number.isNaN(value)) return value
  return fail('not-finite', within(within(scope, key), k), `must be a number, got ${show(value)}`)
}
