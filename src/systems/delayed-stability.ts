import { fail, type Scope } from '../internal/check.js'
import { denseFrom } from '../linear/dense.js'
import type { Eigenvalues } from '../linear/eigenvalues.js'
import { hypotenuse } from '../linear/hypotenuse.js'
import { strongComponents } from '../linear/strong-components.js'
import { boundaryPoles } from './boundary-poles.js'
import { certifiedSteps, isTail } from './certified-step.js'
import { type CharacteristicSample, type CharacteristicSum, characteristicSum } from './characteristic-terms.js'
import { eigenvaluesOf } from './eigenvalues-of.js'
import { pick } from './relevant-states.js'
import type { InternalDelays, StabilityVerdict, StateSpace } from './types.js'

/** Distance of the path from the imaginary axis, relative to ω, and at ω = 0 relative to the fastest pole. */
const relativeDistance = 1e-10
const restDistance = 1e-13
/** Samples that a count may take, and their number times the square of that of the states: some seconds each. */
const mostSamples = 5e5
const mostWork = 2e8

interface Count {
  readonly unstable: number
  readonly onAxis: number
}

/** Verdict and number of unstable poles of a system with delays: group by group of states and delays in loops with each other,
 * from their characteristic functions, counted right and left of the axis. */
export function delayedStability(
  scope: Scope,
  system: StateSpace,
  delays: InternalDelays,
): { verdict: StabilityVerdict; unstablePoles: number } {
  const counts = loopGroups(system, delays).map(({ states, channels }) => {
    const inside = pick(system.A, states, states)
    const A = denseFrom(inside, states.length)
    if (channels.length === 0) {
      const poles = eigenvaluesOf(scope, A)
      return countOf(poles, boundaryPoles(A, poles, 'axis'))
    }
    const names = channels.map((k) => `w${k}`)
    const seconds = channels.map((k) => delays.seconds[k])
    const inner: StateSpace = {
      kind: 'StateSpace',
      A: inside,
      B: pick(delays.B, states, channels),
      C: pick(delays.C, channels, states),
      D: pick(delays.D22, channels, channels),
      inputs: names,
      outputs: names,
      states: states.map((k) => system.states[k]),
      delays: null,
    }
    const sum = characteristicSum(scope, inner, seconds)
    return groupCount(scope, sum, clearPath(sum.poles, boundaryPoles(A, sum.poles, 'axis'), seconds))
  })
  const unstablePoles = counts.reduce((sum, { unstable }) => sum + unstable, 0)
  const marginal = counts.some(({ onAxis }) => onAxis > 0)
  return { verdict: unstablePoles > 0 ? 'unstable' : marginal ? 'marginal' : 'stable', unstablePoles }
}

function countOf({ re }: Eigenvalues, onAxis: readonly boolean[]): Count {
  return {
    unstable: re.filter((real, k) => real > 0 && !onAxis[k]).length,
    onAxis: onAxis.filter((yes) => yes).length,
  }
}

/** States and delays that reach each other. */
function loopGroups({ A }: StateSpace, delays: InternalDelays): { states: number[]; channels: number[] }[] {
  const n = A.length
  const sources = (states: readonly number[], channels: readonly number[]): number[] => [
    ...states.flatMap((value, k) => (value === 0 ? [] : [k])),
    ...channels.flatMap((value, k) => (value === 0 ? [] : [n + k])),
  ]
  const dependsOn = [
    ...A.map((row, k) => sources(row, delays.B[k])),
    ...delays.C.map((row, k) => sources(row, delays.D22[k])),
  ]
  const groups = strongComponents(dependsOn).map((group) => ({
    states: group.filter((k) => k < n).sort((a, b) => a - b),
    channels: group.filter((k) => k >= n).map((k) => k - n),
  }))
  // A delay without a state is in no loop: rings of delays have been refused.
  return groups.filter(({ states }) => states.length > 0)
}

