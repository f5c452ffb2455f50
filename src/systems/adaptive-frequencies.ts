import { checkNumber, checkOptions, fail, type Scope, scopeOf, within } from '../internal/check.js'
import { denseFrom } from '../linear/dense.js'
import type { Eigenvalues } from '../linear/eigenvalues.js'
import { hypotenuse } from '../linear/hypotenuse.js'
import { anySystem } from './block.js'
import { continuousForm, denseSystem } from './dense-system.js'
import { eigenvaluesOf } from './eigenvalues-of.js'
import { angularFrequency, axisPoint } from './frequency-response.js'
import { ascending, landmarkFrequencies } from './landmarks.js'
import { logarithms } from './loop-axis.js'
import { notedResponse } from './noted-response.js'
import { relevantPart } from './relevant-states.js'
import { withoutDelays } from './series-delay.js'
import { systemSeeds } from './system-seeds.js'
import type { DiscreteStateSpace, LinearSystem, StateSpace } from './types.js'
import { invariantZeros } from './zeros.js'

/** Options of {@link adaptiveFrequencies}. */
export interface AdaptiveFrequenciesOptions {
  /** First frequency [Hz], above 0 */
  readonly from: number
  /** Last frequency [Hz], above `from`; up to half the sample rate of a discrete system */
  readonly to: number
  /** Largest relative error of a modulus read between two frequencies, from 1e-6 to 1 */
  readonly tolerance: number
}

const mostEvaluations = 400_000
/** Evaluations times the square of the states; a matter of half a minute. */
const mostWork = 1.2e9
/** Relative step below which the grid is not refined. */
const closest = 1e-9
const influence = 0.1

/** Frequencies between which the modulus of every channel may be read along straight lines of log modulus over log frequency.
 *
 * Sampling starts around every pole of the system and every zero of every channel, so that none is missed however lightly it
 * is damped, and goes on between until the chord is right at the middle and both quarters. An undamped pole or zero is
 * approached to 1e-9 of its frequency, where no grid can follow it; a modulus below 1e-13 of the largest balanced state is
 * rounding and left alone. With delays, the zeros started from are those with the delays cut and with them at zero.
 * @param system - continuous or discrete
 * @param options - see {@link AdaptiveFrequenciesOptions}
 * @returns ascending frequencies [Hz], both ends among them
 * @throws {@link IsolationError} `no-convergence` beyond 400 000 evaluations, fewer from 60 states on; `singular` for a pole at one of the ends;
 * `out-of-range`, `invalid-option`
 * @source derived: adaptive bisection with chords in log-log
 * @example
 * import { adaptiveFrequencies, transferFunction } from 'restmass'
 * const lag = transferFunction({ numerator: [1], denominator: [1, 1] })
 * const grid = adaptiveFrequencies(lag, { from: 0.01, to: 1, tolerance: 0.01 })
 * grid[grid.length - 1] // 1
 */
export function adaptiveFrequencies(system: LinearSystem, options: AdaptiveFrequenciesOptions): Float64Array {
  const scope = scopeOf('adaptiveFrequencies')
  checkOptions(scope, options, ['from', 'to', 'tolerance'])
  const form = anySystem(within(scope, 'system'), system)
  const limit = form.kind === 'StateSpace' ? {} : { atMost: 1 / (2 * form.sampleTime) }
  const from = checkNumber(scope, 'from', options.from, { unit: 'Hz', above: 0 })
  const to = checkNumber(scope, 'to', options.to, { unit: 'Hz', above: from, ...limit })
  const tolerance = checkNumber(scope, 'tolerance', options.tolerance, { atLeast: 1e-6, atMost: 1 })
  const at = levelsAt(scope, form)
  const grid: number[] = []
  let left: Sample | null = null
  for (const frequency of startingGrid(scope, form, from, to)) {
    const levels = at(frequency)
    if (levels === null) {
      if (frequency !== from && frequency !== to) continue
      fail('singular', within(scope, frequency === from ? 'from' : 'to'), `is a pole at ${frequency} Hz`)
    }
    const right: Sample = { frequency, levels }
    if (left !== null) fill(at, left, right, Math.log1p(tolerance), grid)
    grid.push(frequency)
    left = right
  }
  return Float64Array.from(grid)
}

interface Sample {
  readonly frequency: number
  /** ln of the modulus of each channel */
  readonly levels: Float64Array
}

