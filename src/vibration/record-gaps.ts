import { checkGrid, checkNumbers, fail, type Scope, within } from '../internal/check.js'
import type { RecordFinding } from './record-types.js'

/** Copy of the readings, where wanted with straight lines across missing ones. */
export function bridged(
  scope: Scope,
  value: unknown,
  missing: 'refuse' | 'bridge',
): { readonly readings: Float64Array; readonly findings: RecordFinding[] } {
  const at = within(scope, 'samples')
  if (!Array.isArray(value) && !(value instanceof Float64Array)) checkNumbers(scope, 'samples', value)
  const given = value as ArrayLike<number>
  if (given.length === 0) fail('out-of-range', at, 'must hold at least 1 sample, got 0')
  if (missing === 'refuse') return { readings: Float64Array.from(checkNumbers(scope, 'samples', value)), findings: [] }
  const present = Array.from(given, (_, i) => i).filter((i) => !Number.isNaN(given[i]))
  checkNumbers(
    scope,
    'samples',
    present.map((i) => given[i]),
  )
  if (present.length === 0) fail('not-finite', at, 'must hold at least 1 number')
  const readings = Float64Array.from(given)
  for (let k = 0; k <= present.length; k++) {
    const before = present[k - 1] ?? present[k]
    const after = present[k] ?? before
    const start = k === 0 ? 0 : before + 1
    const end = k === present.length ? given.length : after
    for (let i = start; i < end; i++) {
      const share = after === before ? 0 : (i - before) / (after - before)
      readings[i] = given[before] * (1 - share) + given[after] * share
    }
  }
  const count = given.length - present.length
  if (count === 0) return { readings, findings: [] }
  const first = Array.from(given).findIndex(Number.isNaN)
  const says = `${count} missing samples were bridged by straight lines`
  return { readings, findings: [{ check: 'missing', count, first, says }] }
}

/** Steps between instants that are not one sample long, as at most one finding. */
export function gapsIn(scope: Scope, value: unknown, length: number, sampleRate: number): RecordFinding[] {
  if (value === undefined) return []
  const times = checkGrid(scope, 'times', value, { unit: 's' })
  if (times.length !== length) {
    fail('dimension-mismatch', within(scope, 'times'), `must have ${length} entries like samples, got ${times.length}`)
  }
  let first = -1
  let count = 0
  for (let i = 1; i < length; i++) {
    const steps = (times[i] - times[i - 1]) * sampleRate
    if (Math.abs(steps - 1) <= 0.5) continue
    if (first < 0) first = i
    count += Math.max(1, Math.round(steps) - 1)
  }
  // Small steps may add up: the last instant has to be where the sample rate puts it, but for what gaps explain.
  const drift = length < 2 || first >= 0 ? 0 : ((times[length - 1] - times[0]) * sampleRate) / (length - 1) - 1
  if (Math.abs(drift) > 1e-3) {
    fail(
      'invalid-option',
      within(scope, 'times'),
      `must fit the sample rate: they are ${(sampleRate / (1 + drift)).toPrecision(6)} Hz apart, not ${sampleRate} Hz`,
    )
  }
  if (first < 0) return []
  return [
    { check: 'gap', count, first, says: `about ${count} samples are missing between instants; cut the record there` },
  ]
}
