import {
  checkList,
  checkNumber,
  checkOptional,
  checkOptions,
  fail,
  type Scope,
  show,
  within,
} from '../internal/check.js'
import { checkSystem } from '../systems/check.js'
import { angularFrequency } from '../systems/frequency-response.js'
import type { StateSpace } from '../systems/types.js'

/** A floor that gives way as one body on a spring. */
export interface FloorBody {
  /** Mass that moves [kg], above 0 */
  readonly mass: number
  /** Stiffness beneath it [N/m], above 0 */
  readonly stiffness: number
  /** Damping beneath it [N·s/m], at least 0. @defaultValue 0 */
  readonly damping?: number
}

/** One mode of a floor. */
export interface FloorMode {
  /** Modal mass for a mode shape of 1 at the isolation [kg], above 0 */
  readonly modalMass: number
  /** Natural frequency of the floor without the isolation [Hz], above 0 */
  readonly naturalFrequency: number
  /** Damping ratio, at least 0 */
  readonly dampingRatio: number
  /** Mode shape where a neighbour stands. @defaultValue 0 */
  readonly neighbourShape?: number
}

/** A floor by its modes, such as a modal test or `mobilityModes` gives them. */
export interface FloorModes {
  /** At least one */
  readonly modes: readonly FloorMode[]
}

/** A floor that gives way: a body, modes, or a mobility of your own with the input force [N] and the output velocity [m/s]
 * at the isolation, and a second output where a neighbour stands, if there is one. */
export type FloorOptions = FloorBody | FloorModes | StateSpace

/** Refuses what is no object, and tables. */
export function checkObject(scope: Scope, floor: unknown, allowed: string): void {
  if (typeof floor !== 'object' || floor === null)
    fail('invalid-option', scope, `must be ${allowed}, got ${show(floor)}`)
  if ('frequency' in floor) fail('unsupported', scope, 'is a table; give { modes: mobilityModes(table, …).modes }')
}

/** A body or modes on one axis, with what a body does to a neighbour on it. */
export function oscillatorsOf(scope: Scope, floor: FloorBody | FloorModes): Oscillator[] {
  return 'modes' in floor ? modalOscillators(scope, floor) : [bodyOscillator(scope, floor)]
}

/** A mobility with `count` forces and as many velocities, or twice as many where a neighbour stands. */
export function ownMobility(scope: Scope, mobility: StateSpace, count: number): StateSpace {
  checkSystem(scope, mobility)
  const { inputs, outputs } = mobility
  if (inputs.length === count && (outputs.length === count || outputs.length === 2 * count)) return mobility
  fail(
    'dimension-mismatch',
    scope,
    `must have ${count} inputs and ${count} or ${2 * count} outputs, got ${inputs.length} and ${outputs.length}`,
  )
}

function bodyOscillator(scope: Scope, floor: FloorBody): Oscillator {
  checkOptions(scope, floor, ['mass', 'stiffness', 'damping'])
  return {
    mass: checkNumber(scope, 'mass', floor.mass, { unit: 'kg', above: 0 }),
    stiffness: checkNumber(scope, 'stiffness', floor.stiffness, { unit: 'N/m', above: 0 }),
    damping: checkOptional(scope, 'damping', floor.damping, { unit: 'N·s/m', atLeast: 0 }, 0),
    shape: [1],
    neighbour: [1],
  }
}

function modalOscillators(scope: Scope, floor: FloorModes): Oscillator[] {
  checkOptions(scope, floor, ['modes'])
  return checkModes(scope, floor.modes, ['neighbourShape'], (here, mode) => ({
    shape: [1],
    neighbour: [checkOptional(here, 'neighbourShape', mode.neighbourShape, {}, 0)],
  }))
}

/** Modes as oscillators, with their shapes read from each. */
export function checkModes<T extends Pick<FloorMode, 'modalMass' | 'naturalFrequency' | 'dampingRatio'>>(
  scope: Scope,
  modes: readonly T[],
  keys: readonly string[],
  shapes: (here: Scope, mode: T) => Pick<Oscillator, 'shape' | 'neighbour'>,
): Oscillator[] {
  const at = within(scope, 'modes')
  return checkList(scope, 'modes', modes, 1).map((mode, i) => {
    const here = within(at, i)
    checkOptions(here, mode, ['modalMass', 'naturalFrequency', 'dampingRatio', ...keys])
    const mass = checkNumber(here, 'modalMass', mode.modalMass, { unit: 'kg', above: 0 })
    const frequency = checkNumber(here, 'naturalFrequency', mode.naturalFrequency, { unit: 'Hz', above: 0 })
    const ratio = checkNumber(here, 'dampingRatio', mode.dampingRatio, { atLeast: 0 })
    const omega = angularFrequency(frequency)
    return { mass, stiffness: mass * omega ** 2, damping: 2 * ratio * omega * mass, ...shapes(here, mode) }
  })
}

/** One mode of a floor, and how it moves the isolation and a neighbour in each axis. */
export interface Oscillator {
  readonly mass: number
  readonly stiffness: number
  readonly damping: number
  readonly shape: readonly number[]
  readonly neighbour: readonly number[]
}

/** Sum of shape·shapeᵀ·s/(m s² + c s + k), and the same for the neighbour where any of its shapes is not 0. */
export function mobilityOf(oscillators: readonly Oscillator[]): Mobility {
  const pairs = <T>(value: (oscillator: Oscillator) => readonly [T, T]) => oscillators.flatMap(value)
  const ends = oscillators[0].shape
  const near = ends.map((_, end) => pairs(({ shape }) => [0, shape[end]]))
  const far = ends.map((_, end) => pairs(({ neighbour }) => [0, neighbour[end]]))
  const C = far.flat().some((value) => value !== 0) ? [...near, ...far] : near
  const A = oscillators.flatMap(({ mass, stiffness, damping }, i) => {
    const rows = [near[0].map(() => 0), near[0].map(() => 0)]
    rows[0][2 * i + 1] = 1
    rows[1][2 * i] = -stiffness / mass
    rows[1][2 * i + 1] = -damping / mass
    return rows
  })
  return {
    kind: 'StateSpace',
    A,
    B: pairs(({ mass, shape }) => [shape.map(() => 0), shape.map((value) => value / mass)]).map((row) => [...row]),
    C,
    D: C.map(() => ends.map(() => 0)),
    states: oscillators.flatMap((_, i) => [`deflection${i + 1}`, `velocity${i + 1}`]),
    delays: null,
  }
}

/** A mobility before its ports have the names of the axes. */
type Mobility = Omit<StateSpace, 'inputs' | 'outputs'>

/** A mobility as the block `floor`: velocity = free + mobility · force; the neighbour gets what the force does to it. */
export function withFree(mobility: Mobility, ends: readonly string[]): StateSpace {
  const { B, D, delays } = mobility
  const still = ends.map(() => 0)
  return {
    ...mobility,
    B: B.map((row) => [...still, ...row]),
    D: D.map((row, k) => [...still.map((_, i) => (i === k ? 1 : 0)), ...row]),
    inputs: ['free', 'force'].flatMap((name) => ends.map((end) => name + end)),
    outputs: ['velocity', 'neighbour'].flatMap((name) => ends.map((end) => name + end)).slice(0, mobility.C.length),
    ...(delays === null ? {} : { delays: { ...delays, D21: delays.D21.map((row) => [...still, ...row]) } }),
  }
}
