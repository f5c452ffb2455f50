import {
  checkList,
  checkNumber,
  checkOneOf,
  checkOptions,
  fail,
  type Scope,
  scopeOf,
  within,
} from '../internal/check.js'
import { checkQuantity, checkSamples } from './check.js'
import { type Factor, filteredInFrequency } from './filter-in-frequency.js'
import type { VibrationRecord } from './record-types.js'
import { checkSampleRate } from './segmentation.js'
import { trendOf } from './trend.js'
import type { Detrend, Quantity } from './types.js'
import { detrends } from './window-values.js'

/** A pole or a zero [rad/s]. */
export interface ResponseRoot {
  /** [rad/s] */
  readonly re: number
  /** [rad/s] @defaultValue 0 */
  readonly im?: number
}

/** Options of {@link removeResponse}. */
export interface RemoveResponseOptions {
  /** What the instrument gave [reading], at least two samples */
  readonly samples: readonly number[] | Float64Array
  /** [Hz], 1e-50 to 1e50 */
  readonly sampleRate: number
  /** What the instrument measures. @defaultValue `'unspecified'` */
  readonly quantity?: Quantity
  /** Zeros [rad/s], complex ones with their conjugates */
  readonly zeros: readonly ResponseRoot[]
  /** Poles [rad/s] with negative real parts, complex ones with their conjugates */
  readonly poles: readonly ResponseRoot[]
  /** K of K·Π(s − z)/Π(s − p), other than 0; this or `unityAt` */
  readonly gain?: number
  /** Frequency at which the response has magnitude 1 [Hz], above 0: the readings are right there. This or `gain`. */
  readonly unityAt?: number
  /** Frequency below which nothing is claimed [Hz], above 0 and below half the sample rate */
  readonly lowerCorner: number
  /** What is taken out first. @defaultValue `'mean'` */
  readonly detrend?: Detrend
}

/** The motion behind a record: the response of the instrument, given by poles and zeros, divided out.
 *
 * Y(f)·W(f)/H(2πi·f) with W = 1/(1 + (lowerCorner/f)^(2m)), m = 1 + number of zeros at 0 and at least 2: half the amplitude
 * remains at the corner, without change of phase, and the noise of the instrument does not grow without bound below. The
 * record is taken as periodic: its ends disturb each other over some 1/lowerCorner. Where the instrument did not hear the
 * floor, no division brings it back.
 * @param options - see {@link RemoveResponseOptions}
 * @returns record of the motion, with the trend that was removed from the readings
 * @throws {@link IsolationError} `unstable` for a pole that is not in the left half-plane; `singular` for a zero of the response
 * on a line of the record; `out-of-range`, `not-finite`, `invalid-option`
 * @source common practice, no source
 * @example
 * import { removeResponse } from 'restmass'
 * const samples = Array.from({ length: 1000 }, (_, n) => Math.sin((2 * Math.PI * n) / 100))
 * const response = { zeros: [{ re: 0 }], poles: [{ re: -2 * Math.PI }], gain: 1, lowerCorner: 0.1 }
 * Math.max(...removeResponse({ samples, sampleRate: 100, ...response }).samples) // 1.4134
 */
export function removeResponse(options: RemoveResponseOptions): VibrationRecord {
  const scope = scopeOf('removeResponse')
  checkOptions(scope, options, responseKeys)
  const samples = checkSamples(scope, 'samples', options.samples)
  if (samples.length < 2)
    fail('out-of-range', within(scope, 'samples'), `must hold at least 2 samples, got ${samples.length}`)
  const sampleRate = checkSampleRate(scope, options.sampleRate)
  const quantity = options.quantity === undefined ? 'unspecified' : checkQuantity(scope, options.quantity)
  const corner = checkNumber(scope, 'lowerCorner', options.lowerCorner, { unit: 'Hz', above: 0, below: sampleRate / 2 })
  const detrend = options.detrend === undefined ? 'mean' : checkOneOf(scope, 'detrend', options.detrend, detrends)
  const inverse = inverseResponse(scope, options)
  const power = 2 * Math.max(2, 1 + options.zeros.filter(({ re, im = 0 }) => re === 0 && im === 0).length)
  const [constant, slope] = trendOf(detrend, samples, 0, samples.length)
  const level = samples.map((value, n) => value - constant - slope * n)
  const motion = filteredInFrequency(level, sampleRate, (f) => {
    if (f === 0) return [0, 0]
    const weight = 1 / (1 + (corner / f) ** power)
    const [re, im] = inverse(f)
    return [weight * re, weight * im]
  })
  if (!motion.every(Number.isFinite)) fail('singular', scope, 'divides by a response that is 0 on a line of the record')
  const removed = { constant, slope: slope * sampleRate }
  return { kind: 'VibrationRecord', samples: motion, sampleRate, quantity, findings: [], removed }
}

