import type { LoopMargins } from '../isolation/loop-margins.js'
import type { Stability } from '../systems/types.js'
import type { CriterionComparison } from '../vibration/criterion-types.js'
import type { Effort } from './effort.js'

/** What a verdict rests on. */
export interface Findings {
  readonly stability: Stability
  readonly payload: CriterionComparison | null
  readonly loops: readonly LoopMargins[]
  /** Least modulus margin asked for */
  readonly least: number
  readonly effort: readonly Effort[]
}

/** The findings as sentences, those that make the verdict fail first, and how many of those there are. */
export function reasonsOf(findings: Findings): { failures: number; reasons: string[] } {
  const against: string[] = []
  const infavour: string[] = []
  const put = (fails: boolean, sentence: string) => (fails ? against : infavour).push(sentence)
  const { stability, payload } = findings
  if (stability.verdict !== 'stable') put(true, stabilitySentence(stability))
  if (payload !== null) {
    put(payload.verdict === 'fail', bandSentence(payload))
    if (payload.missing.length > 0)
      infavour.push(`not judged, since the floor record does not cover it: ${payload.missing.join(', ')} Hz`)
  }
  for (const { name, margins } of findings.loops) {
    const value = margins.modulusMargin
    const stable = margins.closedLoop === 'stable'
    const sentence = `loop ${name}: modulus margin ${digits(value)} at ${digits(margins.modulusMarginFrequency)} Hz`
    if (stable)
      put(value < findings.least, `${sentence}, ${value < findings.least ? 'below' : 'at least'} ${findings.least}`)
    else put(true, `loop ${name} is ${margins.closedLoop} when closed`)
  }
  for (const { name, peak, limit, unit } of findings.effort) {
    put(peak > limit, `${name}: needs ${digits(peak)} ${unit} (3 rms) of ${digits(limit)} ${unit}`)
  }
  return { failures: against.length, reasons: [...against, ...infavour] }
}

function stabilitySentence({ verdict, unstablePoles }: Stability): string {
  return verdict === 'marginal'
    ? 'an undamped mode never settles, so there is no steady state'
    : `the closed system is unstable: ${unstablePoles} poles right of the imaginary axis`
}

function bandSentence({ worst, criterion }: CriterionComparison): string {
  const level = `${digits(worst.rms * 1e6)} µm/s in the ${worst.nominal} Hz band, ${digits(worst.ratio)} of ${criterion}`
  return `worst band of the payload: ${level}`
}

/** Three significant digits, for sentences only. */
function digits(value: number): string {
  return Number.isFinite(value) ? `${Number(value.toPrecision(3))}` : 'infinite'
}
