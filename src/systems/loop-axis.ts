import { fail, must, type Scope } from '../internal/check.js'
import type { Eigenvalues } from '../linear/eigenvalues.js'
import { hypotenuse } from '../linear/hypotenuse.js'
import { type ResponseKernel, responseKernel } from '../linear/response-kernel.js'
import { closeLoop } from './close-loop.js'
import { continuousForm, denseSystem, undelayedStateMatrix } from './dense-system.js'
import { eigenvaluesOf } from './eigenvalues-of.js'
import { addDelaySteps, ascending, landmarkFrequencies, tooManyTurns } from './landmarks.js'
import type { ComplexFunction } from './refined-scan.js'
import { relevantPart } from './relevant-states.js'
import { delayInSeries } from './series-delay.js'
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
  const evaluate = evaluator(loop, kernel)
  const closed = closeLoop(scope, loop)
  const places = landmarkFrequencies(loopRoots(scope, loop, closed), 1e3, 8)
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

/** L(jω). A delay in series is taken out, which leaves a system without delays to evaluate. */
function evaluator(loop: StateSpace, kernel: () => ResponseKernel): ComplexFunction {
  const late = loop.delays === null ? null : delayInSeries(relevantPart(loop, 0, 0))
  const { at } = late === null ? kernel() : responseKernel(denseSystem(late.rational))
  if (late === null) return (omega, least) => firstEntry(at(0, omega, least))
  return (omega, least) => {
    const value = at(0, omega, least)
    if (value === null) return null
    const [cos, sin] = [Math.cos(omega * late.seconds), Math.sin(omega * late.seconds)]
    const [re, im] = [value.re[0], value.im[0]]
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
  const roots = loopRoots(scope, form, closed).map((found) => logarithms(found, sampleTime))
  const even = Array.from({ length: 127 }, (_, k) => ((k + 1) / 128) * top)
  const places = landmarkFrequencies(roots, 1e3, 8).filter((omega) => omega < top)
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

/** Poles of the loop, with its delays cut and at zero, its zeros, and its closed-loop poles. */
function loopRoots(scope: Scope, loop: StateSpace, closed: StateSpace): Eigenvalues[] {
  const open = denseSystem(loop)
  const zeros = must(scaledZeros({ ...loop, delays: null }), 'no-convergence', scope, 'could not find the zeros')
  const matrices = [open.A, undelayedStateMatrix(open), undelayedStateMatrix(denseSystem(closed))]
  return [...matrices.map((A) => eigenvaluesOf(scope, A)), zeros]
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
    return value === null ? 0 : hypotenuse(value.re, value.im)
  }
  const strong = 10 * listedDownTo
  // A loop of gain zero has no largest gain to go by.
  const level = places.some((omega) => gain(omega, strong) >= strong)
    ? listedDownTo
    : 0.1 * (Math.max(...places.map((omega) => gain(omega))) || 1)
  // One turn of the shortest delay further: there a weak loop comes nearest to −1.
  const reach = rollOff(scope, evaluate, places[places.length - 1], level) + (2 * Math.PI) / Math.min(...seconds)
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

/** The frequency [rad/s] above which |L| stays below a level, judged over two decades above it. */
function rollOff(scope: Scope, evaluate: ComplexFunction, start: number, level: number): number {
  const factor = 2 ** 0.25
  let last = 0
  for (let omega = start * 1e-6; omega < Math.max(100 * last, start); omega *= factor) {
    const value = evaluate(omega, level)
    if (value === null || hypotenuse(value.re, value.im) >= level) last = omega
    if (omega > start * 1e9) {
      fail('unsupported', scope, 'cannot list the crossovers of a loop with delay whose gain does not roll off')
    }
  }
  return last * factor
}
