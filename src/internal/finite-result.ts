import { fail, type Scope } from './check.js'

/** Returns `value`, or refuses options so extreme that it leaves the range of numbers. */
export function finiteResult(scope: Scope, what: string, value: number): number {
  if (Number.isFinite(value)) return value
  fail('out-of-range', scope, `gives a ${what} beyond the range of numbers; the options together are too extreme`)
}
