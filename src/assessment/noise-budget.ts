import { checkOptions, type Scope, scopeOf } from '../internal/check.js'
import { withoutControllers } from '../isolation/active-band.js'
import { checkOneAxis } from '../isolation/check-model.js'
import type { IsolationModel } from '../isolation/model.js'
import { connect } from '../systems/connect.js'
import { meanSquare } from '../vibration/mean-square.js'
import type { Spectrum } from '../vibration/types.js'
import { intervalsAbove } from './intervals-above.js'
import { drivesOf, type PredictPayloadOptions, refuseUnstable } from './predict-payload.js'
import { type Drive, predictedDensity } from './predicted-density.js'

/** Velocity of a payload by source. */
export interface NoiseBudget {
  readonly kind: 'NoiseBudget'
  /** All sources together, as points [(m/s)²/Hz] */
  readonly total: Spectrum
  /** Each source alone, on the frequencies of `total`: `floor`, `payloadForce` and the noise inputs of the model that have a
   * table */
  readonly contributions: Readonly<Record<string, Spectrum>>
  /** Root mean square of what lies at and above each frequency of `total` and of each contribution [m/s] */
  readonly runningRms: { readonly total: Float64Array; readonly contributions: Readonly<Record<string, Float64Array>> }
  /** Noise inputs of the model without a table; they are missing in the total */
  readonly unknown: readonly string[]
  /** Where the total is more than 1 % in density above that of the same hardware with every controller output at zero,
   * intervals [from, to] in Hz; none without controllers */
  readonly worseThanPassive: readonly (readonly [number, number])[]
}

/** What each source contributes to the motion of the payload.
 *
 * S_total = Σ |G_k|² S_k over the floor, a force on the payload, and the noise of sensors and actuators; all are taken as
 * independent. Everything covers the frequencies that all tables cover. The passive hardware it is held against keeps floor
 * and force, and has no noise of sensors and actuators.
 * @param model - of any concept; stable
 * @param options - floor and force, as for `predictPayload`
 * @returns see {@link NoiseBudget}
 * @throws {@link IsolationError} `unstable` for a model that is not stable; `invalid-option` for a spectrum of another
 * quantity; `out-of-range` where the tables do not overlap; `unsupported` for six axes
 * @source J. S. Bendat, A. G. Piersol, Random Data, 4th edition 2010, section 6.1 (input-output relations)
 * @example
 * import { noiseBudget, passiveIsolation, spectrum, springMount } from 'restmass'
 * const floor = spectrum({ quantity: 'velocity', frequency: [0.5, 100], amplitudeDensity: [1e-6, 1e-6] })
 * const mount = springMount({ mass: 100, naturalFrequency: 2, dampingRatio: 0.1 })
 * Object.keys(noiseBudget(passiveIsolation({ payload: { mass: 100 }, mount }), { floor }).contributions) // ['floor']
 */
export function noiseBudget(model: IsolationModel, options: PredictPayloadOptions): NoiseBudget {
  const scope = scopeOf('noiseBudget')
  checkOptions(scope, options, ['floor', 'payloadForce'])
  checkOneAxis(scope, model)
  refuseUnstable(scope, model)
  return budgetAlong(scope, model, '', drivesOf(scope, options), noiseDrives(model.noiseSources))
}

/** The budget of the payload along one axis, named by what its ports end in. */
export function budgetAlong(
  scope: Scope,
  { closed, diagram, noiseSources }: IsolationModel,
  end: string,
  excitation: readonly Drive[],
  noise: readonly Drive[],
): NoiseBudget {
  const drives = [...excitation, ...noise]
  const output = `payloadVelocity${end}`
  const { frequency, density, parts } = predictedDensity(scope, closed, output, drives)
  const total = velocitySpectrum({ frequency, density })
  const contributions = Object.fromEntries(
    drives.map(({ input }, k) => [
      input.replace('floorVelocity', 'floor'),
      velocitySpectrum({ frequency, density: parts[k] }),
    ]),
  )
  const active = Object.values(diagram.blocks).some(({ role }) => role === 'controller')
  return {
    kind: 'NoiseBudget',
    total,
    contributions,
    runningRms: {
      total: runningRms(total),
      contributions: Object.fromEntries(Object.entries(contributions).map(([name, part]) => [name, runningRms(part)])),
    },
    unknown: noiseSources.filter(({ noise }) => noise === null).map(({ input }) => input),
    worseThanPassive: active
      ? intervalsAbove(
          total,
          velocitySpectrum(
            predictedDensity(scope, connect(withoutControllers(diagram)), output, excitation, [
              frequency[0],
              frequency[frequency.length - 1],
            ]),
          ),
        )
      : [],
  }
}

/** The noise of sensors and actuators as drives, as far as it is known; with `beyond` silent where a table ends. */
export function noiseDrives(sources: IsolationModel['noiseSources'], beyond?: 'nothing'): Drive[] {
  return sources.flatMap(({ input, noise }) => {
    if (noise === null) return []
    const density = noise.amplitudeDensity.map((value) => value * value)
    const spectrum = { kind: 'Spectrum', quantity: 'unspecified', frequency: noise.frequency, density } as const
    return [{ input, spectrum: { ...spectrum, support: 'points' }, ...(beyond && { beyond }) }]
  })
}

export function velocitySpectrum({ frequency, density }: { frequency: Float64Array; density: Float64Array }): Spectrum {
  return { kind: 'Spectrum', quantity: 'velocity', frequency, density, support: 'points' }
}

/** √∫S df from each frequency to the last one. */
function runningRms(spectrum: Spectrum): Float64Array {
  const { frequency } = spectrum
  const result = new Float64Array(frequency.length)
  let sum = 0
  for (let k = frequency.length - 2; k >= 0; k--) {
    sum += meanSquare(spectrum, frequency[k], frequency[k + 1])
    result[k] = Math.sqrt(sum)
  }
  return result
}
