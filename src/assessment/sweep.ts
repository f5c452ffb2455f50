import {
  checkFunction,
  checkList,
  checkNumber,
  checkOptions,
  fail,
  type Scope,
  scopeOf,
  show,
  within,
} from '../internal/check.js'
import { isIsolationError } from '../internal/errors.js'
import { gridOf, type PointList, type SweepParameters } from './sweep-grid.js'

/** One design point of a sweep: what was tried and what came of it. */
export interface SweepRow<P = Readonly<Record<string, unknown>>, R = Readonly<Record<string, unknown>>> {
  /** Number of the point in the whole sweep, from 0 */
  readonly index: number
  readonly parameters: P
  /** What `evaluate` returned; null where it threw */
  readonly result: R | null
  /** Why there is no result; null where there is one */
  readonly error: SweepError | null
}

/** Why a point of a sweep has no result. */
export interface SweepError {
  /** Code of an error of this package; null for any other error */
  readonly code: string | null
  readonly message: string
}

/** Rows of a sweep or of one shard of it, by index. */
export interface SweepResult<P = Readonly<Record<string, unknown>>, R = Readonly<Record<string, unknown>>> {
  readonly kind: 'SweepResult'
  /** Number of points of the whole sweep */
  readonly total: number
  readonly rows: readonly SweepRow<P, R>[]
  /** Number of rows without a result */
  readonly failed: number
}

/** Which part of a sweep one process works on. */
export interface Shard {
  /** From 0 to count − 1 */
  readonly index: number
  /** Number of processes, 1 or more */
  readonly count: number
}

/** How far a sweep has come. */
export interface SweepProgress<P, R> {
  /** Points of this shard that are finished */
  readonly done: number
  /** Points of this shard */
  readonly total: number
  /** The row just finished, to be kept for `resume` */
  readonly row: SweepRow<P, R>
}

/** Options of {@link sweep}. */
export interface SweepOptions<P, R> {
  /** A list of values per parameter, for every combination of them; or a list of points */
  readonly parameters: SweepParameters<P>
  /** A flat record of numbers, texts, truth values and nulls for one point */
  readonly evaluate: (parameters: P) => R
  /** Which points to work on: those whose index leaves `index` when divided by `count`. @defaultValue all */
  readonly shard?: Shard
  /** Rows of an earlier run of the same sweep; kept, not evaluated again. @defaultValue none */
  readonly resume?: readonly SweepRow<P, R>[]
  /** Called after every point that was evaluated. @defaultValue nothing */
  readonly onProgress?: (progress: SweepProgress<P, R>) => void
}

/** One row per design point of a grid or list, in an order that does not depend on how the work was shared out.
 *
 * A grid runs through all combinations, the last parameter fastest. Point k belongs to the shard k mod count, so that
 * neighbours, which cost alike, go to different processes; {@link mergeSweeps} joins shards. A point where `evaluate`
 * throws, or returns NaN, is a row with `error`, and the sweep goes on.
 * @param options - see {@link SweepOptions}
 * @returns rows in ascending index
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `dimension-mismatch` for a row to resume of another sweep
 * @source common practice, no source
 * @example
 * import { naturalFrequency, sweep } from 'restmass'
 * const { rows } = sweep({
 *   parameters: { mass: [100, 400], stiffness: [1e4, 4e4] },
 *   evaluate: (point) => ({ frequency: naturalFrequency(point) }),
 * })
 * rows.map(({ result }) => result?.frequency.toFixed(3)) // ['1.592', '3.183', '0.796', '1.592']
 */
export function sweep<P extends object, R extends object>(options: SweepOptions<P, R>): SweepResult<P, R> {
  const scope = scopeOf('sweep')
  checkOptions(scope, options, ['parameters', 'evaluate', 'shard', 'resume', 'onProgress'])
  const points = gridOf<P>(within(scope, 'parameters'), options.parameters)
  checkFunction(scope, 'evaluate', options.evaluate)
  if (options.onProgress !== undefined) checkFunction(scope, 'onProgress', options.onProgress)
  const { index: first, count } = shardOf(scope, options.shard)
  const kept = keptRows(scope, points, options.resume ?? [])
  const total = Math.ceil((points.total - first) / count)
  const rows: SweepRow<P, R>[] = []
  for (let index = first; index < points.total; index += count) {
    const row = kept.get(index) ?? evaluated(index, points.at(index), options.evaluate)
    rows.push(row)
    if (!kept.has(index)) options.onProgress?.({ done: rows.length, total, row })
  }
  return sweepResult(points.total, rows)
}

/** A result of rows in ascending index. */
export function sweepResult<P, R>(total: number, rows: readonly SweepRow<P, R>[]): SweepResult<P, R> {
  return { kind: 'SweepResult', total, rows, failed: rows.filter(({ error }) => error !== null).length }
}

/** The number of the point that a row is of. */
export function checkedIndex(scope: Scope, row: SweepRow<unknown, unknown> | undefined, total: number): number {
  return checkNumber(scope, 'index', row?.index, { integer: true, atLeast: 0, below: total })
}

function shardOf(scope: Scope, shard: Shard = { index: 0, count: 1 }): Shard {
  const inner = within(scope, 'shard')
  checkOptions(inner, shard, ['index', 'count'])
  const count = checkNumber(inner, 'count', shard.count, { integer: true, atLeast: 1 })
  return { index: checkNumber(inner, 'index', shard.index, { integer: true, atLeast: 0, below: count }), count }
}

function keptRows<P, R>(
  scope: Scope,
  points: PointList<P>,
  rows: readonly SweepRow<P, R>[],
): Map<number, SweepRow<P, R>> {
  const inner = within(scope, 'resume')
  return new Map(
    checkList(scope, 'resume', rows, 0, Infinity).map((row, k) => {
      const index = checkedIndex(within(inner, k), row, points.total)
      const same = JSON.stringify(row.parameters) === JSON.stringify(points.at(index))
      if (!same) fail('dimension-mismatch', within(inner, k), `has other parameters than point ${index} of this sweep`)
      return [index, row]
    }),
  )
}

function evaluated<P, R extends object>(index: number, parameters: P, evaluate: (point: P) => R): SweepRow<P, R> {
  try {
    const result = evaluate(parameters)
    const wrong = unfit(result)
    return wrong === null
      ? { index, parameters, result, error: null }
      : { index, parameters, result: null, error: { code: wrong.code, message: wrong.message } }
  } catch (error) {
    const code = isIsolationError(error) ? error.code : null
    return {
      index,
      parameters,
      result: null,
      error: { code, message: error instanceof Error ? error.message : show(error) },
    }
  }
}

/** Why a result cannot stand in a row; null if it can. */
function unfit(result: unknown): SweepError | null {
  if (typeof result !== 'object' || result === null || Array.isArray(result) || ArrayBuffer.isView(result)) {
    return { code: 'invalid-option', message: `sweep: evaluate must return a record, got ${show(result)}` }
  }
  for (const [key, value] of Object.entries(result)) {
    if (Number.isNaN(value)) return { code: 'not-finite', message: `sweep: evaluate returned NaN as ${key}` }
    if (value !== null && !['number', 'string', 'boolean'].includes(typeof value)) {
      return { code: 'invalid-option', message: `sweep: evaluate returned ${show(value)} as ${key}` }
    }
  }
  return null
}
