import { checkNumber, checkOptional, checkOptions, scopeOf } from '../internal/check.js'
import { finiteResult } from '../internal/finite-result.js'
import { channel } from '../systems/channel.js'
import type { Diagram } from '../systems/diagram.js'
import { frequencyResponse } from '../systems/frequency-response.js'
import { magnitude } from '../systems/series-values.js'
import type { StateSpace } from '../systems/types.js'
import { levellingBound, levellingLoopOf } from './levelling-limit.js'
import type { IsolationModel } from './model.js'

/** Options of {@link onOffLevelling}. */
export interface OnOffLevellingOptions {
  /** Speed at which an open valve moves the payload at rest, volume flow over area [m/s], above 0 */
  readonly rate: number
  /** Height error on either side at which the valve opens [m], at least 0. @defaultValue 0 */
  readonly deadBand?: number
}

/** What becomes of a payload whose height valve is open or shut; made by {@link onOffLevelling}. */
export interface OnOffLevelling {
  readonly kind: 'OnOffLevelling'
  /** The lasting oscillation; null where there is none */
  readonly limitCycle: null | {
    /** Amplitude of the height [m]; Infinity where nothing damps the payload */
    readonly amplitude: number
    /** [Hz]; null where the amplitude is Infinity */
    readonly frequency: number | null
    /** Amplitude of a disturbance above which it starts [m]; smaller ones die out */
    readonly threshold: number
  }
  /** Half-width of the dead band above which there is no limit cycle [m]; 0 where there is none anyhow */
  readonly stoppingDeadBand: number
}

/** Limit cycle of height control by valves that are open or shut, and the dead band that stops it.
 *
 * By describing function: a valve of rate v with dead band ±δ acts on a height of amplitude a like a linear one of
 * κ = 4v/(π·a)·√(1 − (δ/a)²). The cycle lasts where that is the limit κ_max of `levellingLimit`; the largest κ is
 * 2v/(π·δ), so that δ > 2v/(π·κ_max) stops it. Only the fundamental is counted, which holds the better the less the payload
 * is damped; valves that switch late are described by `delay` of the levelling.
 *
 * A payload that hunts wears valves and may tip: restrain it as local codes demand.
 * @param model - with levelling, whose flowGain is not looked at; sensor, controller and delay stay in place
 * @param options - see {@link OnOffLevellingOptions}; with a controller of other gain than 1 the dead band is its output
 * @returns see {@link OnOffLevelling}
 * @throws {@link IsolationError} `invalid-option` for a model without levelling, `out-of-range`, `not-finite`
 * @source A. Gelb, W. E. Vander Velde, Multiple-Input Describing Functions and Nonlinear System Design, 1968, chapter 3
 * @example
 * import { airSpring, onOffLevelling, pneumaticIsolation } from 'restmass'
 * const mount = airSpring({ area: 0.01, volume: 0.002, load: 2451.6625, diaphragmDamping: 800 })
 * const model = pneumaticIsolation({ payload: { mass: 1000 }, mount, count: 4, levelling: { flowGain: 0.005 } })
 * onOffLevelling(model, { rate: 3e-4 }).limitCycle?.amplitude // 1.19366e-4
 */
export function onOffLevelling(model: IsolationModel, options: OnOffLevellingOptions): OnOffLevelling {
  const scope = scopeOf('onOffLevelling')
  checkOptions(scope, options, ['rate', 'deadBand'])
  const speed = checkNumber(scope, 'rate', options.rate, { unit: 'm/s', above: 0 })
  const deadBand = checkOptional(scope, 'deadBand', options.deadBand, { unit: 'm', atLeast: 0 }, 0)
  const { diagram, port, valve } = levellingLoopOf(scope, model)
  const { rate, frequency } = levellingBound(diagram, port)
  const kind = 'OnOffLevelling'
  if (rate === null) return { kind, limitCycle: null, stoppingDeadBand: 0 }
  const free = rate === 0 ? Number.POSITIVE_INFINITY : finiteResult(scope, 'dead band', (4 * speed) / (Math.PI * rate))
  const stoppingDeadBand = free / 2
  if (deadBand >= stoppingDeadBand) return { kind, limitCycle: null, stoppingDeadBand }
  if (frequency === null) {
    return { kind, limitCycle: { amplitude: free, frequency, threshold: deadBand }, stoppingDeadBand }
  }
  // a² of both crossings from a⁴ − a²·free² + δ²·free² = 0; the product of the roots keeps the digits of the smaller one.
  const half = deadBand / stoppingDeadBand
  const amplitude = free * Math.sqrt((1 + Math.sqrt(1 - half ** 2)) / 2)
  const seen = passedBy(diagram, valve, frequency)
  const threshold = (deadBand * free) / amplitude
  return { kind, limitCycle: { amplitude: amplitude / seen, frequency, threshold: threshold / seen }, stoppingDeadBand }
}

/** How much of the height sensor and controller pass at a frequency. */
function passedBy(diagram: Diagram, valve: string, frequency: number): number {
  const prefix = valve.slice(0, -'valve'.length)
  return ['heightSensor', 'heightController'].reduce((gain, name) => {
    const block = diagram.blocks[prefix + name] as StateSpace | undefined
    if (block === undefined) return gain
    const [input, output] = [block.inputs[0], block.outputs[0]]
    return gain * magnitude(channel(frequencyResponse(block, [frequency]), { input, output }))[0]
  }, 1)
}
