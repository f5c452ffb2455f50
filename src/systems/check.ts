import { checkNumber, checkOneOf, fail, type Scope, show, within } from '../internal/check.js'
import type { BlockRole, DiscreteStateSpace, StateSpace } from './types.js'

const portName = /^[A-Za-z][A-Za-z0-9_]*$/

/** Everything a block may stand for. */
export const blockRoles: readonly BlockRole[] = ['inertialSensor', 'relativeSensor', 'controller', 'actuator', 'valve']

/** Checks one name of a block, a port or a state and returns it. */
export function checkName<N extends string>(scope: Scope, key: string | number, name: N): N {
  if (typeof name === 'string' && portName.test(name)) return name
  return fail('invalid-option', within(scope, key), `must be a name like [A-Za-z][A-Za-z0-9_]*, got ${show(name)}`)
}

/** Checks a list of distinct names of given length and returns a copy. */
export function checkNames<N extends string>(scope: Scope, key: string, value: readonly N[], count: number): N[] {
  if (!Array.isArray(value)) {
    fail('invalid-option', within(scope, key), `must be an array of names, got ${show(value)}`)
  }
  if (value.length !== count) {
    fail('dimension-mismatch', within(scope, key), `must have ${count} names, got ${value.length}`)
  }
  const seen = value.length > 20 ? new Set<string>() : null
  for (let i = 0; i < value.length; i++) {
    const name: unknown = value[i]
    if (typeof name !== 'string' || !portName.test(name)) checkName(within(scope, key), i, name as N)
    const again = seen === null ? value.indexOf(value[i]) !== i : seen.has(value[i])
    if (again) fail('duplicate-port', within(within(scope, key), i), `is '${name}' a second time`)
    seen?.add(value[i])
  }
  return value.slice() as N[]
}

/** Checks the piece of hardware that a system stands for. */
export function checkRole(scope: Scope, role: unknown): void {
  if (role !== undefined) checkOneOf(scope, 'role', role, blockRoles)
}

/** Checks a matrix of given shape with finite entries and returns a copy. */
export function checkMatrix(scope: Scope, key: string, value: unknown, rows: number, columns: number): number[][] {
  verifyMatrix(scope, key, value, rows, columns)
  return (value as number[][]).map((row) => row.slice())
}

/** Checks that a value is a StateSpace record with consistent shapes and finite entries. */
export function checkSystem(scope: Scope, value: unknown): asserts value is StateSpace {
  const system = value as StateSpace
  if (typeof value !== 'object' || value === null || system.kind !== 'StateSpace') {
    fail('invalid-option', scope, `must be a StateSpace, got ${show(value)}`)
  }
  const inputs = checkNames(scope, 'inputs', system.inputs, system.inputs?.length ?? 0).length
  const outputs = checkNames(scope, 'outputs', system.outputs, system.outputs?.length ?? 0).length
  const n = Array.isArray(system.A) ? system.A.length : 0
  verifyMatrix(scope, 'A', system.A, n, n)
  verifyMatrix(scope, 'B', system.B, n, inputs)
  verifyMatrix(scope, 'C', system.C, outputs, n)
  verifyMatrix(scope, 'D', system.D, outputs, inputs)
  checkNames(scope, 'states', system.states, n)
  checkRole(scope, system.role)
  if (system.delays !== null) checkDelays(within(scope, 'delays'), system, n)
}

function checkDelays(scope: Scope, { delays, inputs, outputs }: StateSpace, n: number): void {
  if (typeof delays !== 'object' || delays === null || !Array.isArray(delays.seconds)) {
    fail('invalid-option', scope, `must be null or a record, got ${show(delays)}`)
  }
  const d = delays.seconds.length
  Array.from<unknown>(delays.seconds).forEach((tau, i) => {
    if (!(typeof tau === 'number' && tau > 0 && Number.isFinite(tau))) {
      fail('out-of-range', within(within(scope, 'seconds'), i), `must be a number above 0 [s], got ${show(tau)}`)
    }
  })
  verifyMatrix(scope, 'B', delays.B, n, d)
  verifyMatrix(scope, 'C', delays.C, d, n)
  verifyMatrix(scope, 'D12', delays.D12, outputs.length, d)
  verifyMatrix(scope, 'D21', delays.D21, d, inputs.length)
  verifyMatrix(scope, 'D22', delays.D22, d, d)
}

/** The check of {@link checkMatrix} without a copy; scopes are built only where it fails. */
function verifyMatrix(scope: Scope, key: string, value: unknown, rows: number, columns: number): void {
  if (!Array.isArray(value)) {
    fail('invalid-option', within(scope, key), `must be an array of rows, got ${show(value)}`)
  }
  if (value.length !== rows) {
    fail('dimension-mismatch', within(scope, key), `must have ${rows} rows, got ${value.length}`)
  }
  for (let i = 0; i < rows; i++) {
    const row: unknown = value[i]
    if (!Array.isArray(row) || row.length !== columns) refuseRow(within(within(scope, key), i), row, columns)
    for (let j = 0; j < columns; j++) {
      if (!Number.isFinite(row[j])) refuseEntry(within(within(within(scope, key), i), j), row[j])
    }
  }
}

function refuseRow(scope: Scope, row: unknown, columns: number): never {
  if (!Array.isArray(row)) return fail('invalid-option', scope, `must be an array of numbers, got ${show(row)}`)
  return fail('dimension-mismatch', scope, `must have ${columns} entries, got ${row.length}`)
}

function refuseEntry(scope: Scope, entry: unknown): never {
  if (typeof entry !== 'number') fail('invalid-option', scope, `must be a number, got ${show(entry)}`)
  return fail('not-finite', scope, `must be finite, got ${entry}`)
}

/** Checks that a value is a DiscreteStateSpace record with consistent shapes and finite entries. */
export function checkDiscreteSystem(scope: Scope, value: unknown): asserts value is DiscreteStateSpace {
  const system = value as DiscreteStateSpace
  if (typeof value !== 'object' || value === null || system.kind !== 'DiscreteStateSpace') {
    fail('invalid-option', scope, `must be a DiscreteStateSpace, got ${show(value)}`)
  }
  checkNumber(scope, 'sampleTime', system.sampleTime, { unit: 's', above: 0 })
  checkSystem(scope, { ...system, kind: 'StateSpace', delays: null })
}
