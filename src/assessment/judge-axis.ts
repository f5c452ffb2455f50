import { type Scope, within } from '../internal/check.js'
import { compliancePeak, type IsolationSummary, summaryOf } from '../isolation/isolation-summary.js'
import type { IsolationModel } from '../isolation/model.js'
import { slopeAtZero } from '../systems/slope-at-zero.js'
import type { StateSpace } from '../systems/types.js'
import { type CompareToCriterionOptions, compareToCriterion } from '../vibration/compare-to-criterion.js'
import type { Criterion, CriterionComparison } from '../vibration/criterion-types.js'
import { checkCovered } from '../vibration/mean-square.js'
import { oneThirdOctaveBands } from '../vibration/one-third-octave-bands.js'
import { rms } from '../vibration/rms.js'
import type { Bands, LevelStatistic, Spectrum } from '../vibration/types.js'
import { coveredBands } from './covered-bands.js'
import { intervalsAbove } from './intervals-above.js'
import { budgetAlong, type NoiseBudget, velocitySpectrum } from './noise-budget.js'
import { type Drive, densityAt, predictedDensity } from './predicted-density.js'
import type { JudgedAxis, SiteAxis } from './site.js'

/** A payload along one axis of a site. */
export interface AxisAssessment {
  /** null for a model of one axis on a floor without axes */
  readonly axis: SiteAxis | null
  /** One-third-octave velocities of the floor [m/s] */
  readonly floorBands: Bands
  /** The floor held against the criterion */
  readonly floor: CriterionComparison
  /** One-third-octave velocities of the payload [m/s], with the noise of sensors and actuators as far as it is known; null
   * without a steady state */
  readonly bands: Bands | null
  /** The payload held against the criterion; null without a steady state */
  readonly payload: CriterionComparison | null
  /** Root mean square velocity of the payload over all that the spectra cover [m/s]; null without a steady state */
  readonly rms: number | null
  /** Where the payload moves more than the bare floor, by more than 1 % in density: intervals [from, to] in Hz */
  readonly worseThanFloor: readonly (readonly [number, number])[]
  /** Velocity of the payload by source; null without a steady state */
  readonly noise: NoiseBudget | null
  readonly transmissibility: IsolationSummary
  /** Static deflection of the payload per force [m/N]; null for a model that is not stable */
  readonly staticCompliance: number | null
  /** Largest displacement of the payload per force on it [m/N], and at which frequency [Hz]; null for a model that is not stable */
  readonly peakCompliance: { readonly value: number; readonly frequency: number } | null
  /** Root mean square force on the floor [N]; null without a steady state */
  readonly floorForce: number | null
  /** One-third-octave velocities that this force gives a neighbour on the same floor [m/s]; null for a floor that does not
   * give way, or without a neighbour */
  readonly neighbourBands: Bands | null
}

/** What all axes of a site have in common. */
export interface SiteConditions {
  readonly criterion: Criterion
  readonly statistic: LevelStatistic
  readonly evidence: Pick<CompareToCriterionOptions, 'duration' | 'confidence'>
  /** Velocity noise of the sensor that measured the floor; null if none was given */
  readonly sensorNoise: Spectrum | null
  readonly drives: readonly Drive[]
  /** Noise of sensors and actuators of the model */
  readonly noise: readonly Drive[]
  /** Whether there is a steady state */
  readonly steady: boolean
}

export function judgeAxis(
  scope: Scope,
  model: IsolationModel,
  judged: JudgedAxis,
  site: SiteConditions,
): AxisAssessment {
  const { axis, end, floor } = judged
  const { closed } = model
  const floorBands = coveredBands(scope, floor, site.criterion)
  const still = {
    axis,
    floorBands,
    floor: held(scope, site, floorBands, site.sensorNoise),
    transmissibility: summaryOf(scope, closed, end),
  }
  if (!site.steady) {
    const none = { bands: null, payload: null, rms: null, noise: null, staticCompliance: null, floorForce: null }
    return { ...still, ...none, peakCompliance: null, worseThanFloor: [], neighbourBands: null }
  }
  const noise = budgetAlong(scope, model, end, site.drives, site.noise)
  const bands = coveredBands(scope, noise.total, site.criterion)
  const { frequency } = noise.total
  const on = (output: string) =>
    velocitySpectrum({ frequency, density: densityAt(closed, output, [...site.drives, ...site.noise], frequency) })
  const staticCompliance = slopeAtZero(closed, { input: `payloadForce${end}`, output: `payloadVelocity${end}` })
  const { amplification, frequency: peakFrequency } = compliancePeak(scope, closed, end, Math.abs(staticCompliance))
  return {
    ...still,
    bands,
    payload: payloadHeld(scope, closed, end, site, bands),
    rms: rms(noise.total),
    worseThanFloor: intervalsAbove(noise.total, floor),
    noise,
    staticCompliance,
    peakCompliance: { value: amplification, frequency: peakFrequency },
    floorForce: rms(on(`floorForce${end}`)),
    neighbourBands: closed.outputs.includes(`neighbourVelocity${end}`)
      ? coveredBands(scope, on(`neighbourVelocity${end}`), site.criterion)
      : null,
  }
}

/** Bands of a payload held against the criterion, with what they may owe to the sensor that measured the floor. */
export function payloadHeld(
  scope: Scope,
  closed: StateSpace,
  end: string,
  site: SiteConditions,
  bands: Bands,
): CriterionComparison {
  const { sensorNoise } = site
  if (sensorNoise === null) return held(scope, site, bands, null)
  const drives = [{ input: `floorVelocity${end}`, spectrum: sensorNoise }]
  return held(scope, site, bands, velocitySpectrum(predictedDensity(scope, closed, `payloadVelocity${end}`, drives)))
}

function held(scope: Scope, site: SiteConditions, bands: Bands, noise: Spectrum | null): CriterionComparison {
  return compareToCriterion(bands, site.criterion, {
    ...site.evidence,
    statistic: site.statistic,
    ...(noise === null ? {} : { sensorNoise: sameBands(scope, noise, bands) }),
  })
}

/** The bands of a noise that a level is held against. */
function sameBands(scope: Scope, noise: Spectrum, { bands }: Bands): Bands {
  const [first, last] = [bands[0], bands[bands.length - 1]]
  checkCovered(within(scope, 'sensorNoise'), noise, first.lower, last.upper, 'frequency')
  return oneThirdOctaveBands(noise, { from: first.nominal, to: last.nominal })
}
