/** Reasons for which a call is refused; they are part of the public contract. */
export type ErrorCode =
  | 'invalid-option'
  | 'out-of-range'
  | 'not-finite'
  | 'dimension-mismatch'
  | 'unknown-port'
  | 'duplicate-port'
  | 'unconnected-port'
  | 'improper'
  | 'algebraic-loop'
  | 'unstable'
  | 'singular'
  | 'ill-conditioned'
  | 'no-convergence'
  | 'unsupported'
  | 'format-version'

/** What an error says about its cause, as plain data. */
export interface ErrorDetails {
  /** Name of the exported function that refused. */
  readonly function: string
  /** Path of the option, such as `payload.mass`; empty for the whole argument. */
  readonly path: string
  /** What was given, where it is plain data. */
  readonly value?: unknown
  /** What would have been allowed, in words. */
  readonly allowed?: string
  /** Unit of the value. */
  readonly unit?: string
}

/** Plain form of an {@link IsolationError}, for workers and logs. */
export interface ErrorRecord {
  readonly kind: 'ErrorRecord'
  readonly code: ErrorCode
  readonly message: string
  readonly details: ErrorDetails
}

/** The one error class of this package: a `code` to switch on and plain-data `details`.
 *
 * `instanceof` fails between the ESM and the CJS copy of the package; use {@link isIsolationError}.
 * @example
 * import { isIsolationError, naturalFrequency } from 'restmass'
 * let code = ''
 * try {
 *   naturalFrequency({ mass: -1, stiffness: 1e4 })
 * } catch (error) {
 *   if (isIsolationError(error)) code = error.code
 * }
 * code // 'out-of-range'
 */
export class IsolationError extends Error {
  override readonly name = 'IsolationError'
  readonly code: ErrorCode
  readonly details: ErrorDetails

  constructor(code: ErrorCode, message: string, details: ErrorDetails) {
    super(message)
    this.code = code
    this.details = details
  }
}

/** Tells whether a value is an {@link IsolationError} or its plain form, whichever copy of the package made it.
 *
 * @param value - anything, such as what a `catch` received
 * @returns true for an error of this package and for an {@link ErrorRecord}
 * @source derived: errors lose their class between copies of a package and in `structuredClone`
 * @example
 * import { isIsolationError } from 'restmass'
 * isIsolationError(new Error('other')) // false
 */
export function isIsolationError(value: unknown): value is IsolationError | ErrorRecord {
  if (typeof value !== 'object' || value === null) return false
  const candidate = value as { name?: unknown; kind?: unknown; code?: unknown; details?: unknown }
  const named = candidate.name === 'IsolationError' || candidate.kind === 'ErrorRecord'
  return (
    named && typeof candidate.code === 'string' && typeof candidate.details === 'object' && candidate.details !== null
  )
}

/** Plain, cloneable form of an error of this package.
 *
 * @param error - an {@link IsolationError}
 * @returns its code, message and details, which survive `structuredClone` and JSON
 * @throws {@link IsolationError} `invalid-option` for anything else
 * @source derived: `structuredClone` keeps neither the class nor the code of an error
 * @example
 * import { errorRecord, IsolationError } from 'restmass'
 * const error = new IsolationError('singular', 'frequencyResponse: pole on the grid', { function: 'frequencyResponse', path: '' })
 * errorRecord(error).code // 'singular'
 */
export function errorRecord(error: IsolationError | ErrorRecord): ErrorRecord {
  if (!isIsolationError(error) || !isToldInWords(error)) {
    const details = { function: 'errorRecord', path: '' }
    throw new IsolationError('invalid-option', 'errorRecord: needs an IsolationError or an ErrorRecord', details)
  }
  return { kind: 'ErrorRecord', code: error.code, message: error.message, details: error.details }
}

function isToldInWords({ message, details }: IsolationError | ErrorRecord): boolean {
  return [message, details?.function, details?.path].every((text) => typeof text === 'string')
}
