import { fail, type Scope } from '../internal/check.js'
import { denseFrom } from '../linear/dense.js'
import { type Eigenvalues, eigenvalues } from '../linear/eigenvalues.js'
import { boundaryPoles } from './boundary-poles.js'
import { certifiedStep, isTail } from './certified-step.js'
import { type DelaySample, type DelayTransfer, delayTransfer } from './delay-transfer.js'
import type { InternalDelays, StabilityVerdict, StateSpace } from './types.js'

/** Distance of the path from the imaginary axis, relative to ω, and at ω = 0 relative to the fastest pole. */
const relativeDistance = 1e-10
const restDistance = 1e-13
/** Samples that a count may take, and their number times the square of that of the states: some seconds each. */
const mostSamples = 5e5
const mostWork = 2e8

/** Verdict and number of unstable poles of a system with delays, from its characteristic function, counted right and left of the axis. */
export function delayedStability(
  scope: Scope,
  system: StateSpace,
  delays: InternalDelays,
): { verdict: StabilityVerdict; unstablePoles: number } {
  const A = denseFrom(system.A, system.A.length)
  const open = eigenvalues(A)
  if (open === null) fail('no-convergence', scope, 'could not find the eigenvalues of the state matrix')
  const transfer = delayTransfer(scope, system, delays)
  const path = clearPath(open, boundaryPoles(A, open, 'axis'), delays.seconds)
  const steps = Math.min(mostSamples, mostWork / (A.rows + delays.seconds.length + 5) ** 2)
  const unstablePoles = zerosRightOf(scope, transfer, open, path, 1, steps)
  const withAxis = zerosRightOf(scope, transfer, open, path, -1, steps)
  const verdict = unstablePoles > 0 ? 'unstable' : withAxis > 0 ? 'marginal' : 'stable'
  return { verdict, unstablePoles }
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
  const fastest = Math.max(...Array.from(re, (real, k) => Math.hypot(real, im[k])), ...seconds.map((tau) => 1 / tau))
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

/** Number of zeros of the characteristic function right of the path on one side of the axis, from its turns along the path; each
 * step is short enough to show its turn for certain. */
function zerosRightOf(
  scope: Scope,
  transfer: DelayTransfer,
  open: Eigenvalues,
  path: Path,
  side: 1 | -1,
  mostSteps: number,
): number {
  const sampleAt = (omega: number): DelaySample => {
    const sample = transfer.at(side * distanceAt(path, omega), omega)
    if (sample === null || !Number.isFinite(sample.angle)) return lost(scope, omega)
    return sample
  }
  let sample = sampleAt(0)
  let turned = 0
  let length = path.widest / relativeDistance
  for (let step = 0; !isTail(transfer, sample, path); step++) {
    length = certifiedStep(transfer, sample, 8 * length, path)
    if (length === 0 || step > mostSteps) return lost(scope, sample.im)
    const next = sampleAt(sample.im + length)
    turned += wrapped(next.angle - sample.angle)
    sample = next
  }
  const poles = Array.from(open.re, (re, k) => (re > side * distanceAt(path, Math.abs(open.im[k])) ? 1 : 0))
  // From the last sample to infinity, where the function tends to 1, nothing is left but its own angle.
  const turns = (turned - wrapped(sample.angle)) / Math.PI
  return poles.reduce<number>((sum, one) => sum + one, 0) - Math.round(turns)
}

function lost(scope: Scope, omega: number): never {
  return fail(
    'no-convergence',
    scope,
    `could not follow the characteristic function beyond ${omega / (2 * Math.PI)} Hz`,
  )
}

function wrapped(angle: number): number {
  return angle - 2 * Math.PI * Math.round(angle / (2 * Math.PI))
}
