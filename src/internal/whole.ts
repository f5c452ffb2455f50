import { fail, type Scope } from './check.js'
import { isIsolationError } from './errors.js'

/** What `read` makes of a record that only this package writes; a record with parts missing or of another type is refused, in
 * the words of what it stumbled over. */
export function whole<T>(scope: Scope, kind: string, read: () => T): T {
  try {
    return read()
  } catch (error) {
    if (isIsolationError(error)) throw error
    return fail('invalid-option', scope, `needs a whole ${kind}, as it was returned (${(error as Error).message})`)
  }
}
