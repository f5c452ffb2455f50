import { fail, must, type Scope } from '../internal/check.js'
import { mostOf } from '../internal/extremes.js'
import type { Eigenvalues } from '../linear/eigenvalues.js'
import { hypotenuse } from '../linear/hypotenuse.js'
import { type ResponseKernel, responseKernel } from '../linear/response-kernel.js'
import { closeLoop } from './close-loop.js'
import { continuousForm, denseSystem, undelayedStateMatrix } from './dense-system.js'
import { eigenvaluesOf } from './eigenvalues-of.js'
import { addDelaySteps, ascending, landmarkFrequencies, reachOf, tooManyTurns } from './landmarks.js'
import type { ComplexFunction } from './refined-scan.js'
import { relevantPart } from './relevant-states.js'
import { type DelayedInSeries, delayInSeries } from './series-delay.js'
import { stabilityOf } from './stability.js'
import type { DiscreteStateSpace, StabilityVerdict, StateSpace } from './types.js'
import { scaledZeros } from './zeros.js'

/** A loop as a function of ω on its stability boundary, with what has to be known to sample it. */
export interface LoopAxis {
  readonly evaluate: ComplexFunction
  /** Ascending [rad/s], where to sample first */
  readonly seeds: readonly number[]
  /** Real value of L at the upper end of the axis */
  readonly end: number
  /** That end [rad/s]: Infinity, or half the sample rate */
  readonly endFrequency: number
  readonly closedLoop: StabilityVerdict
  readonly delayed: boolean
}

/** Gain below which crossovers of a loop with delay are no longer listed. */
export const listedDownTo = 1e-3

/** The axis of a loop with one input and one output, which is closed as 1/(1 + L). */
export function loopAxis(
  scope: Scope,
  loop: StateSpace | DiscreteStateSpace,
  kernel: () => ResponseKernel,
  closedLoop?: StabilityVerdict,
): LoopAxis {
  if (loop.kind === 'DiscreteStateSpace') return discreteAxis(scope, loop, kernel())
  return continuousAxis(scope, loop, kernel, closedLoop)
}

function continuousAxis(
  scope: Scope,
  loop: StateSpace,
  kernel: () => ResponseKernel,
  closedLoop?: StabilityVerdict,
): LoopAxis {
  const late = loop.delays === null ? null : delayInSeries(relevantPart(loop, 0, 0))
  const evaluate = late === null ? evaluator(kernel()) : lateEvaluator(late)
  const closed = closeLoop(scope, loop)
  const { poles, zeros } = loopRoots(scope, late?.rational ?? loop, closed)
  const places = landmarkFrequencies(poles, 1e3, 8, [zeros])
  const delayed = loop.delays !== null
  return {
    evaluate,
    seeds: loop.delays === null ? places : delayedSeeds(scope, evaluate, places, loop.delays.seconds),
    end: delayed ? 0 : loop.D[0][0],
    endFrequency: Number.POSITIVE_INFINITY,
    closedLoop: closedLoop ?? stabilityOf(scope, closed).verdict,
    delayed,
  }
}

/** L(jω) */
function evaluator({ at }: ResponseKernel): ComplexFunction {
  return (omega, least, share) => firstEntry(at(0, omega, least, share))
}

/** The same with the delay taken out, which leaves a system without delays to evaluate. */
function lateEvaluator({ rational, seconds }: DelayedInSeries): ComplexFunction {
  const { at } = responseKernel(denseSystem(rational))
  return (omega, least, share) => {
    const value = at(0, omega, least, share)
    if (value === null) return null
    const cos = Math.cos(omega * seconds)
    const sin = Math.sin(omega * seconds)
    const re = value.re[0]
    const im = value.im[0]
    return { re: re * cos + im * sin, im: im * cos - re * sin }
  }
}

function discreteAxis(scope: Scope, loop: DiscreteStateSpace, kernel: ResponseKernel): LoopAxis {
  const { sampleTime } = loop
  const evaluate: ComplexFunction = (omega) =>
    firstEntry(kernel.at(Math.cos(omega * sampleTime), Math.sin(omega * sampleTime)))
  const form = continuousForm(loop)
  const closed = closeLoop(scope, form)
  const top = Math.PI / sampleTime
  const { poles, zeros } = loopRoots(scope, form, closed)
  const logs = (roots: Eigenvalues) => logarithms(roots, sampleTime)
  const even = Array.from({ length: 127 }, (_, k) => ((k + 1) / 128) * top)
  const places = landmarkFrequencies(poles.map(logs), 1e3, 8, [logs(zeros)]).filter((omega) => omega < top)
  return {
    evaluate,
    seeds: ascending([...places, ...even]),
    end: firstEntry(kernel.at(-1, 0))?.re ?? 0,
    endFrequency: top,
    closedLoop: stabilityOf(scope, { ...loop, ...matricesOf(closed) }).verdict,
    delayed: false,
  }
}

function firstEntry(value: { re: Float64Array; im: Float64Array } | null): { re: number; im: number } | null {
  return value === null ? null : { re: value.re[0], im: value.im[0] }
}

function matricesOf({ A, B, C, D }: StateSpace) {
  return { A, B, C, D }
}

/** Poles of the loop, with its delays cut and at zero, and of the closed loop; zeros with the delays cut. */
function loopRoots(scope: Scope, loop: StateSpace, closed: StateSpace): { poles: Eigenvalues[]; zeros: Eigenvalues } {
  const open = denseSystem(loop)
  const matrices = [open.A, undelayedStateMatrix(denseSystem(closed))]
  if (loop.delays !== null) matrices.push(undelayedStateMatrix(open))
  const zeros = must(scaledZeros({ ...loop, delays: null }), 'no-convergence', scope, 'could not find the zeros')
  return { poles: matrices.map((A) => eigenvaluesOf(scope, A)), zeros }
}

/** ln z / T of each root. */
export function logarithms({ re, im }: Eigenvalues, sampleTime: number): Eigenvalues {
  return {
    re: re.map((real, k) => Math.log(Math.max(hypotenuse(real, im[k]), 1e-12)) / sampleTime),
    im: re.map((real, k) => Math.atan2(im[k], real) / sampleTime),
  }
}

function delayedSeeds(scope: Scope, evaluate: ComplexFunction, places: number[], seconds: readonly number[]): number[] {
  const gain = (omega: number, least?: number): number => {
    const value = evaluate(omega, least)
    return value === null ? Number.POSITIVE_INFINITY : hypotenuse(value.re, value.im)
  }
  const strong = 10 * listedDownTo
  // A loop of gain zero has no largest gain to go by.
  const level = places.some((omega) => gain(omega, strong) >= strong)
    ? listedDownTo
    : 0.1 * (mostOf(places.map((omega) => gain(omega))) || 1)
  const most = 1e9 * places[places.length - 1]
  const end = reachOf((omega) => gain(omega, level), places, level, most)
  if (!(end < most)) {
    fail('unsupported', scope, 'cannot list the crossovers of a loop with delay whose gain does not roll off')
  }
  // One turn of the shortest delay further: there a weak loop comes nearest to −1.
  const reach = end + (2 * Math.PI) / Math.min(...seconds)
  const total = seconds.reduce((sum, tau) => sum + tau, 0)
  if (tooManyTurns(total, reach)) {
    fail(
      'unsupported',
      scope,
      `cannot list the crossovers of a loop with delay that stays above ${level} up to ${reach / (2 * Math.PI)} Hz`,
    )
  }
  const known = places.filter((omega) => omega <= reach)
  return addDelaySteps(known, total, reach)
}
