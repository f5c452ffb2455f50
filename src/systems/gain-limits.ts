import { type Scope, scopeOf } from '../internal/check.js'
import { fourDigits } from '../internal/four-digits.js'
import { anySystem } from './block.js'
import { closeLoop } from './close-loop.js'
import { continuousForm } from './dense-system.js'
import { marginsOf } from './margins.js'
import { stabilityOf } from './stability.js'
import type { DiscreteStateSpace, LinearSystem, Matrix, StabilityVerdict, StateSpace } from './types.js'

/** Gains of a loop, as factors on its present gain, between which it is stable. */
export interface StableGains {
  /** Lower limit; 0 is an open loop */
  readonly from: number
  /** Upper limit; Infinity where there is none */
  readonly to: number
  /** Where it oscillates at the lower limit [Hz]; null at 0 */
  readonly fromFrequency: number | null
  /** Where it oscillates at the upper limit [Hz], Infinity where it runs away at once; null without upper limit */
  readonly toFrequency: number | null
}

/** What {@link gainLimits} finds. */
export interface GainLimits {
  readonly kind: 'GainLimits'
  /** At the present gain */
  readonly closedLoop: StabilityVerdict
  /** Every range of positive factors at which the closed loop is stable, ascending */
  readonly stable: readonly StableGains[]
  /** What to do in a sentence: the nearest limits, and where they are */
  readonly diagnosis: string
}

interface Limit {
  readonly factor: number
  readonly frequency: number | null
}

/** Positive gains at which a loop L, closed as 1/(1 + k L), is stable, and the frequencies at their limits.
 *
 * The limits are the gains at which L passes through −1: at each phase crossover, at 0 Hz and at the upper end of the axis.
 * Between two of them the verdict cannot change; it is found once by `stability`.
 * @param loop - one input, one output, continuous or discrete; `openLoop` makes one from a diagram
 * @returns see {@link GainLimits}; with delay, factors above 1000 are not looked at
 * @throws {@link IsolationError} those of `margins`
 * @source S. Skogestad, I. Postlethwaite, Multivariable Feedback Control, 2nd edition 2005, section 2.4 (gain margins)
 * @example
 * import { gainLimits, transferFunction } from 'restmass'
 * const loop = transferFunction({ numerator: [3], denominator: [1, 2, 1, 0] })
 * gainLimits(loop).stable[0].to // 0.66667
 */
export function gainLimits(loop: LinearSystem): GainLimits {
  const scope = scopeOf('gainLimits')
  const { phaseCrossovers, closedLoop, ends } = marginsOf(scope, loop)
  const system = anySystem(scope, loop)
  const limits: Limit[] = [
    ...phaseCrossovers.map(({ gainMargin, frequency }) => ({ factor: gainMargin, frequency })),
    ...ends,
  ]
  limits.sort((a, b) => a.factor - b.factor)
  const edges: Limit[] = [
    { factor: 0, frequency: null },
    ...limits,
    { factor: Number.POSITIVE_INFINITY, frequency: null },
  ]
  const stable: { -readonly [K in keyof StableGains]: StableGains[K] }[] = []
  for (let k = 1; k < edges.length; k++) {
    const [lower, upper] = [edges[k - 1], edges[k]]
    if (!(upper.factor > lower.factor * (1 + 1e-9))) continue
    const inside = upper.factor === Number.POSITIVE_INFINITY ? 2 * lower.factor || 1 : (lower.factor + upper.factor) / 2
    if (verdictAt(scope, system, inside) !== 'stable') continue
    const last = stable[stable.length - 1]
    if (last !== undefined && last.to === lower.factor)
      Object.assign(last, { to: upper.factor, toFrequency: upper.frequency })
    else
      stable.push({
        from: lower.factor,
        to: upper.factor,
        fromFrequency: lower.frequency,
        toFrequency: upper.frequency,
      })
  }
  return { kind: 'GainLimits', closedLoop, stable, diagnosis: diagnosis(closedLoop, stable) }
}

function verdictAt(scope: Scope, loop: StateSpace | DiscreteStateSpace, factor: number): StabilityVerdict {
  const times = (M: Matrix) => M.map((row) => row.map((value) => factor * value))
  const raised = { C: times(loop.C), D: times(loop.D) }
  if (loop.kind === 'DiscreteStateSpace') {
    const { A, B, C, D } = closeLoop(scope, continuousForm({ ...loop, ...raised }))
    return stabilityOf(scope, { ...loop, A, B, C, D }).verdict
  }
  const delays = loop.delays === null ? null : { ...loop.delays, D12: times(loop.delays.D12) }
  return stabilityOf(scope, closeLoop(scope, { ...loop, ...raised, delays })).verdict
}

function diagnosis(verdict: StabilityVerdict, stable: readonly StableGains[]): string {
  if (stable.length === 0) return `${verdict}; no positive gain is stable`
  // Limits at 0 and Infinity, which have no frequency, are not told.
  const at = (factor: number, frequency: number | null) =>
    `${fourDigits(factor)} times the gain, at ${fourDigits(frequency as number)} Hz`
  const range = stable.find(({ from, to }) => from <= 1 && to >= 1)
  if (verdict === 'stable' && range !== undefined) {
    const down = range.from === 0 ? '' : ` from ${at(range.from, range.fromFrequency)},`
    return `stable${down} up to ${range.to === Number.POSITIVE_INFINITY ? 'any gain' : at(range.to, range.toFrequency)}`
  }
  const below = stable.filter(({ to }) => to <= 1).pop()
  const above = stable.find(({ from }) => from >= 1)
  const cures = [
    ...(below === undefined ? [] : [`below ${at(below.to, below.toFrequency)}`]),
    ...(above === undefined ? [] : [`above ${at(above.from, above.fromFrequency)}`]),
  ]
  return `${verdict}; stable ${cures.join(', or ')}`
}
