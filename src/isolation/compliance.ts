import { scopeOf } from '../internal/check.js'
import { channel } from '../systems/channel.js'
import { angularFrequency, frequencyResponse } from '../systems/frequency-response.js'
import { slopeAtZero } from '../systems/slope-at-zero.js'
import type { ComplexSeries } from '../systems/types.js'
import { checkModel } from './check-model.js'
import type { IsolationModel } from './model.js'

/** Compliance of a model: payload displacement per force on the payload.
 *
 * The response from `payloadForce` to `payloadVelocity` over s; at 0 Hz its limit, the static deflection per force.
 * @param model - of any concept
 * @param frequencies - grid [Hz], ascending, 0 allowed
 * @returns complex compliance [m/N]
 * @throws {@link IsolationError} `singular` where an undamped resonance lies on the grid; errors of a malformed grid
 * @source ISO 7626-1:2011, dynamic compliance
 * @example
 * import { compliance, passiveIsolation } from 'restmass'
 * const model = passiveIsolation({ payload: { mass: 10 }, mount: { stiffness: 4000, damping: 20 } })
 * compliance(model, [0]).re[0] // 2.5e-4
 */
export function compliance(model: IsolationModel, frequencies: ArrayLike<number>): ComplexSeries {
  const { closed } = checkModel(scopeOf('compliance'), model)
  const ports = { input: 'payloadForce', output: 'payloadVelocity' }
  const mobility = channel(
    frequencyResponse(closed, frequencies, { inputs: [ports.input], outputs: [ports.output] }),
    ports,
  )
  const re = new Float64Array(mobility.re.length)
  const im = new Float64Array(mobility.re.length)
  mobility.frequency.forEach((frequency, k) => {
    const omega = angularFrequency(frequency)
    re[k] = omega === 0 ? slopeAtZero(closed, ports) : mobility.im[k] / omega
    im[k] = omega === 0 ? 0 : -mobility.re[k] / omega
  })
  return { kind: 'ComplexSeries', frequency: mobility.frequency, re, im }
}
