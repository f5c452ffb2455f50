import { checkOptions, fail, type Scope, scopeOf, show, within } from '../internal/check.js'
import { checkOneAxis } from '../isolation/check-model.js'
import type { IsolationModel } from '../isolation/model.js'
import { stability } from '../systems/stability.js'
import { checkMotion, checkSpectrum } from '../vibration/check.js'
import { convertSpectrum } from '../vibration/convert-spectrum.js'
import type { Spectrum, SpectrumLiteral } from '../vibration/types.js'
import { type Drive, predictedDensity } from './predicted-density.js'

/** What excites a payload. */
export interface PredictPayloadOptions {
  /** Motion of the floor beneath: acceleration, velocity or displacement */
  readonly floor: Spectrum | SpectrumLiteral
  /** Force on the payload [N²/Hz], independent of the floor. @defaultValue none */
  readonly payloadForce?: Spectrum | SpectrumLiteral
}

/** Velocity spectrum of the payload from the floor's and, where given, a force on the payload.
 *
 * S_payload = |T|² S_floor + |V/F|² S_force, one-sided. The result is points, placed so that straight lines in log-log
 * between them hold to about 1e-4 of the density, at the resonances of the model too; lines of the floor become steps, so
 * no energy is lost. It covers what both spectra cover, 0 Hz excluded.
 * @param model - of any concept; stable
 * @param options - see {@link PredictPayloadOptions}
 * @returns a velocity spectrum of points [(m/s)²/Hz]
 * @throws {@link IsolationError} `unstable` for a model that is not stable; `invalid-option` for a spectrum of another
 * quantity; `out-of-range` where the spectra do not overlap; `unsupported` for six axes
 * @source J. S. Bendat, A. G. Piersol, Random Data, 4th edition 2010, section 6.1 (input-output relations)
 * @example
 * import { passiveIsolation, predictPayload, rms, spectrum } from 'restmass'
 * const floor = spectrum({ quantity: 'velocity', frequency: [0.5, 100], density: [1e-12, 1e-12] })
 * const mount = { stiffness: (2 * Math.PI * 2.5) ** 2, damping: 0.2 * 2 * Math.PI * 2.5 }
 * const payload = predictPayload(passiveIsolation({ payload: { mass: 1 }, mount }), { floor })
 * rms(payload, { from: 70.794578, to: 89.125094 }) // 2.731e-8
 */
export function predictPayload(model: IsolationModel, options: PredictPayloadOptions): Spectrum {
  const scope = scopeOf('predictPayload')
  checkOptions(scope, options, ['floor', 'payloadForce'])
  const { closed } = checkOneAxis(scope, model)
  refuseUnstable(scope, model)
  const { frequency, density } = predictedDensity(scope, closed, 'payloadVelocity', drivesOf(scope, options))
  return { kind: 'Spectrum', quantity: 'velocity', frequency, density, support: 'points' }
}

/** The spectra that drive the inputs of a model, checked and in the unit of those inputs. */
export function drivesOf(scope: Scope, options: PredictPayloadOptions): Drive[] {
  const { floor, payloadForce } = options
  return [
    { input: 'floorVelocity', spectrum: checkedVelocity(within(scope, 'floor'), floor) },
    ...(payloadForce === undefined
      ? []
      : [{ input: 'payloadForce', spectrum: checkedForce(within(scope, 'payloadForce'), payloadForce) }]),
  ]
}

/** A spectrum of motion as one of velocity. */
export function checkedVelocity(scope: Scope, spectrum: Spectrum | SpectrumLiteral): Spectrum {
  return convertSpectrum(checkMotion(scope, spectrum), { to: 'velocity' })
}

export function checkedForce(scope: Scope, spectrum: Spectrum | SpectrumLiteral): Spectrum {
  const force = checkSpectrum(scope, spectrum)
  if (force.quantity === 'force') return force
  fail('invalid-option', within(scope, 'quantity'), `must be 'force', got ${show(force.quantity)}`)
}

export function refuseUnstable(scope: Scope, model: IsolationModel): void {
  const { verdict, unstablePoles } = stability(model.closed)
  if (verdict === 'stable') return
  const says = verdict === 'marginal' ? 'has undamped modes' : `has ${unstablePoles} unstable poles`
  fail('unstable', within(scope, 'model'), `${says}; it has no steady state to predict`)
}
