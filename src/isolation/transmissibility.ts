import { checkNoise } from '../elements/check-noise.js'
import {
  checkList,
  checkNumber,
  checkOneOf,
  checkText,
  fail,
  type Scope,
  scopeOf,
  show,
  within,
} from '../internal/check.js'
import { channel } from '../systems/channel.js'
import { checkSystem } from '../systems/check.js'
import { layOut } from '../systems/diagram-layout.js'
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
  layOut(within(scope, 'diagram'), model.diagram)
  for (const [key, names] of modelLists) {
    checkList<object>(scope, key, model[key]).forEach((entry, k) => {
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
  return model
}

const modelLists = [
  ['loops', ['name', 'port']],
  ['noiseSources', ['input', 'unit']],
  ['limits', ['name', 'unit']],
] as const

/** Checks that a value is a model of one axis. */
export function checkOneAxis(scope: Scope, model: IsolationModel): IsolationModel {
  if (checkModel(scope, model).closed.inputs.includes('floorVelocity')) return model
  fail('unsupported', scope, 'needs a model of one axis, with the input floorVelocity')
}
