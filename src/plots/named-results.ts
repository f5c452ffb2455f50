import { fail, type Scope, show, within } from '../internal/check.js'
import { mostLines } from './line-styles.js'

/** A result with the name that its line carries; the name is empty where there is only one result and no name. */
export interface NamedResult<T> {
  readonly name: string
  readonly scope: Scope
  readonly result: T
}

/** One result, or several by name, as a list. */
export function namedResults<T extends object>(
  scope: Scope,
  results: T | Readonly<Record<string, T>>,
  isResult: (value: object) => boolean,
): NamedResult<T>[] {
  if (typeof results !== 'object' || results === null || Array.isArray(results) || ArrayBuffer.isView(results)) {
    fail('invalid-option', scope, `needs a result, or several by name, got ${show(results)}`)
  }
  if (isResult(results)) return [{ name: '', scope, result: results as T }]
  const named = Object.entries(results as Readonly<Record<string, T>>)
  if (named.length === 0 || named.length > mostLines) {
    fail('out-of-range', scope, `needs 1 to ${mostLines} results, got ${named.length}`)
  }
  return named.map(([name, result]) => ({ name, scope: within(scope, name), result }))
}
