import { type CheckedPayload, dot } from '../elements/rigid-payload-options.js'
import type { Carrier } from '../elements/support-loads.js'
import { checkNumber, checkOneOf, checkOptional, checkOptions, fail, type Scope, within } from '../internal/check.js'
import { type Dense, zeros } from '../linear/dense.js'
import { symmetricEigen } from '../linear/symmetric-eigen.js'
import type { Source, Wire } from '../systems/diagram.js'
import { gain } from '../systems/gain.js'
import type { StateSpace } from '../systems/types.js'
import { delayed, type Fragment } from './inertial-path.js'
import type { ModelLimit, ModelLoop } from './model.js'
import { singleChannel } from './single-channel.js'
import type { LevellingOptions } from './suspension.js'

/** Valves between `mounts.height…` and `mounts.valve…`. */
export interface SixAxisLevelling extends Fragment {
  readonly loops: readonly ModelLoop[]
  readonly limits: readonly ModelLimit[]
}

/** Air springs that a valve feeds, valve by valve; refuses valves that work against each other. */
export function valvesOf(scope: Scope, payload: CheckedPayload, carriers: readonly Carrier[]): Carrier[] {
  const valves = carriers.filter(({ members }) => payload.supports[members[0].index].air !== null)
  if (valves.length === 0) fail('invalid-option', scope, 'needs an air spring under the payload')
  if (!areIndependent(valves)) {
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
  checkOptions(scope, options, ['kind', 'flowGain', 'deadBand', 'controller', 'delay'])
  if (options.kind !== undefined) checkOneOf(scope, 'kind', options.kind, ['LevellingValve'])
  const flowGain = checkNumber(scope, 'flowGain', options.flowGain, { unit: 'm³/s per m', above: 0 })
  const deadBand = checkOptional(scope, 'deadBand', options.deadBand, { unit: 'm', atLeast: 0 }, 0)
  const blocks: Record<string, StateSpace> = {}
  const wires: Record<string, Wire> = {}
  valves.forEach(({ members }, j) => {
    const name = `valve${j + 1}`
    const area = payload.supports[members[0].index].air?.area ?? 1
    blocks[name] = { ...gain(flowGain / area, { inputs: ['height'], outputs: ['velocity'] }), role: 'valve' }
    let height: Source = `mounts.height${j + 1}`
    if (options.controller !== undefined) {
      const controller = `heightController${j + 1}`
      blocks[controller] = singleChannel(within(scope, 'controller'), options.controller, 'height', 'signal')
      wires[`${controller}.height`] = height
      height = `${controller}.signal`
    }
    const late = delayed(scope, options.delay, `heightDelay${j + 1}`, height)
    Object.assign(blocks, late.blocks)
    Object.assign(wires, late.wires, { [`${name}.height`]: late.source, [`mounts.${name}`]: `${name}.velocity` })
  })
  return {
    blocks,
    wires,
    loops: valves.map((_, j) => ({ name: `levelling${j + 1}`, port: `valve${j + 1}.velocity` })),
    limits: deadBand > 0 ? [{ name: 'levellingDeadBand', output: null, value: deadBand, unit: 'm' }] : [],
  }
}

/** Whether heights at some places can be set one by one. */
function areIndependent(valves: readonly Carrier[]): boolean {
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
  const values = symmetricEigen(gram)?.values
  return values !== undefined && values[0] > 1e-9 * values[n - 1]
}
