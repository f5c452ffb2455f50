import type { CheckedPayload } from '../elements/rigid-payload-options.js'
import type { Carrier } from '../elements/support-loads.js'
import type { AirSpring } from '../elements/types.js'
import { dot } from '../elements/vectors.js'
import { fail, type Scope } from '../internal/check.js'
import { type Dense, zeros } from '../linear/dense.js'
import { symmetricEigen } from '../linear/symmetric-eigen.js'
import type { Source } from '../systems/diagram.js'
import type { Fragment } from './inertial-path.js'
import { heightPath, type LevellingOptions } from './levelling.js'
import type { ModelLimit, ModelLoop } from './model.js'

/** Valves between `mounts.height…` and `mounts.valve…`. */
export interface SixAxisLevelling extends Fragment {
  readonly loops: readonly ModelLoop[]
  readonly limits: readonly ModelLimit[]
}

/** Air springs that a valve feeds, valve by valve; refuses valves that work against each other. */
export function valvesOf(scope: Scope, payload: CheckedPayload, carriers: readonly Carrier[]): Carrier[] {
  const valves = carriers.filter(({ members }) => payload.supports[members[0].index].air !== null)
  if (valves.length === 0) fail('invalid-option', scope, 'needs an air spring under the payload')
  if (!areIndependent(scope, valves)) {
    const what =
      'would have valves that work against each other: at most three points not in line; give supports a common valveGroup'
    fail('invalid-option', scope, what, { value: valves.length, allowed: 'at most 3 independent valves' })
  }
  return valves
}

/** One valve per carrier: a volume flow into each of its springs in proportion to the height error there. */
export function sixAxisLevelling(
  scope: Scope,
  options: LevellingOptions,
  payload: CheckedPayload,
  valves: readonly Carrier[],
): SixAxisLevelling {
  const paths = valves.map(({ members }, j) => {
    const { area } = payload.supports[members[0].index].air as AirSpring
    return heightPath(scope, options, area, `mounts.height${j + 1}`, `${j + 1}`)
  })
  const fed = valves.map((_, j): Record<string, Source> => ({ [`mounts.valve${j + 1}`]: `valve${j + 1}.velocity` }))
  return {
    blocks: Object.assign({}, ...paths.map(({ blocks }) => blocks)),
    wires: Object.assign({}, ...paths.map(({ wires }) => wires), ...fed),
    loops: valves.map((_, j) => ({ name: `levelling${j + 1}`, port: `valve${j + 1}.velocity` })),
    limits: paths[0].limits,
  }
}

/** Whether heights at some places can be set one by one. */
function areIndependent(scope: Scope, valves: readonly Carrier[]): boolean {
  const n = valves.length
  if (n > 3) return false
  const middle = [0, 1].map((k) => valves.reduce((sum, { place }) => sum + place[k] / n, 0))
  const reach = Math.max(...valves.map(({ place }) => Math.hypot(place[0] - middle[0], place[1] - middle[1]))) || 1
  const levers = valves.map(({ place }) => [1, (place[0] - middle[0]) / reach, (place[1] - middle[1]) / reach])
  const gram: Dense = zeros(n, n)
  levers.forEach((lever, i) => {
    levers.forEach((other, j) => {
      gram.data[i * n + j] = dot(lever, other)
    })
  })
  const { values } = symmetricEigen(scope, gram)
  return values[0] > 1e-9 * values[n - 1]
}
