import { checkList, checkNumber, fail, scopeOf, show, within } from '../internal/check.js'
import { checkedIndex, type SweepResult, type SweepRow, sweepResult } from './sweep.js'

/** The shards of one sweep joined, as if a single process had done all of it.
 *
 * @param shards - results of `sweep` with the same parameters, in any order, that together hold every point once
 * @returns all rows in ascending index, equal to those of an undivided run
 * @throws {@link IsolationError} `invalid-option` where a point is missing or stands in two shards, `dimension-mismatch`
 * for shards of sweeps of different size
 * @source common practice, no source
 * @example
 * import { mergeSweeps, sweep } from 'restmass'
 * const parameters = { x: [1, 2, 3] }
 * const part = (index: number) => sweep({ parameters, evaluate: ({ x }) => ({ y: x * x }), shard: { index, count: 2 } })
 * mergeSweeps([part(1), part(0)]).rows.map(({ result }) => result?.y) // [1, 4, 9]
 */
export function mergeSweeps<P, R>(shards: readonly SweepResult<P, R>[]): SweepResult<P, R> {
  const scope = scopeOf('mergeSweeps')
  if (!Array.isArray(shards) || shards.length === 0) {
    fail('invalid-option', scope, `needs a list of sweep results, got ${show(shards)}`)
  }
  const total = checkNumber(within(scope, 0), 'total', shards[0]?.total, { integer: true, atLeast: 0 })
  const rows: SweepRow<P, R>[] = []
  Array.from(shards).forEach((shard, k) => {
    if (shard?.kind !== 'SweepResult') fail('invalid-option', within(scope, k), 'must be a result of sweep')
    const points = checkNumber(within(scope, k), 'total', shard.total, { integer: true, atLeast: 0 })
    if (points !== total) fail('dimension-mismatch', within(scope, k), `has ${points} points, not ${total}`)
    for (const row of checkList<SweepRow<P, R>>(within(scope, k), 'rows', shard.rows, 0, Infinity)) {
      const index = checkedIndex(within(within(scope, k), 'rows'), row, total)
      if (rows[index] !== undefined) fail('invalid-option', within(scope, k), `repeats point ${index}`)
      rows[index] = row
    }
  })
  for (let index = 0; index < total; index++) {
    if (rows[index] === undefined) fail('invalid-option', scope, `no shard holds point ${index}`)
  }
  return sweepResult(total, rows)
}
