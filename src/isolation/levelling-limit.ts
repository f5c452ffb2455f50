import { checkNumber, checkOptions, fail, type Scope, scopeOf, within } from '../internal/check.js'
import { standardGravity } from '../internal/constants.js'
import type { Diagram } from '../systems/diagram.js'
import { gainLimits } from '../systems/gain-limits.js'
import { checkPort, openLoop } from '../systems/open-loop.js'
import type { StateSpace } from '../systems/types.js'
import { withoutControllers } from './active-band.js'
import { massBlock } from './bodies.js'
import { checkModel } from './check-model.js'
import type { IsolationModel } from './model.js'

/** A payload that can rock about an axis in the plane of its springs. */
export interface RockingOptions {
  /** Moment of inertia about that axis, the part m·h² included [kg·m²], above 0 */
  readonly inertia: number
  /** Root mean square distance of springs, valves, sensors and motors from the axis [m], above 0; springs on a common valve
   * do not count against rocking about their own line */
  readonly springDistance: number
  /** Height of the centre of mass above the plane of the springs [m], negative below */
  readonly centreOfMassHeight: number
}

/** Options of {@link levellingLimit}. */
export interface LevellingLimitOptions {
  /** Rocking about one axis, for a rigid payload on springs and motors between it and a rigid floor. @defaultValue not
   * looked at */
  readonly rocking?: RockingOptions
}

/** How fast one kind of motion allows levelling to be. */
export interface LevellingBound {
  /** Rate κ = flowGain/area at which it begins to oscillate [1/s]; 0 where no levelling is stable, null without limit */
  readonly rate: number | null
  /** Where it then oscillates [Hz]; null without limit and at 0 */
  readonly frequency: number | null
}

/** Limits of levelling in each kind of motion. */
export interface LevellingBounds {
  readonly vertical: LevellingBound
  /** Null where rocking was not asked for */
  readonly rocking: LevellingBound | null
}

/** How fast the height control of a model may be; made by {@link levellingLimit}. */
export interface LevellingLimit {
  readonly kind: 'LevellingLimit'
  /** Rate κ of the valve in the model [1/s] */
  readonly rate: number
  /** With all active loops closed */
  readonly together: LevellingBounds
  /** With the output of every controller at zero */
  readonly alone: LevellingBounds
  /** Which of the two goes first, active loops closed; null where neither has a limit */
  readonly first: 'vertical' | 'rocking' | null
  /** What is dangerous about it */
  readonly cautions: readonly string[]
}

/** Rate at which height control makes a payload on air springs hunt, vertically and in rocking.
 *
 * Levelling is integral action: one chamber with a dashpot c bears κ < c/m, in rocking κ < (c_θ/I)·(1 − m·g·h/k_θ). Here the
 * limit is read off the levelling loop as it is, with damping chambers, heat exchange, sensor, controller, delay and active
 * loops. In rocking the same loops act at the distance of the springs: mass I/b², stiffness less m·g·h/b².
 *
 * Slow tilting is isothermal: give the springs `heatExchange`, or a top-heavy load seems safer than it is. A load that tips
 * can crush; anchorage and seismic restraint belong to local codes and licensed practice.
 * @param model - with levelling; in a stack that of the uppermost levelled storey
 * @param options - see {@link LevellingLimitOptions}
 * @returns see {@link LevellingLimit}
 * @throws {@link IsolationError} `invalid-option` for a model without levelling, `out-of-range`, `not-finite`; `unsupported`
 * in six axes, and for rocking on a series stage, in a stack, on a floor that gives way or of a flexible payload
 * @source derived: Routh's criterion for m·s³ + c·s² + k·s + k·κ; K. J. Åström, R. M. Murray, Feedback Systems, 2008, section
 * 9.3 for the general loop
 * @example
 * import { airSpring, levellingLimit, pneumaticIsolation } from 'restmass'
 * const mount = airSpring({ area: 0.01, volume: 0.002, load: 2451.6625, diaphragmDamping: 800 })
 * const model = pneumaticIsolation({ payload: { mass: 1000 }, mount, count: 4, levelling: { flowGain: 0.005 } })
 * levellingLimit(model).together.vertical.rate // 3.2
 */
