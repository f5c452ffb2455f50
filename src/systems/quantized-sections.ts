import { checkNumber, checkOneOf, checkOptions, fail, type Scope, scopeOf, within } from '../internal/check.js'
import { finiteResult } from '../internal/finite-result.js'
import { type Complex, complexTimes } from '../linear/complex.js'
import { type SecondOrderSection, sectionAt, size } from './second-order-sections.js'
import { checkSections } from './sections-system.js'

/** How coefficients are stored: IEEE 754 double or single precision, or two's complement with a fixed point. */
export type NumberFormat = 'double' | 'single' | FixedPoint

/** Two's complement with a fixed point: steps of 2^−fractionBits, from −2^integerBits to just below 2^integerBits. */
export interface FixedPoint {
  /** Bits before the point, the sign not counted, 0 to 31 */
  readonly integerBits: number
  /** Bits after the point, 1 to 62 */
  readonly fractionBits: number
}

/** Options of {@link quantizedSections}. */
export interface QuantizedSectionsOptions {
  readonly format: NumberFormat
  /** [s], above 0; sets the scale of frequencies */
  readonly sampleTime: number
}

/** Sections with rounded coefficients and what the rounding costs. */
export interface QuantizedSections {
  readonly kind: 'QuantizedSections'
  readonly sections: readonly SecondOrderSection[]
  /** Of the coefficients */
  readonly precision: 'double' | 'single' | 'fixed'
  /** Its bits; null for a floating point */
  readonly fixedPoint: FixedPoint | null
  /** Whether every pole is inside the unit circle */
  readonly stable: boolean
  /** Largest change of the response over the largest response, from 0 Hz to half the sample rate, as far as it is finite */
  readonly responseError: number
  /** Where that is [Hz] */
  readonly responseErrorFrequency: number
  /** Change of the gain at 0 Hz over that gain; null where a pole or zero at 0 Hz leaves none */
  readonly staticGainError: number | null
}

const perDecade = 64
const decades = 6

/** Sections of a digital controller with their coefficients rounded to a number format, and the error of the response.
 *
 * Coefficients are rounded to nearest. Only they are: what the signals lose in arithmetic of that format is not judged. A
 * slow corner at a fast rate costs most, since its poles lie within 2πf/f_s of 1.
 * @param sections - as from `secondOrderSections`
 * @param options - see {@link QuantizedSectionsOptions}
 * @returns see {@link QuantizedSections}
 * @throws {@link IsolationError} `out-of-range` for a coefficient beyond the format; `invalid-option`, `not-finite`
 * @source L. B. Jackson, Digital Filters and Signal Processing, 3rd edition 1996, chapter 11 (coefficient quantization)
 * @example
 * import { quantizedSections } from 'restmass'
 * const format = { integerBits: 1, fractionBits: 8 }
 * quantizedSections([{ b: [0.2, 0, 0], a: [1, -0.9, 0] }], { format, sampleTime: 1e-3 }).staticGainError // 0.01923
 */
export function quantizedSections(
  sections: readonly SecondOrderSection[],
  options: QuantizedSectionsOptions,
): QuantizedSections {
  const scope = scopeOf('quantizedSections')
  checkSections(scope, sections)
  checkOptions(scope, options, ['format', 'sampleTime'])
  const sampleTime = checkNumber(scope, 'sampleTime', options.sampleTime, { unit: 's', above: 0 })
  const format = checkFormat(scope, options.format)
  const rounded = sections.map(({ b, a }, k) => {
    const at = within(within(scope, 'sections'), k)
    const triple = (key: string, [c0, c1, c2]: readonly [number, number, number]) => {
      const here = within(at, key)
      return [stored(here, 0, c0, format), stored(here, 1, c1, format), stored(here, 2, c2, format)] as const
    }
    const [, a1, a2] = triple('a', [0, a[1], a[2]])
    return { b: triple('b', b), a: [1, a1, a2] as const }
  })
  const still = { re: 1, im: 0 }
  const [before, after] = [cascadeAt(sections, still), cascadeAt(rounded, still)]
  const gainError = difference(after, before) / size(before)
  return {
    kind: 'QuantizedSections',
    sections: rounded,
    precision: typeof format === 'string' ? format : 'fixed',
    fixedPoint: typeof format === 'string' ? null : format,
    stable: rounded.every(({ a: [, a1, a2] }) => Math.abs(a2) < 1 && Math.abs(a1) < 1 + a2),
    ...worstError(scope, sections, rounded, sampleTime),
    staticGainError: Number.isFinite(gainError) ? gainError : null,
  }
}

function checkFormat(scope: Scope, format: NumberFormat): NumberFormat {
  if (typeof format === 'string') return checkOneOf(scope, 'format', format, ['double', 'single'] as const)
  const at = within(scope, 'format')
  checkOptions(at, format, ['integerBits', 'fractionBits'])
  return {
    integerBits: checkNumber(at, 'integerBits', format.integerBits, { integer: true, atLeast: 0, atMost: 31 }),
    fractionBits: checkNumber(at, 'fractionBits', format.fractionBits, { integer: true, atLeast: 1, atMost: 62 }),
  }
}

function stored(scope: Scope, index: number, value: number, format: NumberFormat): number {
  if (format === 'double') return value
  if (format === 'single') {
    const near = Math.fround(value)
    if (!Number.isFinite(near)) fail('out-of-range', within(scope, index), 'is beyond single precision', { value })
    return near
  }
  const scale = 2 ** format.fractionBits
  const near = Math.round(value * scale) / scale
  const bound = 2 ** format.integerBits
  if (near >= bound || near < -bound) {
    const allowed = `from ${-bound} to below ${bound}`
    fail('out-of-range', within(scope, index), `of ${value} is beyond the format, ${allowed}`, { value, allowed })
  }
  return near
}

function cascadeAt(sections: readonly SecondOrderSection[], place: Complex): Complex {
  return sections.reduce<Complex>((value, section) => complexTimes(value, sectionAt(section, place)), { re: 1, im: 0 })
}

function difference(a: Complex, b: Complex): number {
  return size({ re: a.re - b.re, im: a.im - b.im })
}

function worstError(
  scope: Scope,
  exact: readonly SecondOrderSection[],
  rounded: readonly SecondOrderSection[],
  sampleTime: number,
) {
  let [largest, error, angle] = [0, 0, Math.PI]
  const angles = Array.from({ length: decades * perDecade }, (_, k) => Math.PI * 10 ** (-k / perDecade))
  for (const place of [...angles, 0, ...exact.flatMap(poleAngles), ...rounded.flatMap(poleAngles)]) {
    const z = { re: Math.cos(place), im: -Math.sin(place) }
    const value = cascadeAt(exact, z)
    const off = difference(cascadeAt(rounded, z), value)
    if (!Number.isFinite(off)) continue
    largest = Math.max(largest, size(value))
    if (off > error) [error, angle] = [off, place]
  }
  return {
    responseError: largest === 0 ? 0 : finiteResult(scope, 'response error', error / largest),
    responseErrorFrequency: angle / (2 * Math.PI * sampleTime),
  }
}

/** Angle of complex poles, where the response may be sharp. */
function poleAngles({ a: [, a1, a2] }: SecondOrderSection): number[] {
  const square = a2 - (a1 * a1) / 4
  return square > 0 ? [Math.atan2(Math.sqrt(square), -a1 / 2)] : []
}