/** The path s = ± min(rest + slope·ω, widest) + jω. */
interface Path {
  readonly rest: number
  readonly slope: number
  readonly widest: number
}

function distanceAt({ rest, slope, widest }: Path, omega: number): number {
  return Math.min(rest + slope * omega, widest)
}

/** A path that keeps clear of the poles with all delays cut; those on the axis to rounding lie inside. */
function clearPath({ re, im }: Eigenvalues, onAxis: readonly boolean[], seconds: readonly number[]): Path {
  const fastest = Math.max(...Array.from(re, (real, k) => hypotenuse(real, im[k])), ...seconds.map((tau) => 1 / tau))
  let rest = restDistance * fastest
  onAxis.forEach((yes, k) => {
    if (yes) rest = Math.max(rest, 4 * Math.abs(re[k]))
  })
  const paths = [1, 2, 0.5, 4, 0.25].map((factor) => ({
    rest: factor * rest,
    slope: factor * relativeDistance,
    widest: factor * Math.max(rest, relativeDistance * fastest),
  }))
  const isClear = (path: Path) =>
    re.every((real, k) => Math.abs(Math.log(Math.abs(real) / distanceAt(path, Math.abs(im[k])))) > 0.2)
  return paths.find(isClear) ?? paths[0]
}

/** Zeros right of the path on the right of the axis and, where steps so wide cannot be proved, of the one on the left too. */
function groupCount(scope: Scope, sum: CharacteristicSum, path: Path): Count {
  const { count: unstable, alone } = zerosRightOf(scope, sum, path, 1)
  return { unstable, onAxis: alone ? 0 : zerosRightOf(scope, sum, path, -1).count - unstable }
}

/** Number of zeros of the characteristic function right of the path on one side of the axis, from its turns along the path; each
 * step is short enough to show its turn for certain, and shows, where `alone`, that nothing lies between both paths. */
function zerosRightOf(
  scope: Scope,
  sum: CharacteristicSum,
  path: Path,
  side: 1 | -1,
): { count: number; alone: boolean } {
  const sampleAt = (omega: number): CharacteristicSample => {
    const sample = sum.at(side * distanceAt(path, omega), omega)
    return sample !== null && Number.isFinite(angleOf(sample)) ? sample : lost(scope, omega)
  }
  const { re, im } = sum.poles
  const mostSteps = Math.min(mostSamples, mostWork / (re.length + 5) ** 2)
  const between = (omega: number) => 2 * distanceAt(path, omega)
  const certifiedStep = certifiedSteps(sum)
  let alone = side > 0
  let sample = sampleAt(0)
  let angle = angleOf(sample)
  let turned = 0
  let length = path.widest / relativeDistance
  for (let step = 0; !isTail(sum, sample, path.slope, 2 * path.widest); step++) {
    const wide = alone ? certifiedStep(sample, 8 * length, between) : 0
    alone = wide > 0
    length = alone ? wide : certifiedStep(sample, 8 * length, onPath)
    if (length === 0 || step > mostSteps) return lost(scope, sample.im)
    sample = sampleAt(sample.im + length)
    const next = angleOf(sample)
    turned += wrapped(next - angle)
    angle = next
  }
  const poles = re.filter((real, k) => real > side * distanceAt(path, Math.abs(im[k]))).length
  // From the last sample to infinity, where the sum tends to 1, nothing is left but its own angle.
  return { count: poles - Math.round((turned - angle) / Math.PI), alone }
}

function onPath(): number {
  return 0
}

function angleOf({ value }: CharacteristicSample): number {
  return Math.atan2(value.im, value.re)
}

function lost(scope: Scope, omega: number): never {
  const frequency = omega / (2 * Math.PI)
  return fail('no-convergence', scope, `could not follow the characteristic function beyond ${frequency} Hz`)
}

function wrapped(angle: number): number {
  return angle - 2 * Math.PI * Math.round(angle / (2 * Math.PI))
}