export function levellingLimit(model: IsolationModel, options: LevellingLimitOptions = {}): LevellingLimit {
  const scope = scopeOf('levellingLimit')
  checkOptions(scope, options, ['rocking'])
  const { diagram, port, valve } = levellingLoopOf(scope, model)
  const rocking =
    options.rocking === undefined ? null : rockingDiagram(within(scope, 'rocking'), model, options.rocking)
  const bounds = (change: (diagram: Diagram) => Diagram): LevellingBounds => ({
    vertical: levellingBound(change(diagram), port),
    rocking: rocking === null ? null : levellingBound(change(rocking), port),
  })
  const together = bounds((given) => given)
  const least = (bound: LevellingBound | null) => bound?.rate ?? Number.POSITIVE_INFINITY
  const [vertical, tilt] = [least(together.vertical), least(together.rocking)]
  const unlimited = Math.min(vertical, tilt) === Number.POSITIVE_INFINITY
  return {
    kind: 'LevellingLimit',
    rate: rateOf(diagram, valve),
    together,
    alone: bounds(withoutControllers),
    first: unlimited ? null : tilt < vertical ? 'rocking' : 'vertical',
    cautions:
      tilt === 0 ? ['No levelling keeps this payload from tipping or hunting: restrain it as local codes demand.'] : [],
  }
}

/** The levelling loop of a model: its diagram, the port and the block of the valve. */
export function levellingLoopOf(
  scope: Scope,
  model: IsolationModel,
): { diagram: Diagram; port: string; valve: string } {
  const { diagram, loops } = checkModel(scope, model)
  const port = loops.find(({ name }) => name.endsWith('levelling'))?.port
  if (port === undefined && loops.some(({ name }) => name.includes('levelling'))) {
    fail('unsupported', scope, 'takes one valve; see loopMargins and simultaneousLoopMargin for several')
  }
  if (port === undefined) fail('invalid-option', scope, 'needs a model with levelling, got one without')
  checkPort(scope, diagram, port)
  const valve = port.split('.')[0]
  const block = diagram.blocks[valve]
  if (block.kind === 'StateSpace' && block.D.length === 1 && block.D[0].length === 1) return { diagram, port, valve }
  return fail(
    'invalid-option',
    within(scope, `diagram.blocks.${valve}`),
    'must be a valve with one input and one output',
  )
}

/** The highest rate up to which the loop is stable from 0 on.
 *
 * The valve is first set near the natural frequency, so that the limit is sought at a gain of ordinary size. */
export function levellingBound(diagram: Diagram, port: string): LevellingBound {
  const valve = port.split('.')[0]
  const prefix = valve.slice(0, -'valve'.length)
  const [gas, payload] = [`${prefix}gas`, `${prefix}payload`].map((name) => diagram.blocks[name])
  const square =
    gas?.kind === 'StateSpace' && payload?.kind === 'StateSpace' ? gas.C[1][0] * (payload.B[0]?.[0] ?? 0) : 0
  const rate = square > 0 ? Math.sqrt(square) : rateOf(diagram, valve)
  const block: StateSpace = { ...(diagram.blocks[valve] as StateSpace), D: [[rate]] }
  const [range] = gainLimits(openLoop({ ...diagram, blocks: { ...diagram.blocks, [valve]: block } }, port)).stable
  if (range === undefined || range.from > 0) return { rate: 0, frequency: null }
  if (range.to === Number.POSITIVE_INFINITY) return { rate: null, frequency: null }
  return { rate: rate * range.to, frequency: range.toFrequency }
}

function rateOf(diagram: Diagram, valve: string): number {
  return (diagram.blocks[valve] as StateSpace).D[0][0]
}

/** The model turned on its side: what moves vertically is now the edge of the payload, at the distance of the springs. */
function rockingDiagram(scope: Scope, { concept, diagram }: IsolationModel, options: RockingOptions): Diagram {
  checkOptions(scope, options, ['inertia', 'springDistance', 'centreOfMassHeight'])
  const inertia = checkNumber(scope, 'inertia', options.inertia, { unit: 'kg·m²', above: 0 })
  const distance = checkNumber(scope, 'springDistance', options.springDistance, { unit: 'm', above: 0 })
  const height = checkNumber(scope, 'centreOfMassHeight', options.centreOfMassHeight, { unit: 'm' })
  const { payload, mount, floor } = diagram.blocks as Record<string, StateSpace | undefined>
  const isRigid = payload?.kind === 'StateSpace' && payload.A.length === 1 && floor === undefined
  if (!isRigid || mount === undefined || concept === 'seriesActive') {
    fail('unsupported', scope, 'needs a rigid payload on a rigid floor, in one storey without series stage')
  }
  const mass = 1 / payload.B[0][0]
  const [stretch, [stiffness, ...branches]] = mount.C
  const gravity = (mass * standardGravity * height) / distance ** 2
  const tilted = { ...mount, C: [stretch, [stiffness - gravity, ...branches]] }
  return { ...diagram, blocks: { ...diagram.blocks, payload: massBlock(inertia / distance ** 2), mount: tilted } }
}
