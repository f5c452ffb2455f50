import { checkAirSpring, checkMount } from '../elements/check-mount.js'
import { surgeModes } from '../elements/surge-modes.js'
import type { AirSpring, Mount } from '../elements/types.js'
import { checkOptional, fail, type Scope, show, within } from '../internal/check.js'
import { standardGravity } from '../internal/constants.js'
import type { Source, Wire } from '../systems/diagram.js'
import type { StateSpace } from '../systems/types.js'
import { unsigned } from '../systems/wire-sources.js'
import { heightPath, type LevellingOptions } from './levelling.js'
import type { ModelLimit, ModelLoop } from './model.js'
import { surgeBlock } from './surge-block.js'

/** Mounts under a payload, as options of a concept. */
export interface SuspensionOptions {
  readonly mount: Mount
  readonly count?: number
  readonly levelling?: LevellingOptions
}

/** The part of a diagram that carries the payload. */
export interface Suspension {
  readonly blocks: Record<string, StateSpace>
  readonly wires: Record<string, Wire>
  /** Upper minus lower body [m] */
  readonly stretch: Source
  /** Sum of these pulls the payload down [N] */
  readonly tension: readonly Source[]
  /** Sum of these pulls the lower body up [N]; the same unless the mount has a mass of its own. */
  readonly lowerTension: readonly Source[]
  readonly loops: readonly ModelLoop[]
  readonly limits: readonly ModelLimit[]
  /** Static stiffness of all mounts together in the vibration model [N/m] */
  readonly stiffness: number
}

/** Mounts between two bodies whose velocities are given, carrying `weight` kilograms. */
export function suspension(
  scope: Scope,
  options: SuspensionOptions,
  weight: number,
  motion: readonly Source[],
): Suspension {
  const count = checkOptional(scope, 'count', options.count, { above: 0, atMost: 1e6 }, 1)
  const mount = checkMount(within(scope, 'mount'), options.mount, 'surge-kept')
  const stiffness = count * mount.stiffness
  if (!(stiffness > 0)) {
    fail('out-of-range', within(scope, 'mount'), `must have a static stiffness above 0 [N/m], got ${mount.stiffness}`, {
      value: mount.stiffness,
      allowed: 'above 0',
      unit: 'N/m',
    })
  }
  const air = airSpringOf(scope, options.mount)
  if (air !== null) checkLoad(scope, air, count, weight)
  if (options.levelling === undefined) {
    const name = air === null ? 'mount' : 'airSpring'
    const modes = surgeModes(mount)
    const surge = modes.length > 0
    return {
      blocks: { [name]: mountBlock(mount, count), ...(surge ? { surge: surgeBlock(modes, count) } : {}) },
      wires: {
        [`${name}.velocity`]: motion,
        ...(surge ? { 'surge.velocity': motion, 'surge.sum': motion.map(unsigned) } : {}),
      },
      stretch: `${name}.stretch`,
      tension: [`${name}.tension`, ...(surge ? ['surge.tension'] : [])],
      lowerTension: [`${name}.tension`, ...(surge ? ['surge.lowerTension'] : [])],
      loops: [],
      limits: [],
      stiffness,
    }
  }
  if (air === null) fail('invalid-option', within(scope, 'levelling'), 'needs an air spring as mount')
  return levelled(within(scope, 'levelling'), options.levelling, air, count, motion, stiffness)
}

/** Air spring whose gas follows the stretch plus what the valve has added; the rest of the spring keeps its own stretch. */
function levelled(
  scope: Scope,
  options: LevellingOptions,
  air: AirSpring,
  count: number,
  motion: readonly Source[],
  stiffness: number,
): Suspension {
  const rest = { stiffness: air.stiffness - air.gas.stiffness, damping: air.damping }
  const path = heightPath(scope, options, air.area, 'mount.stretch')
  return {
    blocks: { mount: mountBlock(rest, count), gas: mountBlock(air.gas, count), ...path.blocks },
    wires: { 'mount.velocity': motion, 'gas.velocity': [...motion, 'valve.velocity'], ...path.wires },
    stretch: 'mount.stretch',
    tension: ['mount.tension', 'gas.tension'],
    lowerTension: ['mount.tension', 'gas.tension'],
    loops: [{ name: 'levelling', port: 'valve.velocity' }],
    limits: path.limits,
    stiffness,
  }
}

/** `count` mounts in parallel: relative velocity [m/s] in, stretch [m] and tension [N] out; one state for the stretch and
 * one per relaxing branch, whose force f obeys f' = −f/τ + k v. */
function mountBlock(mount: Pick<Mount, 'stiffness' | 'damping' | 'relaxations'>, count: number): StateSpace {
  const branches = mount.relaxations ?? []
  const size = branches.length + 1
  return {
    kind: 'StateSpace',
    A: Array.from({ length: size }, (_, i) =>
      Array.from({ length: size }, (_, j) => (i === j && i > 0 ? -1 / branches[i - 1].time : 0)),
    ),
    B: [[1], ...branches.map((branch) => [count * branch.stiffness])],
    C: [
      [1, ...branches.map(() => 0)],
      [count * mount.stiffness, ...branches.map(() => 1)],
    ],
    D: [[0], [count * (mount.damping ?? 0)]],
    inputs: ['velocity'],
    outputs: ['stretch', 'tension'],
    states: ['stretch', ...branches.map((_, i) => `relaxation${i + 1}`)],
    delays: null,
  }
}

function airSpringOf(scope: Scope, mount: Mount): AirSpring | null {
  return mount.kind === 'AirSpring' ? checkAirSpring(within(scope, 'mount'), mount) : null
}

function checkLoad(scope: Scope, air: AirSpring, count: number, weight: number): void {
  const needed = weight * standardGravity
  const carried = count * air.load
  if (!(Math.abs(carried - needed) <= 0.01 * needed)) {
    fail(
      'invalid-option',
      within(scope, 'mount'),
      `carries ${show(carried)} N with ${count} air springs, but ${show(needed)} N stands on them; set load or gaugePressure`,
      { value: carried, allowed: `${needed} within 1 %`, unit: 'N' },
    )
  }
}
