import { checkNumber, checkOptional, checkOptions, fail, type Scope, scopeOf, show, within } from '../internal/check.js'
import { checkLateral, mountRecord } from './check-mount.js'
import { type ElastomerLaw, fitElastomer, type RelaxationFit } from './elastomer-fit.js'
import type { ElastomerMount, Mount } from './types.js'

/** Options of {@link elastomerMount}. */
export interface ElastomerMountOptions {
  /** Re K at the geometric mean of the band [N/m], above 0 */
  readonly stiffness: number
  /** Im K / Re K inside the band, above 0, at most 3 */
  readonly lossFactor: number
  /** Band in which the loss factor holds, lower and upper end [Hz], up to six decades */
  readonly band: readonly [number, number]
  /** `stiffness` over K(0), the dynamic-to-static ratio, above 1 and at most 1e6. @defaultValue what the relaxation spectrum
   * leaves below a tenth of the lower end of the band */
  readonly staticRatio?: number
  /** The mount sideways, in shear. @defaultValue not known */
  readonly lateral?: Mount
}

/** A rubber-like mount whose loss factor is constant over a band, as a spring and relaxing branches.
 *
 * Approximates K(jω) = k·(jω/ω_r)^α / cos(πα/2), α = (2/π)·atan lossFactor, ω_r the geometric mean of the band: causal, so it
 * also works in time, unlike a complex constant. Branch times are spaced by 1.5 per decade, from a decade below to a decade
 * above the band; their stiffnesses come from non-negative least squares with K(0) and Re K(ω_r) held exactly. Outside the
 * band the loss fades. Rubber also depends on amplitude, temperature and preload, which a linear model does not.
 *
 * The least `staticRatio` follows from the loss factor: stiffness cannot rise with frequency by less than the losses demand.
 * A ratio is accepted where the fit stays within 2 % of the stiffness and 5 % of the loss factor all over the band.
 * @param options - see {@link ElastomerMountOptions}
 * @returns the mount, with the worst deviations found in the band
 * @throws {@link IsolationError} `invalid-option`, `not-finite`; `out-of-range`, also for a staticRatio below the least
 * @source R. L. Bagley, P. J. Torvik, A theoretical basis for the application of fractional calculus to viscoelasticity,
 * Journal of Rheology 27, 1983 (the law); derived (the fit)
 * @example
 * import { elastomerMount } from 'restmass'
 * const mount = elastomerMount({ stiffness: 7e5, lossFactor: 0.1, band: [5, 200], staticRatio: 1.4 })
 * mount.stiffness // 500000
 */
export function elastomerMount(options: ElastomerMountOptions): ElastomerMount {
  const scope = scopeOf('elastomerMount')
  checkOptions(scope, options, ['stiffness', 'lossFactor', 'band', 'staticRatio', 'lateral'])
  const stiffness = checkNumber(scope, 'stiffness', options.stiffness, { unit: 'N/m', above: 0 })
  const lossFactor = checkNumber(scope, 'lossFactor', options.lossFactor, { above: 0, atMost: 3 })
  const band = checkBand(scope, options.band)
  const staticRatio = checkOptional(scope, 'staticRatio', options.staticRatio, { above: 1, atMost: 1e6 }, undefined)
  const law: ElastomerLaw = { lossFactor, lower: 2 * Math.PI * band[0], upper: 2 * Math.PI * band[1] }
  const fit = fitElastomer(scope, law, staticRatio)
  if (staticRatio !== undefined && !accepted(fit)) refuseRatio(scope, law, staticRatio)
  const relaxations = fit.branches.map((branch) => ({ stiffness: stiffness * branch.stiffness, time: branch.time }))
  return {
    ...mountRecord(scope, {
      stiffness: stiffness / fit.staticRatio,
      damping: 0,
      relaxations,
      ...checkLateral(scope, options.lateral),
    }),
    kind: 'ElastomerMount',
    lossFactor,
    band,
    staticRatio: fit.staticRatio,
    fit: { stiffnessDeviation: fit.stiffnessDeviation, lossFactorDeviation: fit.lossFactorDeviation },
  }
}

function checkBand(scope: Scope, band: unknown): readonly [number, number] {
  const at = within(scope, 'band')
  if (!Array.isArray(band) || band.length !== 2) {
    fail('invalid-option', at, `must be [lower, upper] in Hz, got ${show(band)}`, { unit: 'Hz' })
  }
  const lower = checkNumber(at, 0, band[0], { unit: 'Hz', above: 0 })
  return [lower, checkNumber(at, 1, band[1], { unit: 'Hz', above: lower, atMost: 1e6 * lower })]
}

function accepted(fit: RelaxationFit): boolean {
  return fit.stiffnessDeviation <= 0.02 && fit.lossFactorDeviation <= 0.05
}

/** Says which ratio would have done: bisection between the refused one and the natural one. */
function refuseRatio(scope: Scope, law: ElastomerLaw, refused: number): never {
  let low = refused
  let high = fitElastomer(scope, law, undefined).staticRatio
  if (!(high > low)) fail('no-convergence', scope, 'could not fit the relaxing branches to the band')
  for (let step = 0; step < 20; step++) {
    const middle = 1 + Math.sqrt(low - 1) * Math.sqrt(high - 1)
    if (accepted(fitElastomer(scope, law, middle))) high = middle
    else low = middle
  }
  const least = `at least about 1 + ${(high - 1).toPrecision(3)}`
  const says = `must be ${least} for a loss factor of ${law.lossFactor} over this band, got ${refused}`
  fail('out-of-range', within(scope, 'staticRatio'), says, { value: refused, allowed: least })
}
