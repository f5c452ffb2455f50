import { fail, type Scope } from '../internal/check.js'
import { denseFrom, largest, multiply, rowsOf } from '../linear/dense.js'
import { luFactors, solve } from '../linear/solve.js'
import type { StateSpace } from '../systems/types.js'

/** A velocity sensor S(s) that also reads its own tilt: signal = S·(v + g·ω/s²), with ω the rate at which its axis turns up.
 *
 * S falls as s² towards 0 Hz in every real inertial sensor, so that S/s² is a filter of the same poles: with S(0) = 0,
 * C (sI − A)⁻¹ A⁻² B. A sensor that answers to constant velocity is an idealised one and reads no tilt.
 */
export function withTilt(scope: Scope, sensor: StateSpace, gravity: number): StateSpace {
  const n = sensor.A.length
  if (n === 0 && sensor.delays === null) return sensor
  const A = denseFrom(sensor.A, n)
  const C = denseFrom(sensor.C, n)
  const factors = luFactors(A)
  const once = sensor.delays === null ? solve(A, denseFrom(sensor.B, 1), factors) : null
  const twice = once === null ? null : solve(A, once, factors)
  if (once === null || twice === null) refuse(scope)
  const still = sensor.D[0][0] - multiply(C, once).data[0]
  const steady = multiply(C, twice).data[0]
  const isSmall = (value: number, of: readonly [typeof C, typeof once]) =>
    Math.abs(value) <= 1e-9 * n * largest(of[0]) * largest(of[1])
  if (!isSmall(still, [C, once])) return sensor
  if (!isSmall(steady, [C, twice])) refuse(scope)
  return {
    ...sensor,
    B: rowsOf(twice).map(([value], i) => [...sensor.B[i], gravity * value]),
    D: sensor.D.map((row) => [...row, 0]),
    inputs: [...sensor.inputs, 'tilting'],
  }
}

function refuse(scope: Scope): never {
  fail('unsupported', scope, 'must be without delay and fall as s² towards 0 Hz to stand level on a payload that tilts')
}
