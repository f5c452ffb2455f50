import { fail, type Scope } from '../internal/check.js'
import { type Dense, denseFrom } from '../linear/dense.js'
import { closeDiagram } from '../systems/close-diagram.js'
import type { Source, Wire } from '../systems/diagram.js'
import { heldStep } from '../systems/discretize.js'
import { gain } from '../systems/gain.js'
import { integrator } from '../systems/integrator.js'
import type { StateSpace } from '../systems/types.js'
import type { LimitedPlant } from './limited-plant.js'

/** What a bounded output does: what is wanted; the bound; or a straight line of the largest rate. */
export type LimitMode = 'free' | 'high' | 'low' | 'rising' | 'falling'

/** The model while every limit stays as it is: linear. Inputs: those of the model, the held ones, and 1. States: those of the plant
 * and the present value of each output bounded in rate. Outputs: those of the model, then `wanted1`…, `actual1`…, `raw1`…. */
export interface ModeSystem {
  readonly system: StateSpace
  readonly A: Dense
  readonly B: Dense
  readonly C: Dense
  readonly D: Dense
  /** Exact steps of sampleTime/2^level */
  readonly step: (level: number) => { readonly A: Dense; readonly now: Dense; readonly next: Dense }
}

/** Builds each combination of modes once. */
export function modeSystems(scope: Scope, plant: LimitedPlant, sampleTime: number) {
  const { system, bounds } = plant
  bounds.forEach(({ output }, k) => {
    const excess = system.inputs.indexOf(`excess${k + 1}`)
    const own = system.D[plant.outputs + k][excess]
    if (!(1 + own > 1e-9))
      fail('algebraic-loop', scope, `cannot limit ${output}: its direct feedthrough leaves it undefined`)
  })
  const known = new Map<string, ModeSystem>()
  return (modes: readonly LimitMode[]): ModeSystem => {
    const key = modes.join()
    const found = known.get(key)
    if (found !== undefined) return found
    const closed = closedAs(scope, plant, modes)
    const n = closed.A.length
    const steps: ReturnType<typeof heldStep>[] = []
    const made: ModeSystem = {
      system: closed,
      A: denseFrom(closed.A, n),
      B: denseFrom(closed.B, closed.inputs.length),
      C: denseFrom(closed.C, n),
      D: denseFrom(closed.D, closed.inputs.length),
      step: (level) => {
        steps[level] ??= heldStep(scope, closed, sampleTime / 2 ** level)
        return steps[level]
      },
    }
    known.set(key, made)
    return made
  }
}

/** The plant with each excess made what the mode asks for: nothing, or the difference to a bound or to a ramp. */
function closedAs(scope: Scope, { system, bounds, outputs }: LimitedPlant, modes: readonly LimitMode[]) {
  const blocks: Record<string, StateSpace> = { plant: system }
  const wires: Record<string, Wire> = {}
  const externals = system.inputs.slice(0, system.inputs.length - bounds.length)
  for (const name of externals) wires[`plant.${name}`] = name
  const actual: [string, Wire][] = []
  bounds.forEach(({ value, rate }, k) => {
    const [number, mode] = [k + 1, modes[k]]
    const wanted = `plant.wanted${number}`
    const sign = mode === 'high' || mode === 'rising' ? 1 : -1
    let given: Source | null = null
    if (mode === 'high' || mode === 'low') {
      blocks[`bound${number}`] = gain(sign * value)
      wires[`bound${number}.u1`] = 'one'
      given = `bound${number}.y1`
    }
    if (rate < Number.POSITIVE_INFINITY) {
      const moves = mode === 'rising' || mode === 'falling'
      blocks[`level${number}`] = integrator()
      blocks[`slope${number}`] = gain(moves ? sign * rate : 0)
      wires[`slope${number}.u1`] = 'one'
      wires[`level${number}.u1`] = `slope${number}.y1`
      if (moves) given = `level${number}.y1`
    }
    wires[`plant.excess${number}`] = given === null ? null : [given, `-${wanted}`]
    actual.push([`actual${number}`, given ?? wanted])
  })
  const read = (names: readonly string[]): [string, Wire][] => names.map((name) => [name, `plant.${name}`])
  return closeDiagram(scope, {
    blocks,
    inputs: [...externals, 'one'],
    outputs: Object.fromEntries([
      ...read(system.outputs.slice(0, outputs + bounds.length)),
      ...actual,
      ...read(system.outputs.slice(outputs + bounds.length)),
    ]),
    wires,
  })
}
