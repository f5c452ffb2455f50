import { fail, must, type Scope, scopeOf, within } from '../internal/check.js'
import type { ComplexDense } from '../linear/complex-lu.js'
import { balancedSystem, type DelayedSystem } from '../linear/delayed-solve.js'
import { type Dense, denseFrom, identity, multiply, sum, times, transpose } from '../linear/dense.js'
import type { Eigenvalues } from '../linear/eigenvalues.js'
import { gainFrequencies } from '../linear/hamiltonian.js'
import { responseKernel } from '../linear/response-kernel.js'
import { localMinimum } from '../linear/scalar-search.js'
import { largestSingularValue } from '../linear/singular-value.js'
import { solve } from '../linear/solve.js'
import { denseSystem } from './dense-system.js'
import { eigenvaluesOf } from './eigenvalues-of.js'
import { ascending, landmarkFrequencies } from './landmarks.js'
import { stabilityOf } from './stability.js'
import { delayFree } from './stationary-covariance.js'
import type { DiscreteStateSpace, LinearSystem } from './types.js'

/** Largest gain of a system over all frequencies, and where it is. */
export interface HInfinityNorm {
  readonly kind: 'HInfinityNorm'
  /** Largest singular value of the response [output unit / input unit] */
  readonly norm: number
  /** [Hz]; 0 or Infinity where the largest gain is approached there; at most half the sample rate of a discrete system */
  readonly frequency: number
}

const tolerance = 1e-10
const mostSteps = 60

/** Largest gain of a stable system over all frequencies: the peak of its largest singular value.
 *
 * A lower bound from 0 Hz, Infinity and the surroundings of every pole is raised with the imaginary eigenvalues of the
 * Hamiltonian matrix until none is left at a gain 1e-10 above it; the peak is then found on the response itself. A
 * discrete system is mapped to the s-plane first, which keeps its gains.
 * @param plant - continuous without delays, or discrete; stable; static gains too
 * @returns see {@link HInfinityNorm}
 * @throws {@link IsolationError} `unstable`; `unsupported` with delays; `singular` for a response
 * beyond the range of numbers; `no-convergence`
 * @source N. A. Bruinsma, M. Steinbuch, Systems & Control Letters 14 (1990) 287
 * @example
 * import { hInfinityNorm, stateSpace } from 'restmass'
 * const oscillator = stateSpace({ A: [[0, 1], [-1, -0.02]], B: [[0], [1]], C: [[1, 0]] })
 * hInfinityNorm(oscillator).norm // 50.0025
 */
export function hInfinityNorm(plant: LinearSystem): HInfinityNorm {
  const scope = scopeOf('hInfinityNorm')
  const { system } = delayFree(scope, plant)
  const { verdict } = stabilityOf(scope, system)
  if (verdict !== 'stable') fail('unstable', within(scope, 'system'), `is ${verdict}; its gain has no bound`)
  if (system.kind === 'StateSpace') {
    const { gain, omega } = largestGain(scope, balancedSystem(denseSystem(system)))
    return { kind: 'HInfinityNorm', norm: gain, frequency: omega / (2 * Math.PI) }
  }
  const { gain, omega } = largestGain(scope, balancedSystem(continuousTwin(scope, system)))
  return { kind: 'HInfinityNorm', norm: gain, frequency: Math.atan(omega) / (Math.PI * system.sampleTime) }
}

interface Peak {
  readonly gain: number
  readonly omega: number
}

