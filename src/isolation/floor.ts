import { checkNumber, checkOptional, checkOptions, fail, type Scope, show, within } from '../internal/check.js'
import { checkSystem } from '../systems/check.js'
import type { Source, Wire } from '../systems/diagram.js'
import { angularFrequency } from '../systems/frequency-response.js'
import type { StateSpace } from '../systems/types.js'
import type { Storey } from './model.js'
import { mapped, substitute } from './rewire.js'

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

/** The storey on a floor that gives way: what stands on it moves with `free` velocity plus mobility times force.
 *
 * The input `floorVelocity` stays the velocity of the bare floor, as a survey before installation measures it.
 */
export function onFloor(scope: Scope, floor: FloorOptions | undefined, storey: Storey): Storey {
  if (floor === undefined) return storey
  const block = floorBlock(within(scope, 'floor'), floor)
  const { diagram, floorLoops, ...rest } = storey
  const moved = { floorVelocity: ['floor.velocity'] }
  const rewire = (wires: Readonly<Record<string, Wire>>) => mapped(wires, (wire) => substitute(wire, moved))
  const outputs = rewire(diagram.outputs)
  const neighbour: Record<string, Source> = block.outputs.length > 1 ? { neighbourVelocity: 'floor.neighbour' } : {}
  return {
    ...rest,
    diagram: {
      ...diagram,
      blocks: { ...diagram.blocks, floor: block },
      outputs: { ...outputs, loadedFloorVelocity: 'floor.velocity', ...neighbour },
      wires: { ...rewire(diagram.wires), 'floor.free': 'floorVelocity', 'floor.force': outputs.floorForce },
    },
    loops: [...floorLoops, ...rest.loops],
    floorLoops: [],
  }
}

function floorBlock(scope: Scope, floor: FloorOptions): StateSpace {
  if (typeof floor !== 'object' || floor === null) {
    fail('invalid-option', scope, `must be { mass, stiffness }, { modes } or a StateSpace, got ${show(floor)}`)
  }
  if ('frequency' in floor) fail('unsupported', scope, 'is a table; give { modes: mobilityModes(table, …).modes }')
  if ('kind' in floor) return withFree(ownMobility(scope, floor))
  return withFree('modes' in floor ? modalMobility(scope, floor) : bodyMobility(scope, floor))
}

function ownMobility(scope: Scope, mobility: StateSpace): StateSpace {
  checkSystem(scope, mobility)
  const { inputs, outputs } = mobility
  if (inputs.length === 1 && (outputs.length === 1 || outputs.length === 2)) return mobility
  fail(
    'dimension-mismatch',
    scope,
    `must have one input and one or two outputs, got ${inputs.length} and ${outputs.length}`,
  )
}

function bodyMobility(scope: Scope, floor: FloorBody): StateSpace {
  checkOptions(scope, floor, ['mass', 'stiffness', 'damping'])
  const mass = checkNumber(scope, 'mass', floor.mass, { unit: 'kg', above: 0 })
  const stiffness = checkNumber(scope, 'stiffness', floor.stiffness, { unit: 'N/m', above: 0 })
  const damping = checkOptional(scope, 'damping', floor.damping, { unit: 'N·s/m', atLeast: 0 }, 0)
  return mobilityOf([{ mass, stiffness, damping, neighbour: 1 }])
}

function modalMobility(scope: Scope, floor: FloorModes): StateSpace {
  checkOptions(scope, floor, ['modes'])
  const at = within(scope, 'modes')
  if (!Array.isArray(floor.modes) || floor.modes.length === 0) {
    fail('invalid-option', at, `must be a list of at least one mode, got ${show(floor.modes)}`)
  }
  return mobilityOf(
    floor.modes.map((mode: FloorMode, i) => {
      const here = within(at, i)
      checkOptions(here, mode, ['modalMass', 'naturalFrequency', 'dampingRatio', 'neighbourShape'])
      const mass = checkNumber(here, 'modalMass', mode.modalMass, { unit: 'kg', above: 0 })
      const frequency = checkNumber(here, 'naturalFrequency', mode.naturalFrequency, { unit: 'Hz', above: 0 })
      const ratio = checkNumber(here, 'dampingRatio', mode.dampingRatio, { atLeast: 0 })
      const omega = angularFrequency(frequency)
      return {
        mass,
        stiffness: mass * omega ** 2,
        damping: 2 * ratio * omega * mass,
        neighbour: checkOptional(here, 'neighbourShape', mode.neighbourShape, {}, 0),
      }
    }),
  )
}

interface Oscillator {
  readonly mass: number
  readonly stiffness: number
  readonly damping: number
  readonly neighbour: number
}

/** Sum of s/(m s² + c s + k), and the same weighted for the neighbour where any weight is not 0. */
function mobilityOf(oscillators: readonly Oscillator[]): StateSpace {
  const pairs = (value: (oscillator: Oscillator) => readonly [number, number]) => oscillators.flatMap(value)
  const near = pairs(() => [0, 1])
  const far = pairs(({ neighbour }) => [0, neighbour])
  const C = far.some((value) => value !== 0) ? [near, far] : [near]
  const A = oscillators.flatMap(({ mass, stiffness, damping }, i) => {
    const rows = [near.map(() => 0), near.map(() => 0)]
    rows[0][2 * i + 1] = 1
    rows[1][2 * i] = -stiffness / mass
    rows[1][2 * i + 1] = -damping / mass
    return rows
  })
  return {
    kind: 'StateSpace',
    A,
    B: pairs(({ mass }) => [0, 1 / mass]).map((value) => [value]),
    C,
    D: C.map(() => [0]),
    inputs: ['force'],
    outputs: C.map((_, k) => `velocity${k}`),
    states: oscillators.flatMap((_, i) => [`deflection${i + 1}`, `velocity${i + 1}`]),
    delays: null,
  }
}

/** A mobility as the block `floor`: velocity = free + mobility · force; the neighbour gets what the force does to it. */
function withFree(mobility: StateSpace): StateSpace {
  const { B, D, delays } = mobility
  return {
    ...mobility,
    B: B.map(([force]) => [0, force]),
    D: D.map(([force], k) => [k === 0 ? 1 : 0, force]),
    inputs: ['free', 'force'],
    outputs: ['velocity', 'neighbour'].slice(0, mobility.outputs.length),
    ...(delays === null ? {} : { delays: { ...delays, D21: delays.D21.map(([force]) => [0, force]) } }),
  }
}
