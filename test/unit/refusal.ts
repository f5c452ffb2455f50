import { IsolationError } from '../../src/internal/errors.js'

/** The error of this package that a call throws; a test fails where it throws none or another one. */
export function refusal(call: () => unknown): IsolationError {
  try {
    call()
  } catch (error) {
    if (error instanceof IsolationError) return error
    throw error
  }
  throw new Error('nothing was refused')
}