function largestGain(scope: Scope, system: DelayedSystem): Peak {
  const kernel = responseKernel(system)
  const gainAt = (omega: number): number => {
    const says = 'has a response beyond the range of numbers'
    return singularValue(scope, must(kernel.at(0, omega), 'singular', scope, says))
  }
  const direct = { rows: system.D.rows, columns: system.D.columns, re: system.D.data, im: system.D.data.map(() => 0) }
  const ends = [
    { gain: gainAt(0), omega: 0 },
    { gain: singularValue(scope, direct), omega: Number.POSITIVE_INFINITY },
  ]
  const poles = eigenvaluesOf(scope, system.A)
  const places = poles.re.length === 0 ? [] : ascending([...landmarkFrequencies([poles], 10, 4), ...resonances(poles)])
  let best = ends[0].gain >= ends[1].gain ? ends[0] : ends[1]
  for (const omega of places) best = larger(best, { gain: gainAt(omega), omega })
  if (system.A.rows === 0 || best.gain === 0) return best
  const peak = polished(raised(scope, system, gainAt, best), gainAt, places)
  // A flat response, such as an all-pass, has its peak everywhere: then it is told at an end.
  return ends.find(({ gain }) => gain >= peak.gain * (1 - 1e-12)) ?? peak
}

function singularValue(scope: Scope, value: ComplexDense): number {
  return must(
    largestSingularValue(value),
    'no-convergence',
    scope,
    'could not find the singular values of the response',
  )
}

/** The bound raised until the Hamiltonian matrix shows no frequency above it. */
function raised(scope: Scope, system: DelayedSystem, gainAt: (omega: number) => number, start: Peak): Peak {
  let best = start
  for (let step = 0; step < mostSteps; step++) {
    const says = 'could not find the eigenvalues of the Hamiltonian matrix'
    const crossings = must(gainFrequencies(system, best.gain * (1 + 2 * tolerance)), 'no-convergence', scope, says)
    let found = best
    for (let k = 0; k < crossings.length; k++) {
      found = larger(found, { gain: gainAt(crossings[k]), omega: crossings[k] })
      if (k === 0) continue
      const middle = (crossings[k - 1] + crossings[k]) / 2
      found = larger(found, { gain: gainAt(middle), omega: middle })
    }
    if (!(found.gain > best.gain * (1 + 2 * tolerance))) return found
    best = found
  }
  fail('no-convergence', scope, `still rises after ${mostSteps} steps`)
}

/** The local maximum around a peak that is known to `tolerance`. */
function polished(peak: Peak, gainAt: (omega: number) => number, places: readonly number[]): Peak {
  if (peak.omega === 0 || peak.omega === Number.POSITIVE_INFINITY) return peak
  let best = peak
  const nearest = places.reduce((least, place) => {
    const distance = Math.abs(place - peak.omega)
    return distance > 0 ? Math.min(least, distance) : least
  }, peak.omega / 2)
  for (const reach of [nearest, nearest / 30]) {
    const { x, value } = localMinimum((omega) => -gainAt(omega), best.omega - reach, best.omega + reach)
    best = larger(best, { gain: -value, omega: x })
  }
  return best
}

function larger(a: Peak, b: Peak): Peak {
  return b.gain > a.gain ? b : a
}

/** Resonance frequencies ω₀ √(1 − 2ζ²) of the poles, where they exist. */
function resonances({ re, im }: Eigenvalues): number[] {
  return Array.from(re, (real, k) => im[k] * im[k] - real * real).flatMap((square) =>
    square > 0 ? [Math.sqrt(square)] : [],
  )
}

/** A continuous system with the same gains: s = (z − 1)/(z + 1). */
function continuousTwin(scope: Scope, system: DiscreteStateSpace): DelayedSystem {
  const n = system.A.length
  const A = denseFrom(system.A, n)
  const B = denseFrom(system.B, system.inputs.length)
  const C = denseFrom(system.C, n)
  const shifted = sum(A, identity(n))
  const solved = (M: Dense, R: Dense) => must(solve(M, R), 'unstable', scope, 'has a pole at z = −1')
  const states = solved(shifted, sum(A, times(identity(n), -1)))
  const inputs = solved(shifted, B)
  const outputs = solved(transpose(shifted), transpose(C))
  return {
    A: states,
    B: times(inputs, Math.SQRT2),
    C: times(transpose(outputs), Math.SQRT2),
    D: sum(denseFrom(system.D, system.inputs.length), times(multiply(C, inputs), -1)),
    seconds: [],
  }
}
