import { fail, type Scope, scopeOf, within } from '../internal/check.js'
import { hypotenuse } from '../linear/hypotenuse.js'
import { localMinimum } from '../linear/scalar-search.js'
import { anySystem, plainSystem } from './block.js'
import { crossings } from './crossings.js'
import { kernelOf, preparedKernel } from './kernel-of.js'
import { type LoopAxis, listedDownTo, loopAxis } from './loop-axis.js'
import { type ComplexFunction, refinedScan, type Scan } from './refined-scan.js'
import type { GainCrossover, LinearSystem, Margins, PhaseCrossover, StabilityVerdict } from './types.js'

/** Modulus below which rounding decides the phase of a loop, as below the zeros of a velocity sensor at the origin; above
 * the inverse of it lies a pole on the axis, where the phase jumps without a crossing. */
const negligibleGain = 1e-9

/** Error of a sample, as a share of it, that its turns do not show. */
const sampleError = 1e-4

/** Modulus that is rounding beside 1. */
const besideOne = 1e-13

interface AxisEnd {
  readonly factor: number
  readonly frequency: number
}

/** Margins of a loop L, closed as 1/(1 + L), with every crossover.
 *
 * The loop is sampled on a grid that knows its poles, its zeros, its closed-loop poles and its delays, refined until no
 * step turns L or 1 + L by more than 22.5°; each crossover is then found to rounding on the exact response. Phase
 * crossovers are listed where |L| lies between 1e-9 and 1e9; with delay, up to where it stays below 1e-3.
 * @param loop - one input, one output, continuous or discrete; `openLoop` makes one from a diagram. A discrete loop is read
 * on the unit circle up to half its sample rate; its delay margin is in seconds too
 * @returns see {@link Margins}; overall margins are null for a loop that is not stable when closed, apart from the modulus
 * margin
 * @throws {@link IsolationError} `dimension-mismatch`, `algebraic-loop`, `no-convergence`; `unsupported` with a delay
 * where the gain does not roll off
 * @source K. J. Åström, R. M. Murray, Feedback Systems, 2008, sections 9.3 and 11.3
 * @example
 * import { margins, transferFunction } from 'restmass'
 * const loop = transferFunction({ numerator: [1], denominator: [1, 2, 1, 0] })
 * margins(loop).gainMargin // 2.0000
 */
export function margins(loop: LinearSystem): Margins {
  return marginsKnowing(loop)
}

/** The same for a loop whose verdict when closed may be known. */
export function marginsKnowing(loop: LinearSystem, closedLoop?: StabilityVerdict): Margins {
  const { ends: _, ...found } = marginsOf(scopeOf('margins'), loop, closedLoop)
  return found
}

/** The same, with the gain factors at which L passes through −1 at the ends of the axis, and where these are [Hz]; the
 * verdict on the closed loop is worked out where it is not known. */
export function marginsOf(
  scope: Scope,
  loop: LinearSystem,
  closedLoop?: StabilityVerdict,
): Margins & { readonly ends: readonly AxisEnd[] } {
  const plain = plainSystem(within(scope, 'loop'), loop)
  if (plain.inputs.length !== 1 || plain.outputs.length !== 1) {
    fail(
      'dimension-mismatch',
      within(scope, 'loop'),
      `must have one input and one output, got ${plain.inputs.length} and ${plain.outputs.length}`,
    )
  }
  const kernel = () =>
    loop.kind === 'PreparedSystem' ? preparedKernel(loop) : kernelOf(plain, [0], [0], Number.POSITIVE_INFINITY)
  const axis = loopAxis(scope, anySystem(scope, plain), kernel, closedLoop)
  const scan = refinedScan(
    scope,
    (omega) => axis.evaluate(omega, negligibleGain, sampleError),
    axis.seeds,
    negligibleGain,
  )
  const gainCrossovers = findGainCrossovers(axis.evaluate, scan)
  const limit = axis.delayed ? lastAbove(scan, listedDownTo) : axis.endFrequency
  const phaseCrossovers = findPhaseCrossovers(axis.evaluate, scan).filter(
    ({ frequency }) => 2 * Math.PI * frequency <= limit,
  )
  const ends = [
    { value: axis.evaluate(0, negligibleGain)?.re ?? 0, frequency: 0 },
    { value: axis.end, frequency: axis.endFrequency / (2 * Math.PI) },
  ].flatMap(({ value, frequency }) => (value < -negligibleGain ? [{ factor: -1 / value, frequency }] : []))
  return {
    kind: 'Margins',
    closedLoop: axis.closedLoop,
    ...overallMargins(axis, gainCrossovers, phaseCrossovers, ends),
    ...modulus(axis, scan),
    gainCrossovers,
    phaseCrossovers,
    ends,
  }
}

