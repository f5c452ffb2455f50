import { checkOneOf, checkOptions, fail, type Scope, scopeOf, show } from '../internal/check.js'
import { type Conversion, convertRecord } from './convert.js'
import { recordForm, treeForm } from './form.js'
import { jsonText } from './json-text.js'
import type { RecordKind, Records } from './records.js'
import { recordKinds, table } from './table.js'

/** Options of {@link toJson}. */
export interface ToJsonOptions {
  /** One line, or one field per line. @defaultValue `'compact'` */
  readonly layout?: 'compact' | 'indented'
}

/** Version of the text; it rises when older texts could be misread. */
export const format = 1

/** Any record of this package as JSON text, exact to the last bit.
 *
 * Beside its fields the text holds `kind` and `format: 1`. Series are `{ "$f64": [...] }`, an infinite number is
 * `{ "$number": "Infinity" }`; everything else is JSON as it comes. {@link fromJson} reads it back. Options of concepts are
 * plain JSON already and need neither.
 * @param record - a record with a `kind`; what {@link fromJson} would refuse is refused
 * @param options - see {@link ToJsonOptions}
 * @returns the text
 * @throws {@link IsolationError} `invalid-option` for what is no record of this package, lacks `kind` or holds itself;
 * `not-finite` for NaN; `dimension-mismatch` and others as the functions that take the record
 * @source common practice, no source
 * @example
 * import { springMount, toJson } from 'restmass'
 * toJson(springMount({ stiffness: 1e4, damping: 20 })) // '{"kind":"Mount","format":1,"stiffness":10000,"damping":20,"relaxations":[]}'
 */
export function toJson(record: Records[RecordKind], options: ToJsonOptions = {}): string {
  const scope = scopeOf('toJson')
  checkOptions(scope, options, ['layout'])
  const layout = checkOneOf(scope, 'layout', options.layout ?? 'compact', ['compact', 'indented'])
  const kind = kindOf(scope, record)
  const way: Conversion = { from: recordForm, to: treeForm, record: 'given', open: [] }
  const { kind: _, ...fields } = convertRecord(way, scope, table[kind], record, ['kind']) as { kind: RecordKind }
  return jsonText({ kind, format, ...fields }, layout)
}

function kindOf(scope: Scope, record: unknown): RecordKind {
  if (typeof record !== 'object' || record === null || Array.isArray(record) || ArrayBuffer.isView(record)) {
    return fail('invalid-option', scope, `needs a record of this package, got ${show(record)}`)
  }
  const { kind } = record as { kind?: unknown }
  if (kind === undefined) {
    fail('invalid-option', scope, 'needs a record with its kind; a literal gets one from the function that makes it')
  }
  return checkOneOf(scope, 'kind', kind, recordKinds())
}
