import {
  checkGrid,
  checkNumber,
  checkNumbers,
  checkOptions,
  fail,
  type Scope,
  scopeOf,
  within,
} from '../internal/check.js'
import { mountRecord } from './check-mount.js'
import type { MountRecord } from './types.js'

/** Stiffness over static load, as measured or from a data sheet. */
export interface LoadTable {
  /** Static loads [N], ascending, at least two, at least 0 */
  readonly load: readonly number[] | Float64Array
  /** Slope of the force over the deflection at each load, in vibration [N/m] */
  readonly stiffness: readonly number[] | Float64Array
  /** Dashpot at each load [N·s/m]. @defaultValue 0 */
  readonly damping?: readonly number[] | Float64Array
}

/** Options of {@link mountAtLoad}. */
export interface MountAtLoadOptions {
  /** What one mount carries [N], within the tables */
  readonly load: number
  /** Along the load */
  readonly table: LoadTable
  /** Across the load, over the same static load. @defaultValue not known */
  readonly lateral?: LoadTable
}

/** Mount whose stiffness, along and across, depends on what it carries: its linear form at one load.
 *
 * Straight lines between the rows, so that no value lies outside of its two neighbours. A load beyond a table is refused: what a
 * mount does there is not known, and an overloaded one may buckle or bottom out. The `lateral` of any other mount can be
 * made here as well.
 * @param options - see {@link MountAtLoadOptions}
 * @returns the mount at that load
 * @throws {@link IsolationError} `out-of-range` for a load outside a table, `invalid-option`, `dimension-mismatch`,
 * `not-finite`
 * @source derived: linear interpolation
 * @example
 * import { mountAtLoad } from 'restmass'
 * const table = { load: [500, 1000], stiffness: [2e5, 3e5] }
 * mountAtLoad({ load: 600, table }).stiffness // 220000
 */
export function mountAtLoad(options: MountAtLoadOptions): MountRecord {
  const scope = scopeOf('mountAtLoad')
  checkOptions(scope, options, ['load', 'table', 'lateral'])
  const load = checkNumber(scope, 'load', options.load, { unit: 'N', atLeast: 0 })
  const mount = atLoad(scope, 'table', options.table, load)
  if (options.lateral === undefined) return mount
  return { ...mount, lateral: atLoad(scope, 'lateral', options.lateral, load) }
}

function atLoad(scope: Scope, key: string, table: LoadTable, load: number): MountRecord {
  const at = within(scope, key)
  checkOptions(at, table, ['load', 'stiffness', 'damping'])
  const loads = checkGrid(at, 'load', table.load, { unit: 'N', atLeast: 0 })
  const last = loads.length - 1
  if (last < 1) fail('invalid-option', within(at, 'load'), 'must have at least two entries')
  checkNumber(scope, 'load', load, { unit: 'N', atLeast: loads[0], atMost: loads[last] })
  const above = Math.max(
    1,
    loads.findIndex((value) => value >= load),
  )
  const share = (load - loads[above - 1]) / (loads[above] - loads[above - 1])
  const read = (column: 'stiffness' | 'damping', unit: string) => {
    const values = checkNumbers(at, column, table[column], { unit })
    if (values.length !== loads.length) {
      fail(
        'dimension-mismatch',
        within(at, column),
        `must have ${loads.length} entries like load, got ${values.length}`,
      )
    }
    return values[above - 1] * (1 - share) + values[above] * share
  }
  const damping = table.damping === undefined ? 0 : read('damping', 'N·s/m')
  return mountRecord(at, { stiffness: read('stiffness', 'N/m'), damping, relaxations: [] })
}
