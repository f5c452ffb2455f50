import { fail, type Scope, scopeOf, show } from '../internal/check.js'
import { hypotenuse } from '../linear/hypotenuse.js'
import type { ComplexSeries } from './types.js'

/** Modulus of a complex series.
 *
 * |z| = √(re² + im²), without overflow.
 * @param series - samples over frequency
 * @returns one value per sample, in the unit of the series
 * @throws {@link IsolationError} `invalid-option`, `dimension-mismatch`
 * @source derived: definition
 * @example
 * import { magnitude } from 'restmass'
 * const frequency = Float64Array.of(1)
 * magnitude({ kind: 'ComplexSeries', frequency, re: Float64Array.of(3), im: Float64Array.of(4) })[0] // 5
 */
export function magnitude(series: ComplexSeries): Float64Array {
  checkSeries(scopeOf('magnitude'), series)
  return series.re.map((re, k) => hypotenuse(re, series.im[k]))
}

/** Level of a complex series in decibels, 20 log₁₀ |z|.
 *
 * @param series - samples over frequency
 * @returns one level per sample [dB]; −Infinity where the sample is zero, which is the mathematical value
 * @throws {@link IsolationError} `invalid-option`, `dimension-mismatch`
 * @source IEC 60027-3:2002, logarithmic quantities (level of a field quantity)
 * @example
 * import { decibels } from 'restmass'
 * const frequency = Float64Array.of(1)
 * decibels({ kind: 'ComplexSeries', frequency, re: Float64Array.of(0.1), im: Float64Array.of(0) })[0] // -20
 */
export function decibels(series: ComplexSeries): Float64Array {
  checkSeries(scopeOf('decibels'), series)
  return series.re.map((re, k) => 20 * Math.log10(hypotenuse(re, series.im[k])))
}

/** Phase of a complex series in degrees, unwrapped from sample to sample.
 *
 * The first sample lies in (−180, 180]; every later one is the multiple of 360° nearest to its predecessor. Negative is
 * lag. A grid too coarse for the phase it samples unwraps wrongly.
 * @param series - samples over frequency
 * @returns one phase per sample [degrees]
 * @throws {@link IsolationError} `invalid-option`, `dimension-mismatch`
 * @source derived: definition
 * @example
 * import { phaseDegrees } from 'restmass'
 * const frequency = Float64Array.of(1)
 * phaseDegrees({ kind: 'ComplexSeries', frequency, re: Float64Array.of(0), im: Float64Array.of(-2) })[0] // -90
 */
export function phaseDegrees(series: ComplexSeries): Float64Array {
  checkSeries(scopeOf('phaseDegrees'), series)
  let previous: number | null = null
  return series.re.map((re, k) => {
    const wrapped = (Math.atan2(series.im[k], re) * 180) / Math.PI
    const phase: number = previous === null ? wrapped : wrapped + 360 * Math.round((previous - wrapped) / 360)
    previous = phase
    return phase
  })
}

/** Checks that a value is a ComplexSeries of finite samples. */
export function checkSeries(scope: Scope, series: ComplexSeries): void {
  if (!(series?.re instanceof Float64Array && series.im instanceof Float64Array)) {
    fail('invalid-option', scope, `needs a ComplexSeries, got ${show(series)}`)
  }
  if (series.re.length !== series.im.length) {
    fail('dimension-mismatch', scope, `got ${series.re.length} real and ${series.im.length} imaginary parts`)
  }
  for (let k = 0; k < series.re.length; k++) {
    if (!(Number.isFinite(series.re[k]) && Number.isFinite(series.im[k])))
      fail('not-finite', scope, `sample ${k} is not finite`)
  }
}
