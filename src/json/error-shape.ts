import type { ErrorRecord } from '../internal/errors.js'
import type { RecordShapeFor } from './shape.js'

export const errorRecordShape: RecordShapeFor<ErrorRecord> = {
  fields: {
    code: {
      oneOf: [
        'invalid-option',
        'out-of-range',
        'not-finite',
        'dimension-mismatch',
        'unknown-port',
        'duplicate-port',
        'unconnected-port',
        'improper',
        'algebraic-loop',
        'unstable',
        'singular',
        'ill-conditioned',
        'no-convergence',
        'unsupported',
        'format-version',
      ],
    },
    message: 'text',
    details: {
      fields: {
        function: 'text',
        path: 'text',
        value: { optional: 'given' },
        allowed: { optional: 'text' },
        unit: { optional: 'text' },
      },
    },
  },
}