function lastAbove({ omega, re, im }: Scan, level: number): number {
  for (let k = omega.length - 1; k >= 0; k--) {
    if (hypotenuse(re[k], im[k]) >= level) return omega[Math.min(k + 1, omega.length - 1)]
  }
  return 0
}

function findGainCrossovers(evaluate: ComplexFunction, scan: Scan): GainCrossover[] {
  const level = (re: number, im: number) => Math.log(hypotenuse(re, im))
  return crossings(evaluate, scan, level).map(({ omega, re, im }) => {
    const phaseMargin = Math.atan2(-im, -re)
    const turn = phaseMargin < 0 ? phaseMargin + 2 * Math.PI : phaseMargin
    return {
      frequency: omega / (2 * Math.PI),
      phaseMarginDegrees: (phaseMargin * 180) / Math.PI,
      delayMargin: turn / omega,
    }
  })
}

function findPhaseCrossovers(evaluate: ComplexFunction, scan: Scan): PhaseCrossover[] {
  const angle = (re: number, im: number) => Math.atan2(-im, -re)
  return crossings(evaluate, scan, angle)
    .filter(({ re }) => re < -negligibleGain && re > -1 / negligibleGain)
    .map(({ omega, re, im }) => ({ frequency: omega / (2 * Math.PI), gainMargin: 1 / hypotenuse(re, im) }))
}

function modulus({ evaluate, end, endFrequency }: LoopAxis, scan: Scan) {
  const distances = scan.omega.map((_, k) => hypotenuse(1 + scan.re[k], scan.im[k]))
  const distance = (omega: number): number => {
    const value = evaluate(omega, besideOne)
    return value === null ? Number.POSITIVE_INFINITY : hypotenuse(1 + value.re, value.im)
  }
  let best = { x: 0, value: distance(0) }
  // What is only smaller by rounding does not move the place, so a minimum at 0 is told there.
  const consider = (x: number, value: number) => {
    if (value < best.value - 1e-14) best = { x, value }
  }
  // A pole at 0 that the loop does not show leaves no value there, but a limit.
  if (best.value === Number.POSITIVE_INFINITY && distances.length > 0) consider(scan.omega[0], distances[0])
  const lows = scan.omega.flatMap((_, k) => {
    const rise = Math.max(distances[k - 1] - distances[k], distances[k + 1] - distances[k])
    // The curve dips below its samples by less than it rises to the next ones.
    return rise >= 0 && distances[k - 1] >= distances[k] && distances[k + 1] >= distances[k]
      ? [{ k, least: distances[k] - rise }]
      : []
  })
  for (const { k, least } of lows.sort((a, b) => distances[a.k] - distances[b.k])) {
    if (distances[k] > 1.1 * best.value || least >= best.value - 1e-14) continue
    const { x, value } = localMinimum(distance, scan.omega[k - 1], scan.omega[k + 1])
    consider(x, value)
  }
  consider(endFrequency, Math.abs(1 + end))
  return { modulusMargin: best.value, modulusMarginFrequency: best.x / (2 * Math.PI) }
}

function overallMargins(
  { closedLoop }: LoopAxis,
  gainCrossovers: readonly GainCrossover[],
  phaseCrossovers: readonly PhaseCrossover[],
  ends: readonly AxisEnd[],
) {
  if (closedLoop !== 'stable') {
    return { gainMargin: null, gainReductionMargin: null, phaseMarginDegrees: null, delayMargin: null }
  }
  const factors = [...phaseCrossovers.map(({ gainMargin }) => gainMargin), ...ends.map(({ factor }) => factor)]
  const above = factors.filter((factor) => factor > 1)
  const below = factors.filter((factor) => factor < 1)
  const phases = gainCrossovers.map(({ phaseMarginDegrees }) => phaseMarginDegrees)
  return {
    gainMargin: above.length === 0 ? null : Math.min(...above),
    gainReductionMargin: below.length === 0 ? null : Math.max(...below),
    phaseMarginDegrees:
      phases.length === 0 ? null : phases.reduce((least, phase) => (Math.abs(phase) < Math.abs(least) ? phase : least)),
    delayMargin: gainCrossovers.length === 0 ? null : Math.min(...gainCrossovers.map(({ delayMargin }) => delayMargin)),
  }
}
