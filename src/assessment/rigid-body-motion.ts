import {
  checkList,
  checkNumber,
  checkNumbers,
  checkOneOf,
  checkOptions,
  fail,
  type Scope,
  scopeOf,
  within,
} from '../internal/check.js'
import { type Dense, zeros } from '../linear/dense.js'
import { leastSquares } from '../linear/least-squares.js'
import { checkSamples } from '../vibration/check.js'

/** Axes of a rigid body: translations along and rotations about x, y and z. */
export type BodyAxis = 'x' | 'y' | 'z' | 'rotationX' | 'rotationY' | 'rotationZ'

/** A sensor at a known place. */
export interface PlacedSensor {
  /** Where it stands, from the reference point: x, y, z [m] */
  readonly position: readonly [number, number, number]
  /** Direction it measures; need not have unit length */
  readonly direction: readonly [number, number, number]
  /** Its record [unit] */
  readonly samples: readonly number[] | Float64Array
}

/** Options of {@link rigidBodyMotion}. */
export interface RigidBodyMotionOptions {
  /** At least as many sensors as axes, all sampled at the same instants */
  readonly sensors: readonly PlacedSensor[]
  /** Axes the body is free to move in. @defaultValue all six */
  readonly axes?: readonly BodyAxis[]
}

/** Motion of a rigid body from several sensors. */
export interface RigidBodyMotion {
  readonly kind: 'RigidBodyMotion'
  /** Record of each axis at the reference point: [unit] of the sensors, [unit/m] for rotations */
  readonly motion: Readonly<Partial<Record<BodyAxis, Float64Array>>>
  /** Noise of an axis per noise of one sensor, all alike and independent: 1 for a translation, 1/m for a rotation */
  readonly noiseGain: Readonly<Partial<Record<BodyAxis, number>>>
  /** Rms of what each sensor reads beyond the rigid body, over its own rms; all 0 without a sensor to spare */
  readonly misfit: readonly number[]
}

/** Motion of floor or payload in up to six axes, from sensors at known places, by least squares.
 *
 * A sensor at r that measures along d reads d·v + (r × d)·ω, v the motion of the reference point and ω the rotation, both
 * small. With more sensors than axes, what does not fit is the bending of the body, the noise and the errors of placement;
 * one sensor that fits badly is mislabelled. Horizontal inertial sensors also read tilt, by g·ω/(2πf)², which is not removed.
 * @param options - see {@link RigidBodyMotionOptions}
 * @returns see {@link RigidBodyMotion}
 * @throws {@link IsolationError} `singular` where the sensors cannot tell the axes apart, such as four vertical ones in a row;
 * `dimension-mismatch`; `invalid-option`; `not-finite`
 * @source common practice, no source
 * @example
 * import { rigidBodyMotion } from 'restmass'
 * const at = (x: number, samples: number[]) => ({ position: [x, 0, 0], direction: [0, 0, 1], samples }) as const
 * const sensors = [at(-0.5, [1, 2]), at(0.5, [1, 4])]
 * const { motion } = rigidBodyMotion({ sensors, axes: ['z', 'rotationY'] })
 * const second = [motion.z?.[1], motion.rotationY?.[1]]
 * second // [3, -2]
 */
