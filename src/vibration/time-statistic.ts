import { checkNumber, checkOneOf, fail, type Scope, within } from '../internal/check.js'
import { shareRange } from './check.js'
import { statistics } from './level-statistics.js'
import type { LevelStatistic } from './types.js'

/** Which level stands for many. */
export interface TimeStatisticOptions {
  /** `'average'`: mean of the squares; `'median'`: exceeded half of the time; `'maximum'`: the largest block; `'percentile'`: see
   * `exceeded`. @defaultValue `'average'` */
  readonly statistic?: LevelStatistic
  /** Share of the time [%] for which the level is exceeded, 0 to 100: 10 for L10. Needed for, and only for, `'percentile'`. */
  readonly exceeded?: number
}

/** A checked statistic, and what it makes of a list of squares, which it sorts in place. */
export interface TimeStatistic {
  readonly statistic: LevelStatistic
  readonly exceeded: number | null
  readonly of: (squares: Float64Array) => number
}

/** Checks which statistic is wanted. */
export function timeStatistic(scope: Scope, options: TimeStatisticOptions): TimeStatistic {
  const { exceeded } = options
  const statistic =
    options.statistic === undefined ? 'average' : checkOneOf(scope, 'statistic', options.statistic, statistics)
  if (exceeded !== undefined && statistic !== 'percentile') {
    fail('invalid-option', within(scope, 'exceeded'), `belongs to the statistic 'percentile', not to '${statistic}'`)
  }
  if (statistic === 'average') {
    return {
      statistic,
      exceeded: null,
      of: (squares) => squares.reduce((sum, value) => sum + value / squares.length, 0),
    }
  }
  const percentile = statistic === 'percentile'
  const share = percentile ? checkNumber(scope, 'exceeded', exceeded, shareRange) : 50
  const rank = statistic === 'maximum' ? 1 : 1 - share / 100
  return { statistic, exceeded: percentile ? share : null, of: (squares) => quantile(squares.sort(), rank) }
}

/** Value at a rank from 0 (smallest) to 1 (largest), straight between neighbours. */
function quantile(sorted: Float64Array, rank: number): number {
  const place = rank * (sorted.length - 1)
  const below = Math.floor(place)
  const above = Math.min(below + 1, sorted.length - 1)
  return sorted[below] + (place - below) * (sorted[above] - sorted[below])
}
