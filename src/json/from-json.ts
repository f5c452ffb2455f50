import { checkOneOf, checkOptions, fail, type Scope, scopeOf, show, within } from '../internal/check.js'
import { type Conversion, convertRecord } from './convert.js'
import { recordForm, treeForm } from './form.js'
import type { RecordKind, Records } from './records.js'
import { recordKinds, table } from './table.js'
import { format } from './to-json.js'

/** Options of {@link fromJson}. */
export interface FromJsonOptions<K extends RecordKind = RecordKind> {
  /** Kind of the record that the text must hold; it sets the type of the result. */
  readonly kind: K
}

/** The record that a JSON text of {@link toJson} holds, checked in every field.
 *
 * Missing and unknown fields, wrong shapes, lengths that do not fit and numbers that are not finite are refused; what a
 * floor demands of its record holds here as well. The text may come from anywhere: keys such as `__proto__` are names like
 * others.
 * @param text - JSON text with `kind` and `format`
 * @param options - see {@link FromJsonOptions}
 * @returns the record, equal to the one that was written
 * @throws {@link IsolationError} `format-version` for another format; `invalid-option` for what is not JSON or of another
 * kind; `not-finite`, `dimension-mismatch`, `out-of-range` and others for malformed contents
 * @source common practice, no source
 * @example
 * import { fromJson, spectrum, toJson } from 'restmass'
 * const floor = spectrum({ quantity: 'velocity', frequency: [1, 2], density: [1e-12, 4e-12] })
 * fromJson(toJson(floor), { kind: 'Spectrum' }).density // [1e-12, 4e-12]
 */
export function fromJson<K extends RecordKind>(text: string, options: FromJsonOptions<K>): Records[K] {
  const scope = scopeOf('fromJson')
  checkOptions(scope, options, ['kind'])
  const kind = checkOneOf(scope, 'kind', options.kind, recordKinds()) as K
  const tree = parsed(scope, text)
  if (tree.format !== format) {
    fail('format-version', within(scope, 'format'), `must be ${format}, got ${show(tree.format)}`, {
      allowed: `${format}`,
    })
  }
  if (tree.kind !== kind) {
    fail('invalid-option', within(scope, 'kind'), `must be '${kind}' as asked, got ${show(tree.kind)}`)
  }
  const way: Conversion = { from: treeForm, to: recordForm, record: 'made', open: [] }
  return convertRecord(way, scope, table[kind], tree, ['kind', 'format']) as Records[K]
}

function parsed(scope: Scope, text: unknown): { readonly kind?: unknown; readonly format?: unknown } {
  if (typeof text !== 'string') return fail('invalid-option', scope, `needs a text, got ${show(text)}`)
  let tree: unknown
  try {
    tree = JSON.parse(text)
  } catch (error) {
    return fail('invalid-option', scope, `needs JSON; ${(error as Error).message}`)
  }
  if (typeof tree !== 'object' || tree === null || Array.isArray(tree)) {
    return fail('invalid-option', scope, `needs the JSON of a record, got that of ${show(tree)}`)
  }
  return tree
}