export function rigidBodyMotion(options: RigidBodyMotionOptions): RigidBodyMotion {
  const scope = scopeOf('rigidBodyMotion')
  checkOptions(scope, options, ['sensors', 'axes'])
  const axes = checkedAxes(scope, options.axes)
  const { rows, records } = checkedSensors(scope, options.sensors)
  if (rows.length < axes.length) {
    fail(
      'dimension-mismatch',
      within(scope, 'sensors'),
      `must be at least ${axes.length} for as many axes, got ${rows.length}`,
    )
  }
  const A = zeros(rows.length, axes.length)
  rows.forEach((row, i) => {
    axes.forEach((axis, j) => {
      A.data[i * axes.length + j] = row[allAxes.indexOf(axis)]
    })
  })
  const weights = pseudoInverse(scope, A)
  const length = records[0].length
  const motion: Partial<Record<BodyAxis, Float64Array>> = {}
  const noiseGain: Partial<Record<BodyAxis, number>> = {}
  axes.forEach((axis, j) => {
    const series = new Float64Array(length)
    records.forEach((record, i) => {
      for (let n = 0; n < length; n++) series[n] += weights[i][j] * record[n]
    })
    motion[axis] = series
    noiseGain[axis] = Math.hypot(...weights.map((weight) => weight[j]))
  })
  return { kind: 'RigidBodyMotion', motion, noiseGain, misfit: misfits(A, axes, motion, records) }
}

const allAxes: readonly BodyAxis[] = ['x', 'y', 'z', 'rotationX', 'rotationY', 'rotationZ']

function checkedAxes(scope: Scope, axes: readonly BodyAxis[] | undefined): readonly BodyAxis[] {
  if (axes === undefined) return allAxes
  const at = within(scope, 'axes')
  checkList(scope, 'axes', axes, 1).forEach((axis, k) => {
    checkOneOf(at, `${k}`, axis, allAxes)
    if (axes.indexOf(axis) !== k) fail('invalid-option', at, `must not list ${axis} twice`)
  })
  return axes
}

/** What each sensor reads per unit of motion in all six axes, and its record. */
function checkedSensors(scope: Scope, sensors: readonly PlacedSensor[]): { rows: number[][]; records: Float64Array[] } {
  const at = within(scope, 'sensors')
  const records: Float64Array[] = []
  const rows = checkList(scope, 'sensors', sensors, 1).map((sensor, i) => {
    const here = within(at, i)
    checkOptions(here, sensor, ['position', 'direction', 'samples'])
    const [x, y, z] = vector(here, 'position', sensor.position)
    const given = vector(here, 'direction', sensor.direction)
    const size = Math.hypot(...given)
    checkNumber(here, 'direction', size, { above: 0 })
    const [a, b, c] = given.map((value) => value / size)
    records.push(checkSamples(here, 'samples', sensor.samples))
    if (records[i].length !== records[0].length) {
      fail(
        'dimension-mismatch',
        within(here, 'samples'),
        `must have ${records[0].length} entries, got ${records[i].length}`,
      )
    }
    return [a, b, c, y * c - z * b, z * a - x * c, x * b - y * a]
  })
  return { rows, records }
}

function vector(scope: Scope, key: string, value: unknown): number[] {
  const list = Array.from(checkNumbers(scope, key, value, { atLeast: -1e6, atMost: 1e6 }))
  if (list.length === 3) return list
  fail('dimension-mismatch', within(scope, key), `must have 3 entries, got ${list.length}`)
}

/** Weight of each sensor in each axis: least-squares solutions for a unit reading of one sensor at a time. */
function pseudoInverse(scope: Scope, A: Dense): Float64Array[] {
  return Array.from({ length: A.rows }, (_, i) => {
    const weights = leastSquares(A, new Float64Array(A.rows).fill(1, i, i + 1))
    if (weights?.every((value) => Math.abs(value) < 1e9)) return weights
    return fail('singular', within(scope, 'sensors'), 'cannot tell these axes apart from these places and directions')
  })
}

function misfits(
  A: Dense,
  axes: readonly BodyAxis[],
  motion: RigidBodyMotion['motion'],
  records: readonly Float64Array[],
): number[] {
  return records.map((record, i) => {
    if (A.rows === A.columns) return 0
    let off = 0
    let all = 0
    record.forEach((value, n) => {
      const rigid = axes.reduce(
        (sum, axis, j) => sum + A.data[i * A.columns + j] * (motion[axis] as Float64Array)[n],
        0,
      )
      off += (value - rigid) ** 2
      all += value * value
    })
    return all === 0 ? 0 : Math.sqrt(off / all)
  })
}
