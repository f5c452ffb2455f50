import { fail, type Scope, scopeOf, within } from '../internal/check.js'
import { eigenvalues } from '../linear/eigenvalues.js'
import { responseKernel } from '../linear/response-kernel.js'
import { localMinimum } from '../linear/scalar-search.js'
import { sisoZeros } from '../linear/siso-zeros.js'
import { checkSystem } from './check.js'
import { closeLoop } from './close-loop.js'
import { crossings } from './crossings.js'
import { denseSystem, undelayedStateMatrix } from './dense-system.js'
import { addDelaySteps, landmarkFrequencies } from './landmarks.js'
import { type ComplexFunction, refinedScan, type Scan } from './refined-scan.js'
import { stabilityOf } from './stability.js'
import type { GainCrossover, Margins, PhaseCrossover, StateSpace } from './types.js'

const listedDownTo = 1e-3

/** Margins of a loop L, closed as 1/(1 + L), with every crossover.
 *
 * The loop is sampled on a grid that knows its poles, its zeros, its closed-loop poles and its delays, refined until no
 * step turns L or 1 + L by more than 22.5°; each crossover is then found to rounding on the exact response. With delay,
 * phase crossovers are listed up to where |L| stays below 1e-3.
 * @param loop - one input, one output; `openLoop` makes one from a diagram
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
export function margins(loop: StateSpace): Margins {
  const scope = scopeOf('margins')
  checkSystem(within(scope, 'loop'), loop)
  if (loop.inputs.length !== 1 || loop.outputs.length !== 1) {
    fail(
      'dimension-mismatch',
      within(scope, 'loop'),
      `must have one input and one output, got ${loop.inputs.length} and ${loop.outputs.length}`,
    )
  }
  const closed = closeLoop(scope, loop)
  const { verdict } = stabilityOf(scope, closed)
  const evaluate = loopFunction(loop)
  const seeds = loopSeeds(scope, loop, closed, evaluate)
  const scan = refinedScan(scope, evaluate, seeds)
  const gainCrossovers = findGainCrossovers(evaluate, scan)
  const limit = loop.delays === null ? Number.POSITIVE_INFINITY : lastAbove(scan, listedDownTo)
  const phaseCrossovers = findPhaseCrossovers(evaluate, scan).filter(
    ({ frequency }) => 2 * Math.PI * frequency <= limit,
  )
  return {
    kind: 'Margins',
    closedLoop: verdict,
    ...overallMargins(verdict === 'stable', loop, evaluate, gainCrossovers, phaseCrossovers),
    ...modulus(evaluate, scan, loop),
    gainCrossovers,
    phaseCrossovers,
  }
}

function loopFunction(loop: StateSpace): ComplexFunction {
  const kernel = responseKernel(denseSystem(loop))
  return (omega) => {
    const value = kernel.at(0, omega)
    return value === null ? null : { re: value.re[0], im: value.im[0] }
  }
}

function loopSeeds(scope: Scope, loop: StateSpace, closed: StateSpace, evaluate: ComplexFunction): number[] {
  const open = denseSystem(loop)
  const roots = [open.A, undelayedStateMatrix(open), undelayedStateMatrix(denseSystem(closed))].map(eigenvalues)
  const b = Float64Array.from(loop.B, (row) => row[0])
  const holes = sisoZeros(open.A, b, Float64Array.from(loop.C[0]), loop.D[0][0])
  const places = landmarkFrequencies(
    [...roots, holes].flatMap((found) => (found === null ? [] : [found])),
    1e3,
    8,
  )
  if (loop.delays === null) return places
  const reach = rollOff(scope, evaluate, places[places.length - 1])
  const seconds = loop.delays.seconds.reduce((sum, tau) => sum + tau, 0)
  return addDelaySteps(
    places.filter((omega) => omega <= reach),
    seconds,
    reach,
  )
}

/** The frequency [rad/s] above which |L| stays below the listing limit, judged over two decades above it. */
function rollOff(scope: Scope, evaluate: ComplexFunction, start: number): number {
  const factor = 2 ** 0.25
  let last = 0
  for (let omega = start * 1e-6; omega < Math.max(100 * last, start); omega *= factor) {
    const value = evaluate(omega)
    if (value === null || Math.hypot(value.re, value.im) >= listedDownTo) last = omega
    if (omega > start * 1e9)
      fail('unsupported', scope, 'cannot list the crossovers of a loop with delay whose gain does not roll off')
  }
  return last * factor
}

function lastAbove({ omega, re, im }: Scan, level: number): number {
  for (let k = omega.length - 1; k >= 0; k--) {
    if (Math.hypot(re[k], im[k]) >= level) return omega[Math.min(k + 1, omega.length - 1)]
  }
  return 0
}

function findGainCrossovers(evaluate: ComplexFunction, scan: Scan): GainCrossover[] {
  const level = (re: number, im: number) => Math.log(Math.hypot(re, im))
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
    .filter(({ re }) => re < 0)
    .map(({ omega, re, im }) => ({ frequency: omega / (2 * Math.PI), gainMargin: 1 / Math.hypot(re, im) }))
}

function modulus(evaluate: ComplexFunction, scan: Scan, loop: StateSpace) {
  const distances = scan.omega.map((_, k) => Math.hypot(1 + scan.re[k], scan.im[k]))
  const distance = (omega: number): number => {
    const value = evaluate(omega)
    return value === null ? Number.POSITIVE_INFINITY : Math.hypot(1 + value.re, value.im)
  }
  let best = { x: 0, value: distance(0) }
  const consider = (x: number, value: number) => {
    if (value < best.value) best = { x, value }
  }
  for (let k = 1; k + 1 < distances.length; k++) {
    if (distances[k] > distances[k - 1] || distances[k] > distances[k + 1] || distances[k] > 1.1 * best.value) continue
    const { x, value } = localMinimum(distance, scan.omega[k - 1], scan.omega[k + 1])
    consider(x, value)
  }
  if (loop.delays === null) consider(Number.POSITIVE_INFINITY, Math.abs(1 + loop.D[0][0]))
  else consider(Number.POSITIVE_INFINITY, 1)
  return { modulusMargin: best.value, modulusMarginFrequency: best.x / (2 * Math.PI) }
}

function overallMargins(
  stable: boolean,
  loop: StateSpace,
  evaluate: ComplexFunction,
  gainCrossovers: readonly GainCrossover[],
  phaseCrossovers: readonly PhaseCrossover[],
) {
  if (!stable) return { gainMargin: null, gainReductionMargin: null, phaseMarginDegrees: null, delayMargin: null }
  const factors = phaseCrossovers.map(({ gainMargin }) => gainMargin)
  const ends = [evaluate(0)?.re ?? 0, loop.delays === null ? loop.D[0][0] : 0]
  for (const value of ends) if (value < 0) factors.push(-1 / value)
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
