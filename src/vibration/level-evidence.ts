import { checkNumber, checkOneOf, checkOptional, fail, type Scope, within } from '../internal/check.js'
import type { BandDoubt, Criterion, DoubtCause } from './criterion-types.js'
import { levelBounds } from './level-confidence.js'
import { statistics } from './level-statistics.js'
import { lowerEdge } from './nominal-bands.js'
import type { BandsLiteral, LevelStatistic } from './types.js'

/** What is known about the errors of levels and limits. */
export interface Evidence {
  /** What may leave a band in doubt; empty takes levels and limits at face value */
  readonly causes: readonly DoubtCause[]
  /** Limits above which a band fails; those below which it passes are the criterion's own */
  readonly upper: Criterion
  /** Rms of the sensor's noise [m/s] by band index; refuses a band it does not hold */
  readonly noise: (index: number) => number
  readonly duration: number
  readonly confidence: number
  readonly statistic: LevelStatistic
  /** Share of the time [%] for which the levels were exceeded */
  readonly exceeded?: number
}

/** Options that {@link evidenceOf} reads. */
interface EvidenceOptions {
  readonly convention?: string
  readonly sensorNoise?: BandsLiteral
  readonly duration?: number
  readonly confidence?: number
  readonly statistic?: LevelStatistic | undefined
  readonly exceeded?: number | undefined
}

export function faceValue(upper: Criterion): Evidence {
  return { causes: [], upper, noise: () => 0, duration: 0, confidence: 0, statistic: 'average' }
}

export function evidenceOf(
  scope: Scope,
  options: EvidenceOptions,
  upper: Criterion,
  levelsOf: (scope: Scope, bands: BandsLiteral) => Map<number, number>,
): Evidence {
  const at = within(scope, 'sensorNoise')
  const { sensorNoise, duration, confidence } = options
  const noise = sensorNoise === undefined ? null : levelsOf(at, sensorNoise)
  const statistic =
    options.statistic === undefined ? 'average' : checkOneOf(scope, 'statistic', options.statistic, statistics)
  if (duration !== undefined && statistic !== 'average') {
    fail('invalid-option', within(scope, 'duration'), `must be left out for a statistic of '${statistic}'`)
  }
  if (duration === undefined && confidence !== undefined) {
    fail('invalid-option', within(scope, 'confidence'), 'must come with duration')
  }
  const causes: DoubtCause[] = []
  if (noise !== null) causes.push('sensor')
  if (duration !== undefined) causes.push('record')
  if (options.convention === 'either') causes.push('convention')
  return {
    causes,
    upper,
    noise: (index) => noise?.get(index) ?? fail('invalid-option', at, 'must hold every band that is judged'),
    duration:
      duration === undefined ? 0 : checkNumber(scope, 'duration', duration, { unit: 's', above: 0, atMost: 1e12 }),
    confidence: checkOptional(scope, 'confidence', confidence, { atLeast: 0.5, below: 1 }, 0.95),
    statistic,
    ...(options.exceeded === undefined || statistic !== 'percentile' ? {} : { exceeded: options.exceeded }),
  }
}

/** Where a level stands against its limits: those below which it passes and above which it fails. */
export function stateOf(
  index: number,
  rms: number,
  limits: readonly [number, number],
  evidence: Evidence,
): 'pass' | 'fail' | Omit<BandDoubt, 'nominal'> {
  const judge = (causes: readonly DoubtCause[]): 'pass' | 'fail' | readonly [number, number] => {
    const [low, high] = trueLevel(index, rms, causes, evidence)
    if (high <= limits[0]) return 'pass'
    return low > limits[causes.includes('convention') ? 1 : 0] ? 'fail' : [low, high]
  }
  const all = judge(evidence.causes)
  if (typeof all === 'string') return all
  const alone = evidence.causes.filter((cause) => typeof judge([cause]) !== 'string')
  return { atLeast: all[0], atMost: all[1], causes: alone.length > 0 ? alone : evidence.causes }
}

/** Bounds of the true level: noise only ever adds, a short record scatters both ways. */
function trueLevel(
  index: number,
  rms: number,
  causes: readonly DoubtCause[],
  { noise, duration, confidence }: Evidence,
): readonly [number, number] {
  const bandwidth = lowerEdge(index + 1) - lowerEdge(index)
  const scatter = causes.includes('record') ? levelBounds(2 * bandwidth * duration, confidence) : [1, 1]
  const own = causes.includes('sensor') ? noise(index) : 0
  const low = rms * scatter[0]
  return [low > own ? Math.sqrt((low - own) * (low + own)) : 0, rms === 0 ? 0 : rms * scatter[1]]
}