type LevelsAt = (frequency: number) => Float64Array | null

/** Evaluator that gives up beyond a number of calls; null on a pole. */
function levelsAt(scope: Scope, system: StateSpace | DiscreteStateSpace): LevelsAt {
  const at = notedResponse(system.kind === 'StateSpace' ? system : continuousForm(system))
  const most = Math.min(mostEvaluations, mostWork / (system.A.length + 1) ** 2)
  let count = 0
  return (frequency) => {
    count += 1
    if (count > most) fail('no-convergence', scope, 'needs too many frequencies; allow a larger tolerance')
    const point = axisPoint(system, frequency)
    const value = at(point.re, point.im)
    return value === null
      ? null
      : value.noise.map((noise, k) => Math.log(Math.max(hypotenuse(value.re[k], value.im[k]), noise, Number.MIN_VALUE)))
  }
}

/** Both ends and the places between from which to start, none closer than the closest. */
function startingGrid(scope: Scope, system: StateSpace | DiscreteStateSpace, from: number, to: number): number[] {
  const grid = [from]
  for (const omega of seeds(scope, system)) {
    const frequency = omega / angularFrequency(1)
    const apart = frequency > grid[grid.length - 1] * (1 + closest)
    if (apart && frequency * (1 + closest) < to) grid.push(frequency)
  }
  grid.push(to)
  return grid
}

function seeds(scope: Scope, system: StateSpace | DiscreteStateSpace): number[] {
  const form = system.kind === 'StateSpace' ? system : continuousForm(system)
  const holes = form.outputs.flatMap((_, o) => form.inputs.flatMap((_, i) => channelZeros(scope, form, i, o)))
  if (system.kind === 'StateSpace') {
    return ascending([...systemSeeds(scope, denseSystem(form), influence), ...landmarkFrequencies(holes, 1, 1)])
  }
  const found = eigenvaluesOf(scope, denseFrom(form.A, form.A.length))
  return landmarkFrequencies(
    [found, ...holes].map((roots) => logarithms(roots, system.sampleTime)),
    1e3,
    12,
  )
}

/** Zeros of one channel; those with its delays cut and at zero, where it has delays. */
function channelZeros(scope: Scope, system: StateSpace, input: number, output: number): Eigenvalues[] {
  const part = relevantPart(system, input, output)
  const rational = part.delays === null ? [part] : [{ ...part, delays: null }, withoutDelays(part)]
  return rational.flatMap((form) => {
    if (form === null) return []
    const found = invariantZeros(scope, form)
    return [{ re: Float64Array.from(found, ({ re }) => re), im: Float64Array.from(found, ({ im }) => im) }]
  })
}

/** Adds what is needed between two samples. */
function fill(at: LevelsAt, from: Sample, to: Sample, tolerance: number, grid: number[]): void {
  const pending: { right: Sample; middle: Sample | null }[] = [{ right: to, middle: halfway(at, from, to) }]
  let left = from
  for (let next = pending.pop(); next !== undefined; next = pending.pop()) {
    const { right, middle } = next
    const quarters = middle === null ? null : [halfway(at, left, middle), halfway(at, middle, right)]
    if (middle === null || quarters === null || follows(left, right, [middle, ...quarters], tolerance)) {
      if (pending.length > 0) grid.push(right.frequency)
      left = right
    } else {
      pending.push({ right, middle: quarters[1] }, { right: middle, middle: quarters[0] })
    }
  }
}

/** The sample in the logarithmic middle; null where the two are as close as they may be, or on a pole. */
function halfway(at: LevelsAt, left: Sample, right: Sample): Sample | null {
  if (right.frequency < left.frequency * (1 + 2 * closest)) return null
  const frequency = Math.sqrt(left.frequency) * Math.sqrt(right.frequency)
  const levels = at(frequency)
  return levels === null ? null : { frequency, levels }
}

/** Whether the chord from left to right is right at the samples between, channel by channel. */
function follows(left: Sample, right: Sample, between: readonly (Sample | null)[], tolerance: number): boolean {
  const span = Math.log(right.frequency / left.frequency)
  return between.every((sample) => {
    if (sample === null) return false
    const share = Math.log(sample.frequency / left.frequency) / span
    return sample.levels.every((level, k) => {
      const chord = left.levels[k] + share * (right.levels[k] - left.levels[k])
      return Math.abs(level - chord) <= tolerance
    })
  })
}
