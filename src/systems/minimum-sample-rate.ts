import { checkNumber, checkOptional, checkOptions, checkRecord, scopeOf } from '../internal/check.js'
import type { Diagram } from './diagram.js'
import { type DigitalControllerOptions, digitalLoop } from './digital-loop.js'
import { margins } from './margins.js'

/** Options of {@link minimumSampleRate}. */
export interface MinimumSampleRateOptions extends DigitalControllerOptions {
  /** Further computing delay in samples, 0 to 10. @defaultValue 1 */
  readonly delaySamples?: number
  /** Least min |1 + L|, from 0 to 1. @defaultValue 0.5 (common practice, no source) */
  readonly modulusMargin?: number
  /** Lowest rate to try [Hz], above 0 */
  readonly from: number
  /** Highest rate to try [Hz], above `from`, at most a million times it */
  readonly to: number
}

/** How slow a digital controller may run. */
export interface SampleRateLimit {
  readonly kind: 'SampleRateLimit'
  /** Rate below which the margin is lost [Hz]; `from` where it is kept down to there; null where it is not kept at `to` */
  readonly sampleRate: number | null
  /** Whether it is lost within the range, kept all the way, or not there at the highest rate */
  readonly verdict: 'limited' | 'kept' | 'lost'
  /** Asked for */
  readonly modulusMargin: number
  /** Modulus margin at `to`; 0 for a loop that is not stable there */
  readonly marginAtHighest: number
}

/** Ratio of neighbouring rates of the scan. */
const step = 2 ** (1 / 8)

/** The sample rate below which a digital controller loses the modulus margin of its loop.
 *
 * Rates are tried from `to` down, eight in an octave, until the loop of `digitalLoop` is unstable or comes nearer to −1 than
 * asked; the rate is then found to 1e-6. A margin that is lost and regained between two rates tried is not seen.
 * @param diagram - without delays
 * @param options - see {@link MinimumSampleRateOptions}
 * @returns see {@link SampleRateLimit}
 * @throws {@link IsolationError} those of `digitalLoop` and `margins`
 * @source derived: margins of the sampled loop over the sample rate
 * @example
 * import { diagram, gain, integrator, minimumSampleRate } from 'restmass'
 * const wires = { 'plant.u1': '-controller.y1', 'controller.u1': 'plant.y1' } as const
 * const loop = diagram({ blocks: { plant: integrator(), controller: gain(50) }, inputs: [], outputs: {}, wires })
 * const options = { controller: 'controller', delaySamples: 0, from: 1, to: 1e4 }
 * minimumSampleRate(loop, options).sampleRate // 50.000
 */
export function minimumSampleRate(diagram: Diagram, options: MinimumSampleRateOptions): SampleRateLimit {
  const scope = scopeOf('minimumSampleRate')
  const { delaySamples, modulusMargin, from, to, computingDelay, ...controller } = checkRecord(scope, options)
  checkOptions(scope, controller, ['controller', 'method', 'prewarp'])
  const samples = checkOptional(scope, 'delaySamples', delaySamples, { atLeast: 0, atMost: 10 }, 1)
  const least = checkOptional(scope, 'modulusMargin', modulusMargin, { atLeast: 0, atMost: 1 }, 0.5)
  const lowest = checkNumber(scope, 'from', from, { unit: 'Hz', above: 0 })
  const highest = checkNumber(scope, 'to', to, { unit: 'Hz', above: lowest, atMost: 1e6 * lowest })
  const late = checkOptional(
    scope,
    'computingDelay',
    computingDelay,
    { unit: 's', atLeast: 0, atMost: 90 / highest },
    0,
  )
  const marginAt = (rate: number): number => {
    const loop = digitalLoop(diagram, { ...controller, sampleTime: 1 / rate, computingDelay: late + samples / rate })
    const found = margins(loop)
    return found.closedLoop === 'stable' ? found.modulusMargin : 0
  }
  const isEnough = (margin: number) => margin > 0 && margin >= least
  const kept = (rate: number) => isEnough(marginAt(rate))
  const marginAtHighest = marginAt(highest)
  const result = { kind: 'SampleRateLimit', modulusMargin: least, marginAtHighest } as const
  if (!isEnough(marginAtHighest)) return { ...result, sampleRate: null, verdict: 'lost' }
  let good = highest
  while (good > lowest) {
    let bad = Math.max(lowest, good / step)
    if (kept(bad)) {
      good = bad
      continue
    }
    while (good / bad > 1 + 1e-6) {
      const middle = Math.sqrt(good * bad)
      if (kept(middle)) good = middle
      else bad = middle
    }
    return { ...result, sampleRate: good, verdict: 'limited' }
  }
  return { ...result, sampleRate: lowest, verdict: 'kept' }
}
