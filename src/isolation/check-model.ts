import { checkNoise } from '../elements/check-noise.js'
import {
  checkList,
  checkNumber,
  checkOneOf,
  checkText,
  fail,
  listed,
  type Scope,
  show,
  within,
} from '../internal/check.js'
import { checkSystem } from '../systems/check.js'
import { layOut } from '../systems/diagram-layout.js'
import { concepts, type IsolationModel } from './model.js'

/** Checks that a value is a model with its closed system. */
export function checkModel(scope: Scope, model: IsolationModel): IsolationModel {
  if (typeof model !== 'object' || model === null || model.kind !== 'IsolationModel') {
    fail('invalid-option', scope, `needs an IsolationModel, got ${show(model)}`)
  }
  checkOneOf(scope, 'concept', model.concept, concepts)
  checkSystem(within(scope, 'closed'), model.closed)
  layOut(within(scope, 'diagram'), model.diagram)
  for (const [key, names] of modelLists) {
    checkList<object>(scope, key, model[key], 0, 1000).forEach((entry, k) => {
      for (const name of names) {
        const text: unknown = (entry as Partial<Record<string, unknown>> | undefined)?.[name]
        checkText(within(within(scope, key), k), name, text)
      }
    })
  }
  model.noiseSources.forEach(({ noise }, k) => {
    const at = within(within(scope, 'noiseSources'), k)
    if (noise !== null && checkNoise(at, noise) === null) fail('invalid-option', within(at, 'noise'), 'must be a table')
  })
  model.limits.forEach(({ value, output, of = 'value' }, k) => {
    const at = within(within(scope, 'limits'), k)
    checkNumber(at, 'value', value, { above: 0 })
    if (output !== null) checkOneOf(at, 'output', output, model.closed.outputs)
    checkOneOf(at, 'of', of, ['value', 'rate', 'rms'])
  })
  checkPortsOfModel(scope, model)
  return model
}

const modelLists = [
  ['loops', ['name', 'port']],
  ['noiseSources', ['input', 'unit']],
  ['limits', ['name', 'unit']],
] as const

/** Checks that a value is a model of one axis. */
export function checkOneAxis(scope: Scope, model: IsolationModel): IsolationModel {
  const { inputs, outputs } = checkModel(scope, model).closed
  if (inputs.includes('floorVelocity') && outputs.includes('payloadVelocity')) return model
  fail('unsupported', scope, 'needs a model of one axis, with the input floorVelocity and the output payloadVelocity')
}

/** Whether the closed system has the ports of its diagram, and the lists of the model name ports that there are. */
export function checkPortsOfModel(
  scope: Scope,
  { diagram, closed, loops, noiseSources, limits }: IsolationModel,
): void {
  sameNames(within(within(scope, 'closed'), 'inputs'), closed.inputs, diagram.inputs)
  sameNames(within(within(scope, 'closed'), 'outputs'), closed.outputs, Object.keys(diagram.outputs))
  const ports = Object.keys(diagram.blocks).flatMap((name) =>
    diagram.blocks[name].outputs.map((output) => `${name}.${output}`),
  )
  knownNames(
    within(scope, 'loops'),
    'port',
    loops.map(({ port }) => port),
    ports,
  )
  knownNames(
    within(scope, 'noiseSources'),
    'input',
    noiseSources.map(({ input }) => input),
    closed.inputs,
  )
  knownNames(
    within(scope, 'limits'),
    'output',
    limits.map(({ output }) => output),
    closed.outputs,
  )
}

function sameNames(scope: Scope, names: readonly string[], expected: readonly string[]): void {
  if (names.length === expected.length && names.every((name, i) => name === expected[i])) return
  fail('dimension-mismatch', scope, `must be those of the diagram: ${listed(expected)}`)
}

function knownNames(scope: Scope, key: string, names: readonly (string | null)[], known: readonly string[]): void {
  names.forEach((name, i) => {
    if (name === null || known.includes(name)) return
    fail('unknown-port', within(within(scope, i), key), `is '${name}'; there are ${listed(known)}`)
  })
}
