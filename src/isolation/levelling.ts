import type { Sensor } from '../elements/types.js'
import {
  checkNumber,
  checkOneOf,
  checkOptional,
  checkOptions,
  fail,
  type Scope,
  show,
  within,
} from '../internal/check.js'
import type { Source } from '../systems/diagram.js'
import { gain } from '../systems/gain.js'
import { lowPass } from '../systems/low-pass.js'
import type { StateSpace } from '../systems/types.js'
import { delayed, type Fragment } from './inertial-path.js'
import type { ModelLimit } from './model.js'
import { singleChannel } from './single-channel.js'

/** Height control of an air spring: a volume flow into each spring chamber in proportion to its height error. */
export interface LevellingOptions {
  /** Set in the record of a `levellingValve`, absent in a literal */
  readonly kind?: 'LevellingValve'
  /** Volume flow per height error [m³/s per m], above 0 */
  readonly flowGain: number
  /** Half-width of the band without flow [m], at least 0; kept as a limit, the linear model has none. @defaultValue 0 */
  readonly deadBand?: number
  /** Electronic height sensor: a first-order lag, or a sensor of displacement, whose noise is left out. @defaultValue exact */
  readonly sensor?: { readonly bandwidth: number } | Sensor
  /** Electronic controller between height and valve, one input and one output. @defaultValue none (mechanical valve) */
  readonly controller?: StateSpace
  /** Delay of the height signal [s], at least 0. @defaultValue 0 */
  readonly delay?: number
}

/** The way from a height to what the valve feeds, as compression per second at `valve.velocity` [m/s]; `number` tells
 * several valves apart. */
export function heightPath(
  scope: Scope,
  options: LevellingOptions,
  area: number,
  from: Source,
  number = '',
): Fragment & { readonly limits: readonly ModelLimit[] } {
  checkOptions(scope, options, ['kind', 'flowGain', 'deadBand', 'sensor', 'controller', 'delay'])
  if (options.kind !== undefined) checkOneOf(scope, 'kind', options.kind, ['LevellingValve'])
  const flowGain = checkNumber(scope, 'flowGain', options.flowGain, { unit: 'm³/s per m', above: 0 })
  const deadBand = checkOptional(scope, 'deadBand', options.deadBand, { unit: 'm', atLeast: 0 }, 0)
  const blocks: Record<string, StateSpace> = {
    [`valve${number}`]: { ...gain(flowGain / area, { inputs: ['height'], outputs: ['velocity'] }), role: 'valve' },
  }
  let height = from
  const wires: Record<string, Source> = {}
  const pass = (role: string, block: StateSpace) => {
    const name = role + number
    blocks[name] = block
    wires[`${name}.height`] = height
    height = `${name}.signal`
  }
  if (options.sensor !== undefined) pass('heightSensor', heightSensor(within(scope, 'sensor'), options.sensor))
  if (options.controller !== undefined) {
    pass('heightController', singleChannel(within(scope, 'controller'), options.controller, 'height', 'signal'))
  }
  const late = delayed(scope, options.delay, `heightDelay${number}`, height)
  return {
    blocks: { ...blocks, ...late.blocks },
    wires: { ...wires, ...late.wires, [`valve${number}.height`]: late.source },
    limits: deadBand > 0 ? [{ name: 'levellingDeadBand', output: null, value: deadBand, unit: 'm' }] : [],
  }
}

function heightSensor(scope: Scope, sensor: { readonly bandwidth: number } | Sensor): StateSpace {
  if ((sensor as Partial<Sensor> | null)?.kind !== 'Sensor') {
    const { bandwidth } = checkOptions(scope, sensor as { readonly bandwidth: number }, ['bandwidth'])
    const cutoff = checkNumber(scope, 'bandwidth', bandwidth, { unit: 'Hz', above: 0 })
    return { ...lowPass({ cutoff, input: 'height', output: 'signal' }), role: 'relativeSensor' }
  }
  const { measures, dynamics } = sensor as Sensor
  if (measures !== 'displacement') {
    fail('unsupported', within(scope, 'measures'), `must be 'displacement' here, got ${show(measures)}`)
  }
  return singleChannel(within(scope, 'dynamics'), dynamics, 'height', 'signal', 'relativeSensor')
}
