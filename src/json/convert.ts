import { checkOneOf, checkOptions, fail, type Scope, show, within } from '../internal/check.js'
import { convertLeaf } from './convert-leaf.js'
import type { Forms } from './form.js'
import type { Field, Fields, KindShape, RecordShape, Shape } from './shape.js'
import { table } from './table.js'

/** A conversion between two forms, checked on the way. */
export interface Conversion extends Forms {
  /** Which of the two is the record that the floors can check. */
  readonly record: 'given' | 'made'
  /** Objects that hold the one at hand. */
  readonly open: object[]
}

/** Deepest nesting of a record; the records of the package stay below a quarter of it. */
const deepest = 64

/** The record in its other form. Keys in `more` stand beside its fields and are left out of the result. */
export function convertRecord(
  way: Conversion,
  scope: Scope,
  shape: RecordShape,
  value: unknown,
  more: readonly string[],
): object {
  const fields = fieldsPresent(shape, value)
  const given = checkOptions(scope, value, [...more, ...Object.keys(fields)]) as Readonly<Record<string, unknown>>
  const made = enter(way, scope, given, () =>
    Object.entries(fields).flatMap(([key, field]): [string, unknown][] => {
      const entry = Object.hasOwn(given, key) ? given[key] : undefined
      const inner = requiredShape(field)
      if (entry === undefined && inner !== field) return []
      return [[key, convert(way, within(scope, key), inner, entry)]]
    }),
  )
  const result = { ...(given.kind === undefined ? {} : { kind: given.kind }), ...Object.fromEntries(made) }
  const record = (way.record === 'given' ? given : result) as Readonly<Record<string, { length: number } | undefined>>
  for (const [key, factors] of Object.entries(shape.lengths ?? {})) {
    checkLength(within(scope, key), record, key, factors as readonly string[])
  }
  shape.check?.(scope, record as never)
  return result
}

/** The fields of a record, with those of every group of which it has a part. */
function fieldsPresent({ fields, groups = [] }: RecordShape, value: unknown): Fields {
  const present = groups.filter((group) => Object.keys(group).some((key) => Object.hasOwn(Object(value), key)))
  return Object.assign({}, fields, ...present)
}

function requiredShape(field: Field): Shape {
  return typeof field === 'object' && 'optional' in field ? field.optional : field
}

function checkLength(
  scope: Scope,
  record: Readonly<Record<string, { length: number } | undefined>>,
  key: string,
  factors: readonly string[],
): void {
  const length = record[key]?.length
  const expected = factors.reduce((product, factor) => product * (record[factor] as { length: number }).length, 1)
  if (length === undefined || length === expected) return
  fail('dimension-mismatch', scope, `must have ${expected} entries (${factors.join(' × ')}), got ${length}`)
}

/** Works on the inside of an object, unless that would never end. */
function enter<T>(way: Conversion, scope: Scope, value: object, work: () => T): T {
  if (way.open.includes(value)) fail('invalid-option', scope, 'holds itself')
  if (way.open.length >= deepest) fail('invalid-option', scope, `is nested deeper than ${deepest} levels`)
  way.open.push(value)
  const result = work()
  way.open.pop()
  return result
}

function convert(way: Conversion, scope: Scope, shape: Shape, value: unknown): unknown {
  if (typeof shape === 'string' || 'oneOf' in shape) return convertLeaf(way, scope, shape, value)
  if ('fields' in shape) return convertRecord(way, scope, shape, value, [])
  if ('kind' in shape) return convertKind(way, scope, shape, value)
  if ('nullable' in shape) return value === null ? null : convert(way, scope, shape.nullable, value)
  if ('map' in shape) return convertMap(way, scope, shape.map, value)
  if ('tuple' in shape) {
    const list = checkList(scope, value, shape.tuple.length)
    return shape.tuple.map((entry, i) => convert(way, within(scope, i), entry, list[i]))
  }
  const list = checkList(scope, value)
  return enter(way, scope, list, () =>
    Array.from(list, (entry, i) => convert(way, within(scope, i), shape.list, entry)),
  )
}

function convertKind(way: Conversion, scope: Scope, { kind, without }: KindShape, value: unknown): object {
  if (typeof value !== 'object' || value === null) {
    fail('invalid-option', scope, `must be a record of kind ${kind.join(' or ')}, got ${show(value)}`)
  }
  const said = (value as { readonly kind?: unknown }).kind
  const entry = said === undefined && without !== undefined ? without : checkOneOf(scope, 'kind', said, kind)
  return convertRecord(way, scope, table[entry], value, ['kind'])
}

function convertMap(way: Conversion, scope: Scope, shape: Shape, value: unknown): object {
  if (typeof value !== 'object' || value === null || Array.isArray(value) || ArrayBuffer.isView(value)) {
    fail('invalid-option', scope, `must be a record, got ${show(value)}`)
  }
  // Entries become own properties whatever their name, `__proto__` included; the floors refuse what is no name.
  return enter(way, scope, value, () =>
    Object.fromEntries(
      Object.entries(value).map(([key, entry]) => [key, convert(way, within(scope, key), shape, entry)]),
    ),
  )
}

function checkList(scope: Scope, value: unknown, length?: number): readonly unknown[] {
  if (!Array.isArray(value)) fail('invalid-option', scope, `must be an array, got ${show(value)}`)
  if (length !== undefined && value.length !== length) {
    fail('dimension-mismatch', scope, `must have ${length} entries, got ${value.length}`)
  }
  return value
}
