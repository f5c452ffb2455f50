import type { Scope } from '../internal/check.js'
import type { Wire } from '../systems/port-names.js'
import type { RecordKind } from './records.js'

/** What a value has to look like, as plain data.
 *
 * `unbounded…` lets ±Infinity pass; `grid` is a `series` that ascends from 0 Hz or above; `wire` is a source, a list of
 * sources or null; `given` is whatever scalar a caller may have passed, NaN included.
 */
export type Shape =
  | 'number'
  | 'unboundedNumber'
  | 'text'
  | 'truth'
  | 'given'
  | 'wire'
  | 'grid'
  | 'series'
  | 'unboundedSeries'
  | { readonly oneOf: readonly string[] }
  | { readonly nullable: Shape }
  | { readonly list: Shape }
  | { readonly tuple: readonly Shape[] }
  | { readonly map: Shape }
  | KindShape
  | RecordShape

/** A record that says what it is. */
export interface KindShape {
  readonly kind: readonly RecordKind[]
  /** Description that holds for a record without `kind`; without it, `kind` must be there. */
  readonly without?: TableKey
}

/** A record with named fields. */
export interface RecordShape {
  readonly fields: Fields
  /** Length of a field as the product of the lengths of others. */
  readonly lengths?: Readonly<Record<string, readonly string[] | undefined>>
  /** Further fields, group by group: all of a group or none of it. */
  readonly groups?: readonly Fields[]
  /** What the floor that owns the record has to say about it. */
  readonly check?: (scope: Scope, record: never) => void
}

/** Fields by name. */
export type Fields = Readonly<Record<string, Field>>

/** A field that must be there, or one that may be left out. */
export type Field = Shape | { readonly optional: Shape }

/** Entries of the table of shapes: every kind, and a mount written without its kind. */
export type TableKey = RecordKind | 'MountLiteral'

/** Shapes that describe a type, so that a field cannot be forgotten in the table. */
export type ShapeFor<V> = unknown extends V
  ? 'given'
  : [V] extends [null]
    ? never
    : [V] extends [Wire]
      ? ShapeForText<V>
      : null extends V
        ? { readonly nullable: ShapeFor<Exclude<V, null>> }
        : [V] extends [Float64Array]
          ? 'grid' | 'series' | 'unboundedSeries'
          : [V] extends [number]
            ? 'number' | 'unboundedNumber'
            : [V] extends [boolean]
              ? 'truth'
              : [V] extends [readonly unknown[]]
                ? ShapeForList<V>
                : ShapeForRecord<V>

type ShapeForText<V> = [Wire] extends [V]
  ? 'wire'
  : null extends V
    ? { readonly nullable: ShapeForText<Exclude<V, null>> }
    : [V] extends [string]
      ? string extends V
        ? 'text'
        : { readonly oneOf: readonly V[] }
      : { readonly list: 'text' }

type ShapeForList<V extends readonly unknown[]> = number extends V['length']
  ? { readonly list: ShapeFor<V[number]> }
  : { readonly tuple: { readonly [I in keyof V]: ShapeFor<V[I]> } }

type ShapeForRecord<V> = string extends keyof V
  ? { readonly map: ShapeFor<V[keyof V]> }
  : V extends { readonly kind?: string }
    ? KindShape
    : RecordShapeFor<V>

/** Description of a record type; its `kind` is no field of it. */
export interface RecordShapeFor<V> {
  readonly fields: FieldsFor<V>
  readonly lengths?: { readonly [K in keyof V]?: readonly (keyof V & string)[] }
  readonly groups?: readonly Fields[]
  readonly check?: (scope: Scope, record: V) => void
}

/** Description of every field of a record type. */
export type FieldsFor<V> = {
  readonly [K in keyof V as Exclude<K, 'kind'>]-?: undefined extends V[K]
    ? { readonly optional: ShapeFor<Exclude<V[K], undefined>> }
    : ShapeFor<V[K]>
}
