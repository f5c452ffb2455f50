import { fail, type Scope, scopeOf, show, within } from '../internal/check.js'
import { channel } from '../systems/channel.js'
import { checkSystem } from '../systems/check.js'
import { frequencyResponse } from '../systems/frequency-response.js'
import type { ComplexSeries } from '../systems/types.js'
import type { IsolationModel } from './model.js'

/** Transmissibility of a model: payload motion over floor motion.
 *
 * The response from `floorVelocity` to `payloadVelocity`; negative phase is lag. It is defined for unstable models too.
 * @param model - of any concept
 * @param frequencies - grid [Hz], ascending, 0 allowed
 * @returns complex ratio, no unit
 * @throws {@link IsolationError} `singular` where an undamped resonance lies on the grid; errors of a malformed grid
 * @source Harris' Shock and Vibration Handbook, chapter "Theory of vibration isolation"
 * @example
 * import { magnitude, passiveIsolation, transmissibility } from 'restmass'
 * const model = passiveIsolation({ payload: { mass: 1 }, mount: { stiffness: (2 * Math.PI) ** 2 } })
 * magnitude(transmissibility(model, [10]))[0] // 0.010101
 */
export function transmissibility(model: IsolationModel, frequencies: ArrayLike<number>): ComplexSeries {
  const { closed } = checkModel(scopeOf('transmissibility'), model)
  const ports = { input: 'floorVelocity', output: 'payloadVelocity' }
  return channel(frequencyResponse(closed, frequencies, { inputs: [ports.input], outputs: [ports.output] }), ports)
}

/** Checks that a value is a model with its closed system. */
export function checkModel(scope: Scope, model: IsolationModel): IsolationModel {
  if (typeof model !== 'object' || model === null || model.kind !== 'IsolationModel') {
    fail('invalid-option', scope, `needs an IsolationModel, got ${show(model)}`)
  }
  checkSystem(within(scope, 'closed'), model.closed)
  for (const key of ['blocks', 'wires'] as const) {
    const part: unknown = model.diagram?.[key]
    if (typeof part !== 'object' || part === null) {
      fail('invalid-option', within(within(scope, 'diagram'), key), `must be a record, got ${show(part)}`)
    }
  }
  for (const [name, block] of Object.entries(model.diagram.blocks)) {
    const at = within(within(scope, 'diagram.blocks'), name)
    if (typeof block !== 'object' || block === null) fail('invalid-option', at, `must be a system, got ${show(block)}`)
  }
  for (const [key, names] of modelLists) checkEntries(within(scope, key), model[key], names)
  return model
}

const modelLists = [
  ['loops', ['name', 'port']],
  ['noiseSources', ['input', 'unit']],
  ['limits', ['name', 'unit']],
] as const

/** Checks a list of records with the given entries of text. */
function checkEntries(scope: Scope, list: unknown, names: readonly string[]): void {
  if (!Array.isArray(list)) fail('invalid-option', scope, `must be a list, got ${show(list)}`)
  list.forEach((entry: unknown, k) => {
    for (const name of names) {
      const text = (entry as Record<string, unknown> | null | undefined)?.[name]
      if (typeof text !== 'string')
        fail('invalid-option', within(within(scope, k), name), `must be text, got ${show(text)}`)
    }
  })
}

/** Checks that a value is a model of one axis. */
export function checkOneAxis(scope: Scope, model: IsolationModel): IsolationModel {
  if (checkModel(scope, model).closed.inputs.includes('floorVelocity')) return model
  fail('unsupported', scope, 'needs a model of one axis, with the input floorVelocity')
}
