import { checkNumber, checkOptions, fail, scopeOf, within } from '../internal/check.js'
import { hypotenuse } from '../linear/hypotenuse.js'
import { butterworthDamping, checkOrder, cornerRange } from './butterworth.js'
import { cascade, type Section, secondOrder } from './section.js'
import type { StateSpace } from './types.js'

/** Options of {@link bandPass}. */
export interface BandPassOptions<I extends string = string, O extends string = string> {
  /** Lower corner [Hz], above 0, where 1/√2 of the amplitude passes. */
  readonly from: number
  /** Upper corner [Hz], above `from`, where 1/√2 of the amplitude passes. */
  readonly to: number
  /** Slope on either side in multiples of 20 dB per decade, a whole number from 1 to 20. @defaultValue 1 */
  readonly order?: number
  /** Name of the input. @defaultValue `u1` */
  readonly input?: I
  /** Name of the output. @defaultValue `y1` */
  readonly output?: O
}

/** A Butterworth band-pass filter with unit gain at the geometric mean of its corners.
 *
 *     order 1: b s/(s² + b s + ω₀²)      b = 2π·(to − from)      ω₀ = 2π·√(from·to)
 *
 * Order n has 2n states: each pole p of the low-pass of order n becomes the two roots of s² − p b s + ω₀².
 * @param options - see {@link BandPassOptions}
 * @returns a block with one input and one output
 * @throws {@link IsolationError} `out-of-range`, `not-finite`, `invalid-option`
 * @source A. V. Oppenheim, R. W. Schafer, Discrete-Time Signal Processing, 3rd edition 2010, appendix B (Butterworth);
 * low-pass to band-pass transformation s → (s² + ω₀²)/(b s), common practice
 * @example
 * import { bandPass, channel, frequencyResponse, magnitude } from 'restmass'
 * const response = frequencyResponse(bandPass({ from: 2, to: 8 }), [2, 4])
 * Array.from(magnitude(channel(response, { input: 'u1', output: 'y1' }))) // [0.70711, 1]
 */
export function bandPass<const I extends string = 'u1', const O extends string = 'y1'>(
  options: BandPassOptions<I, O>,
): StateSpace<NoInfer<I>, NoInfer<O>> {
  const scope = scopeOf('bandPass')
  checkOptions(scope, options, ['from', 'to', 'order', 'input', 'output'])
  const from = checkNumber(scope, 'from', options.from, cornerRange)
  const to = checkNumber(scope, 'to', options.to, { ...cornerRange, above: from })
  const order = checkOrder(scope, options.order, 1)
  if ((to - from) / Math.sqrt(from) / Math.sqrt(to) < 1e-12)
    fail('out-of-range', within(scope, 'to'), `must lie further above from: ${from} Hz, got ${to}`)
  return cascade(scope, bandPassSections(from, to, order), options)
}

/** The sections of a Butterworth band-pass of `order` with its corners [Hz]. */
export function bandPassSections(from: number, to: number, order: number): Section[] {
  const width = 2 * Math.PI * (to - from)
  const centre = 2 * Math.PI * Math.sqrt(from) * Math.sqrt(to)
  const relative = width / centre
  const pairs = butterworthDamping(order).flatMap((dampingRatio) => sectionPair(centre, relative, dampingRatio))
  return order % 2 === 1 ? [secondOrder(centre, relative / 2, { rate: relative }), ...pairs] : pairs
}

/** The two sections that one complex pair −ζ ± i√(1 − ζ²) of the low-pass becomes; frequencies in units of the centre. */
function sectionPair(centre: number, relative: number, dampingRatio: number): Section[] {
  // r² − p b r + 1 = 0 with p b/2 = u + iv: r = (u + iv) ± √((u + iv)² − 1), and the product of the roots is one.
  const u = (-dampingRatio * relative) / 2
  const v = (Math.sqrt((1 - dampingRatio) * (1 + dampingRatio)) * relative) / 2
  const root = rootOfLower((u - v) * (u + v) - 1, 2 * u * v)
  // Of the two roots the one in which nothing cancels: u < 0 < v, and root the other way.
  const re = u - root.re
  const im = v - root.im
  const size = hypotenuse(re, im)
  const zeta = -re / size
  return [
    secondOrder(centre * size, zeta, { rate: relative / size }),
    secondOrder(centre / size, zeta, { rate: relative * size }),
  ]
}

/** Square root of a number below the real axis, with a real part above 0, without cancellation. */
function rootOfLower(re: number, im: number): { re: number; im: number } {
  const larger = Math.sqrt((hypotenuse(re, im) + Math.abs(re)) / 2)
  const smaller = im / (2 * larger)
  return re >= 0 ? { re: larger, im: smaller } : { re: -smaller, im: -larger }
}