const responseKeys = [
  'samples',
  'sampleRate',
  'quantity',
  'zeros',
  'poles',
  'gain',
  'unityAt',
  'lowerCorner',
  'detrend',
] as const

/** 1/H as a function of frequency. */
function inverseResponse(scope: Scope, options: RemoveResponseOptions): (frequency: number) => Factor {
  const zeros = checkedRoots(scope, 'zeros', options.zeros)
  const poles = checkedRoots(scope, 'poles', options.poles)
  poles.forEach(({ re }, k) => {
    if (re >= 0) fail('unstable', within(within(scope, 'poles'), k), `must have a negative real part, got ${re} rad/s`)
  })
  if ((options.gain === undefined) === (options.unityAt === undefined)) {
    fail('invalid-option', scope, 'needs either gain or unityAt, and not both')
  }
  const shape = (frequency: number): Factor => {
    const omega = 2 * Math.PI * frequency
    const [top, bottom] = [product(poles, omega), product(zeros, omega)]
    const square = bottom[0] * bottom[0] + bottom[1] * bottom[1]
    return [(top[0] * bottom[0] + top[1] * bottom[1]) / square, (top[1] * bottom[0] - top[0] * bottom[1]) / square]
  }
  if (options.gain !== undefined) {
    const gain = checkNumber(scope, 'gain', options.gain, {})
    if (gain === 0) fail('out-of-range', within(scope, 'gain'), 'must not be 0')
    return scaled(shape, 1 / gain)
  }
  const unityAt = checkNumber(scope, 'unityAt', options.unityAt, { unit: 'Hz', above: 0 })
  const size = Math.hypot(...shape(unityAt))
  if (!(size > 0 && Number.isFinite(size))) fail('singular', within(scope, 'unityAt'), 'is a zero of the response')
  return scaled(shape, 1 / size)
}

function scaled(shape: (frequency: number) => Factor, factor: number): (frequency: number) => Factor {
  return (frequency) => {
    const [re, im] = shape(frequency)
    return [re * factor, im * factor]
  }
}

/** Π (iω − root) */
function product(roots: readonly Required<ResponseRoot>[], omega: number): Factor {
  return roots.reduce<Factor>(
    ([re, im], root) => [-re * root.re - im * (omega - root.im), re * (omega - root.im) - im * root.re],
    [1, 0],
  )
}

function checkedRoots(scope: Scope, key: string, value: readonly ResponseRoot[]): Required<ResponseRoot>[] {
  const at = within(scope, key)
  const roots = checkList(scope, key, value).map((root, k) => {
    checkOptions(within(at, k), root, ['re', 'im'])
    const re = checkNumber(within(at, k), 're', root.re, { unit: 'rad/s' })
    return { re, im: root.im === undefined ? 0 : checkNumber(within(at, k), 'im', root.im, { unit: 'rad/s' }) }
  })
  roots.forEach(({ re, im }, k) => {
    const near = 1e-6 * Math.hypot(re, im)
    const pairs = (sign: number) =>
      roots.filter((other) => Math.hypot(other.re - re, other.im - sign * im) <= near).length
    if (im !== 0 && pairs(1) !== pairs(-1)) fail('invalid-option', within(at, k), 'must come with its conjugate')
  })
  return roots
}
