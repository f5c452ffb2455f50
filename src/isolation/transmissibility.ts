import { scopeOf } from '../internal/check.js'
import { channel } from '../systems/channel.js'
import { frequencyResponse } from '../systems/frequency-response.js'
import type { ComplexSeries } from '../systems/types.js'
import { checkModel } from './check-model.js'
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
