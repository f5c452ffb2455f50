import { checkGrid, fail, type Scope, scopeOf, show, within } from '../internal/check.js'
import type { Forms } from './form.js'
import type { Shape } from './shape.js'

type Leaf = Extract<Shape, string | { readonly oneOf: readonly string[] }>

/** A value without parts that the table knows, in its other form. */
export function convertLeaf(way: Forms, scope: Scope, shape: Leaf, value: unknown): unknown {
  if (typeof shape === 'object') return oneOf(scope, value, shape.oneOf)
  switch (shape) {
    case 'number':
    case 'unboundedNumber':
      return convertNumber(way, scope, value, shape === 'unboundedNumber')
    case 'grid':
    case 'series':
    case 'unboundedSeries':
      return convertSeries(way, scope, value, shape)
    case 'text':
      return typeof value === 'string' ? value : refuse(scope, 'a text', value)
    case 'truth':
      return typeof value === 'boolean' ? value : refuse(scope, 'true or false', value)
    case 'wire':
      if (Array.isArray(value))
        return Array.from(value, (source, i) => convertLeaf(way, within(scope, i), 'text', source))
      return value === null || typeof value === 'string' ? value : refuse(scope, 'a source, a list or null', value)
    case 'given': {
      const scalar = way.from.readNumber(value)
      if (typeof scalar === 'number') return way.to.writeNumber(scalar)
      return scalar === null || ['string', 'boolean'].includes(typeof scalar) ? scalar : refuse(scope, 'plain', value)
    }
  }
}

function convertNumber(way: Forms, scope: Scope, value: unknown, unbounded: boolean): unknown {
  return way.to.writeNumber(checkedNumber(scope, way.from.readNumber(value), unbounded))
}

function convertSeries(way: Forms, scope: Scope, value: unknown, shape: Leaf): unknown {
  const entries = way.from.readSeries(value) ?? refuse(scope, way.from.series, value)
  const values = new Float64Array(entries.length)
  for (let i = 0; i < entries.length; i++) {
    const entry = way.from.readNumber(entries[i])
    values[i] = Number.isFinite(entry)
      ? (entry as number)
      : checkedNumber(within(scope, i), entry, shape === 'unboundedSeries')
  }
  if (shape === 'grid') checkGrid(scopeOf(scope.fn), scope.path, values, { unit: 'Hz', atLeast: 0 })
  return way.to.writeSeries(values)
}

function checkedNumber(scope: Scope, value: unknown, unbounded: boolean): number {
  if (typeof value !== 'number') return refuse(scope, 'a number', value)
  if (Number.isFinite(value) || (unbounded && !Number.isNaN(value))) return value
  return fail('not-finite', scope, `must be a ${unbounded ? 'number' : 'finite number'}, got ${value}`)
}

function refuse(scope: Scope, what: string, value: unknown): never {
  return fail('invalid-option', scope, `must be ${what}, got ${show(value)}`)
}

function oneOf(scope: Scope, value: unknown, allowed: readonly string[]): string {
  if (allowed.includes(value as string)) return value as string
  const list = allowed.map((entry) => `'${entry}'`).join(', ')
  return fail('invalid-option', scope, `must be one of ${list}, got ${show(value)}`, { allowed: list })
}
