import { fail, type Scope, show, within } from '../internal/check.js'
import type { Matrix, StateSpace } from './types.js'

const portName = /^[A-Za-z][A-Za-z0-9_]*$/

/** Checks a matrix of given shape with finite entries and returns a copy. */
export function checkMatrix(scope: Scope, key: string, value: unknown, rows: number, columns: number): number[][] {
  const at = within(scope, key)
  if (!Array.isArray(value)) fail('invalid-option', at, `must be an array of rows, got ${show(value)}`)
  if (value.length !== rows) fail('dimension-mismatch', at, `must have ${rows} rows, got ${value.length}`)
  return value.map((row: unknown, i) => {
    if (!Array.isArray(row)) fail('invalid-option', within(at, i), `must be an array of numbers, got ${show(row)}`)
    if (row.length !== columns) {
      fail('dimension-mismatch', within(at, i), `must have ${columns} entries, got ${row.length}`)
    }
    for (let j = 0; j < columns; j++) {
      const entry: unknown = row[j]
      if (typeof entry !== 'number')
        fail('invalid-option', within(within(at, i), j), `must be a number, got ${show(entry)}`)
      if (!Number.isFinite(entry)) fail('not-finite', within(within(at, i), j), `must be finite, got ${entry}`)
    }
    return row.slice() as number[]
  })
}

/** Checks a list of distinct names of given length and returns a copy. */
export function checkNames<N extends string>(scope: Scope, key: string, value: readonly N[], count: number): N[] {
  const at = within(scope, key)
  if (!Array.isArray(value)) fail('invalid-option', at, `must be an array of names, got ${show(value)}`)
  if (value.length !== count) fail('dimension-mismatch', at, `must have ${count} names, got ${value.length}`)
  value.forEach((name: N, i) => {
    if (typeof name !== 'string' || !portName.test(name)) {
      fail('invalid-option', within(at, i), `must be a name like [A-Za-z][A-Za-z0-9_]*, got ${show(name)}`)
    }
    if (value.indexOf(name) !== i) fail('duplicate-port', within(at, i), `is '${name}' a second time`)
  })
  return [...value]
}

/** Checks that a value is a StateSpace record with consistent shapes and finite entries. */
export function checkSystem(scope: Scope, value: unknown): asserts value is StateSpace {
  const system = value as StateSpace
  if (typeof value !== 'object' || value === null || system.kind !== 'StateSpace') {
    fail('invalid-option', scope, `must be a StateSpace, got ${show(value)}`)
  }
  const n = system.A?.length ?? 0
  const inputs = checkNames(scope, 'inputs', system.inputs, system.inputs?.length ?? 0).length
  const outputs = checkNames(scope, 'outputs', system.outputs, system.outputs?.length ?? 0).length
  const check = (key: string, matrix: Matrix, rows: number, columns: number) =>
    checkMatrix(scope, key, matrix, rows, columns)
  check('A', system.A, n, n)
  check('B', system.B, n, inputs)
  check('C', system.C, outputs, n)
  check('D', system.D, outputs, inputs)
  const delays = system.delays
  if (delays === null) return
  if (typeof delays !== 'object' || !Array.isArray(delays.seconds)) {
    fail('invalid-option', within(scope, 'delays'), `must be null or a record, got ${show(delays)}`)
  }
  const d = delays.seconds.length
  delays.seconds.forEach((tau, i) => {
    if (!(typeof tau === 'number' && tau > 0 && Number.isFinite(tau))) {
      fail('out-of-range', within(within(scope, 'delays.seconds'), i), `must be a number above 0 [s], got ${show(tau)}`)
    }
  })
  check('delays.B', delays.B, n, d)
  check('delays.C', delays.C, d, n)
  check('delays.D12', delays.D12, outputs, d)
  check('delays.D21', delays.D21, d, inputs)
  check('delays.D22', delays.D22, d, d)
}
