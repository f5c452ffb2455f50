import type { LoopMargins } from '../isolation/loop-margins.js'
import type { Stability } from '../systems/types.js'
import type { CriterionComparison } from '../vibration/criterion-types.js'
import type { BoundedEffort } from './effort.js'
import type { AxisAssessment } from './judge-axis.js'
import type { SettledMove } from './judge-moves.js'
import type { MotionFinding } from './motion-tolerance.js'

/** What a verdict rests on. */
export interface Findings {
  readonly stability: Stability
  /** The one that decides first */
  readonly axes: readonly AxisAssessment[]
  readonly loops: readonly LoopMargins[]
  /** Least modulus margin asked for */
  readonly least: number
  readonly effort: readonly BoundedEffort[]
  readonly settling: readonly SettledMove[]
  readonly tolerance: MotionFinding | null
}

/** The verdict, and the findings as sentences: what is against first, then what is open, then what is in favour.
 * `diagnose` says of a loop that is not stable, by its port, at which gains it would be. */
export function reasonsOf(
  findings: Findings,
  diagnose: (port: string) => string,
): { verdict: 'pass' | 'fail' | 'undecided'; reasons: string[] } {
  const says = { fail: [] as string[], undecided: [] as string[], pass: [] as string[] }
  const put = (fails: boolean, sentence: string) => says[fails ? 'fail' : 'pass'].push(sentence)
  const { stability, axes, tolerance } = findings
  if (stability.verdict !== 'stable') put(true, stabilitySentence(stability))
  for (const each of axes) {
    if (each.payload !== null) says[each.payload.verdict].push(bandSentence(each, each.payload))
  }
  for (const each of axes) {
    const { missing } = each.floor
    if (each.payload !== null && missing.length > 0) {
      put(false, `${along(each)}not judged, since the floor record does not cover it: ${missing.join(', ')} Hz`)
    }
  }
  for (const { name, port, margins } of findings.loops) {
    const value = margins.modulusMargin
    const sentence = `loop ${name}: modulus margin ${digits(value)} at ${digits(margins.modulusMarginFrequency)} Hz`
    const low = value < findings.least
    if (margins.closedLoop === 'stable') put(low, `${sentence}, ${low ? 'below' : 'at least'} ${findings.least}`)
    else put(true, `loop ${name} is ${diagnose(port)}`)
  }
  for (const each of findings.effort) put(each.peak > each.limit, effortSentence(each))
  findings.settling.forEach((move, k) => {
    put(move.verdict === 'fail', settlingSentence(move, k + 1))
  })
  if (tolerance !== null) put(tolerance.ratio > 1, toleranceSentence(tolerance))
  const unknown = axes[0]?.noise?.unknown ?? []
  if (unknown.length > 0) put(false, `not counted, since it is not known: noise at ${unknown.join(', ')}`)
  return {
    verdict: says.fail.length > 0 ? 'fail' : says.undecided.length > 0 ? 'undecided' : 'pass',
    reasons: [...says.fail, ...says.undecided, ...says.pass],
  }
}

export function along({ axis }: { readonly axis: string | null }): string {
  return axis === null ? '' : `along ${axis}, `
}

function stabilitySentence({ verdict, unstablePoles }: Stability): string {
  return verdict === 'marginal'
    ? 'an undamped mode never settles, so there is no steady state'
    : `the closed system is unstable: ${unstablePoles} poles right of the imaginary axis`
}

function bandSentence(each: AxisAssessment, { worst, criterion, verdict, doubts }: CriterionComparison): string {
  const level = `${digits(worst.rms * 1e6)} µm/s in the ${worst.nominal} Hz band, ${digits(worst.ratio)} of ${criterion}`
  const open = doubts.map(({ nominal, causes }) => `${nominal} Hz (${causes.join(', ')})`).join(', ')
  return `${along(each)}worst band of the payload: ${level}${verdict === 'undecided' ? `; not decided: ${open}` : ''}`
}

function effortSentence({ name, of, peak, inMoves, limit, unit }: BoundedEffort): string {
  const when = `${of === 'rms' ? 'rms' : '3 rms'}${inMoves === null ? '' : ' and the moves'}`
  return `${name}: needs ${digits(peak)} ${unit} (${when}) of ${digits(limit)} ${unit}`
}

function settlingSentence({ settlingTime, within, band, axis }: SettledMove, number: number): string {
  const what = `move ${number}: ${along({ axis })}within ±${digits(band * 1e6)} µm`
  const asked = within === null ? '' : `, ${digits(within)} s allowed`
  return settlingTime === null
    ? `${what} not before the next move${asked}`
    : `${what} for good ${digits(settlingTime)} s after its end${asked}`
}

function toleranceSentence({ of, measure, exposure, motion, limit }: MotionFinding): string {
  const [{ axis, value }] = motion
  const how = `${measure === 'rms' ? 'rms' : '3 rms'}${exposure === null ? '' : ` about the mean over ${digits(exposure)} s`}`
  return `motion of ${of}: ${along({ axis })}${digits(value * 1e9)} nm ${how}, ${digits(limit * 1e9)} nm allowed`
}

/** Three significant digits, for sentences only. */
export function digits(value: number): string {
  return Math.abs(value) === Number.POSITIVE_INFINITY ? 'infinite' : `${Number(value.toPrecision(3))}`
}
