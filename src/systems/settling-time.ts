import {
  checkNumber,
  checkNumbers,
  checkOneOf,
  checkOptions,
  fail,
  must,
  type Scope,
  scopeOf,
  within,
} from '../internal/check.js'
import { balancedSystem } from '../linear/delayed-solve.js'
import { largest, times } from '../linear/dense.js'
import { lastExit } from '../linear/last-exit.js'
import { solve } from '../linear/solve.js'
import { blockSystem } from './block.js'
import { denseSystem } from './dense-system.js'
import { refuseDelays } from './poles.js'
import { relevantPart } from './relevant-states.js'
import { stabilityOf } from './stability.js'
import type { ContinuousSystem, StateSpace } from './types.js'

/** Options of {@link settlingTime}. */
export interface SettlingTimeOptions {
  /** Half the width of the band around the final value, above 0: in the unit of the output, or a fraction if `relative` */
  readonly band: number
  /** What a relative band is a fraction of: the modulus of the final value, or of the whole change, which begins at the
   * first sample of a record and at 0 for a system. @defaultValue none: the band is absolute */
  readonly relative?: 'of-final' | 'of-step'
  /** Final value. @defaultValue the limit of the system; the last sample of a record */
  readonly final?: number
}

/** A signal over time. */
export interface TimeRecord {
  /** [s], strictly ascending, one entry per value */
  readonly time: Float64Array | readonly number[]
  readonly values: Float64Array | readonly number[]
}

/** Time after which a signal stays within a band around its final value: its last exit from the band.
 *
 * A system means its response to a unit step at 0 s. A bound on everything that follows, from the observability Gramians of
 * the error and its derivatives, proves a time by which it has settled; the search goes back from there over intervals that
 * the same bound proves safe, so no slow mode is cut off, and the exit is found on the exact response. A record is joined
 * by straight lines between its samples.
 * @param subject - a stable system with one input and one output, without delays; or a record
 * @param options - see {@link SettlingTimeOptions}
 * @returns the time [s] of the last exit; 0, or the first time of a record, where it never leaves the band; null where it
 * does not settle: a marginal system, a final value it does not tend to, a record that ends outside
 * @throws {@link IsolationError} `unstable`; `unsupported` with delays; `dimension-mismatch`; `ill-conditioned`;
 * `no-convergence` where the search would take too long; `out-of-range` for a band relative to nothing
 * @source derived: |e(t)|² ≤ 2 ‖e‖ ‖e'‖ and |e(t)|² ≤ −2 tr(A) ‖e‖² over what follows t; Gramians as in K. Zhou, J. C. Doyle,
 * K. Glover, Robust and Optimal Control, 1996, section 3.8
 * @example
 * import { settlingTime, stateSpace } from 'restmass'
 * settlingTime(stateSpace({ A: [[-2]], B: [[2]], C: [[1]] }), { band: 0.02, relative: 'of-final' }) // 1.95601
 */
export function settlingTime(subject: ContinuousSystem | TimeRecord, options: SettlingTimeOptions): number | null {
  const scope = scopeOf('settlingTime')
  checkOptions(scope, options, ['band', 'relative', 'final'])
  checkNumber(scope, 'band', options.band, { above: 0 })
  if (options.relative !== undefined) checkOneOf(scope, 'relative', options.relative, ['of-final', 'of-step'])
  if (options.final !== undefined) checkNumber(scope, 'final', options.final, {})
  if (isRecord(subject)) return recordSettling(scope, subject, options)
  return stepSettling(scope, blockSystem(within(scope, 'system'), subject), options)
}

function isRecord(subject: ContinuousSystem | TimeRecord): subject is TimeRecord {
  return typeof subject === 'object' && subject !== null && !('kind' in subject)
}

function stepSettling(scope: Scope, system: StateSpace, options: SettlingTimeOptions): number | null {
  const at = within(scope, 'system')
  if (system.inputs.length !== 1 || system.outputs.length !== 1) {
    const counts = `${system.inputs.length} and ${system.outputs.length}`
    fail('dimension-mismatch', at, `must have one input and one output, got ${counts}`)
  }
  refuseDelays(scope, system)
  const { verdict } = stabilityOf(scope, system)
  if (verdict === 'unstable') fail('unstable', at, 'is unstable; it does not settle')
  if (verdict === 'marginal') return null
  const { A, B, C, D } = balancedSystem(denseSystem(relevantPart(system, 0, 0)))
  // From rest, x(t) − x(∞) = e^(At) A⁻¹ B and y(t) − y(∞) = C (x(t) − x(∞)).
  const start = must(solve(A, B), 'ill-conditioned', at, 'has no final value that can be computed')
  let end = D.data[0]
  for (let k = 0; k < A.rows; k++) end -= C.data[k] * start.data[k]
  const final = options.final ?? end
  const band = absoluteBand(scope, options, final, final)
  const [low, high] = [final - band - end, final + band - end]
  if (!(low < 0 && high > 0)) return null
  if (A.rows === 0 || largest(start) === 0) return 0
  const exponent = Math.round(Math.log2(largest(C)) + Math.log2(largest(start))) || 0
  const scale = 2 ** -Math.max(-400, Math.min(400, exponent))
  const found = lastExit(A, times(C, scale), start.data, low * scale, high * scale)
  if (typeof found === 'number') return found
  const says = {
    'ill-conditioned': 'is too close to the stability limit',
    'no-convergence': 'takes too long to settle',
  }
  return fail(found, at, `${says[found]} for a settling time that can be proved`)
}

/** The band in the unit of the signal, which changes by `step` to reach `final`. */
function absoluteBand(scope: Scope, options: SettlingTimeOptions, final: number, step: number): number {
  if (options.relative === undefined) return options.band
  const band = options.band * Math.abs(options.relative === 'of-final' ? final : step)
  if (!(band > 0)) {
    const what = options.relative === 'of-final' ? 'a final value' : 'a step'
    fail(
      'out-of-range',
      within(scope, 'relative'),
      `is a fraction of ${what} of 0; give the band in the unit of the signal`,
    )
  }
  return band
}

function recordSettling(scope: Scope, record: TimeRecord, options: SettlingTimeOptions): number | null {
  const at = within(scope, 'record')
  checkOptions(at, record, ['time', 'values'])
  const time = checkNumbers(at, 'time', record.time)
  const values = checkNumbers(at, 'values', record.values)
  const last = time.length - 1
  if (last < 0) fail('invalid-option', within(at, 'time'), 'must have at least one entry, got none')
  if (values.length !== time.length) {
    fail('dimension-mismatch', within(at, 'values'), `must have ${time.length} entries, got ${values.length}`)
  }
  for (let k = 1; k <= last; k++) {
    if (!(time[k] > time[k - 1])) {
      fail('invalid-option', within(within(at, 'time'), k), `must ascend, got ${time[k]} after ${time[k - 1]}`)
    }
  }
  const final = options.final ?? values[last]
  const band = absoluteBand(scope, options, final, final - values[0])
  let outside = last
  while (outside >= 0 && Math.abs(values[outside] - final) <= band) outside -= 1
  if (outside === last) return null
  if (outside < 0) return time[0]
  const edge = values[outside] > final ? final + band : final - band
  const share = (edge - values[outside]) / (values[outside + 1] - values[outside])
  return time[outside] + share * (time[outside + 1] - time[outside])
}
