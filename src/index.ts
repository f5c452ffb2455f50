// The public face: named re-exports only, grouped by floor.

export {
  type ErrorCode,
  type ErrorDetails,
  type ErrorRecord,
  errorRecord,
  IsolationError,
  isIsolationError,
} from './internal/errors.js'
