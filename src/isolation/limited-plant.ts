import {
  checkList,
  checkNumber,
  checkOptional,
  checkOptions,
  fail,
  listed,
  type Scope,
  show,
  within,
} from '../internal/check.js'
import { closeDiagram } from '../systems/close-diagram.js'
import type { Diagram, Source, Wire } from '../systems/diagram.js'
import { numbered } from '../systems/numbered.js'
import { pade } from '../systems/pade.js'
import type { StateSpace } from '../systems/types.js'
import { sourcesOf } from '../systems/wire-sources.js'
import type { IsolationModel } from './model.js'
import { mapped } from './rewire.js'

/** A bound on an output of a model; at least one of value and rate. */
export interface SimulatedLimit {
  /** Output of the model, such as `actuatorForce` */
  readonly output: string
  /** Largest modulus [unit of the output], above 0. @defaultValue none */
  readonly value?: number
  /** Largest modulus of its rate [unit per second], above 0. @defaultValue none */
  readonly rate?: number
}

/** A bound, Infinity where there is none. */
export interface Bound {
  readonly output: string
  readonly value: number
  readonly rate: number
}

/** A model whose bounded outputs can be overruled and whose rounded signals are cut.
 *
 * Inputs: those of the model, `held1`… behind each converter, `excess1`… added to each bounded output. Outputs: those of the
 * model, `wanted1`… (without the excess), `raw1`… before each converter. */
export interface LimitedPlant {
  readonly system: StateSpace
  /** Inputs and outputs of the model itself */
  readonly inputs: number
  readonly outputs: number
  readonly bounds: readonly Bound[]
  /** Step of each converter */
  readonly steps: readonly number[]
}

interface LimitingOptions {
  readonly limits?: readonly SimulatedLimit[]
  readonly steps?: { readonly [input: string]: number }
}

export function limitedPlant(
  scope: Scope,
  { diagram, closed, limits }: IsolationModel,
  options: LimitingOptions,
  order: number,
): LimitedPlant {
  const given = options.limits === undefined ? ownBounds(limits) : checkBounds(scope, options.limits)
  const steps = checkSteps(within(scope, 'steps'), diagram, options.steps ?? {})
  const cut = Object.fromEntries(steps.map(({ input }, k): [string, Wire] => [input, `held${k + 1}`]))
  const excess = new Map<Source, Source[]>()
  given.forEach(({ output }, k) => {
    const anchor = anchorOf(within(within(scope, 'limits'), k), diagram, output)
    excess.set(anchor, [anchor, `excess${k + 1}`])
    excess.set(`-${anchor}`, [`-${anchor}`, `-excess${k + 1}`])
  })
  const overrule = (wire: Wire): Wire => sourcesOf(wire).flatMap((source) => excess.get(source) ?? [source])
  const read = (name: string, wires: readonly Wire[]) =>
    Object.fromEntries(numbered(name, wires).map((output, k) => [output, wires[k]]))
  const opened: Diagram = {
    blocks: diagram.blocks,
    inputs: [...diagram.inputs, ...numbered('held', steps), ...numbered('excess', given)],
    outputs: {
      ...mapped(diagram.outputs, overrule),
      ...read(
        'wanted',
        given.map(({ output }) => diagram.outputs[output]),
      ), // without the excess
      ...read(
        'raw',
        steps.map(({ input }) => overrule(diagram.wires[input])),
      ),
    },
    wires: { ...mapped(diagram.wires, overrule), ...cut },
  }
  const system = closeDiagram(scope, opened)
  return {
    system: system.delays === null ? system : pade(system, { order }),
    inputs: closed.inputs.length,
    outputs: closed.outputs.length,
    bounds: given,
    steps: steps.map(({ step }) => step),
  }
}

/** The limits of the model, value and rate of one output together. */
function ownBounds(limits: IsolationModel['limits']): Bound[] {
  const bounds = new Map<string, Bound>()
  for (const { output, value, of } of limits) {
    if (output === null || of === 'rms' || !isActuator(output)) continue
    const known = bounds.get(output) ?? { output, value: Number.POSITIVE_INFINITY, rate: Number.POSITIVE_INFINITY }
    bounds.set(output, { ...known, [of ?? 'value']: value })
  }
  return [...bounds.values()]
}

function checkBounds(scope: Scope, limits: readonly SimulatedLimit[]): Bound[] {
  return checkList(scope, 'limits', limits).map((limit, k) => {
    const at = within(within(scope, 'limits'), k)
    const { output, value, rate } = checkOptions(at, limit, ['output', 'value', 'rate'])
    if (value === undefined && rate === undefined) fail('invalid-option', at, 'needs value or rate')
    if (limits.slice(0, k).some((other) => other.output === output)) {
      fail('invalid-option', within(at, 'output'), `is ${show(output)} a second time`)
    }
    return {
      output,
      value: checkOptional(at, 'value', value, { above: 0 }, Number.POSITIVE_INFINITY),
      rate: checkOptional(at, 'rate', rate, { above: 0 }, Number.POSITIVE_INFINITY),
    }
  })
}

function checkSteps(scope: Scope, { wires }: Diagram, steps: object): { input: string; step: number }[] {
  checkOptions(scope, steps, Object.keys(wires))
  return Object.entries(steps).map(([input, step]) => ({ input, step: checkNumber(scope, input, step, { above: 0 }) }))
}

/** The block output that a bounded output begins with; whoever reads it gets the excess too. */
function anchorOf(scope: Scope, { outputs }: Diagram, output: string): Source {
  const known = typeof output === 'string' && Object.hasOwn(outputs, output)
  const sources = known ? sourcesOf(outputs[output]) : []
  const anchor = sources.find((source) => source.includes('.') && !source.startsWith('-'))
  if (anchor !== undefined && isActuator(output)) return anchor
  const names = Object.keys(outputs).filter(isActuator)
  fail('unknown-port', within(scope, 'output'), `must be an actuator output of the model: ${listed(names)}`)
}

/** Whether an output is what an actuator gives. */
export function isActuator(output: string): boolean {
  return /^((upper|lower)_)*actuator(Force|Expansion)\d*$/.test(output)
}
