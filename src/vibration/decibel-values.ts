import { checkNumber, checkOneOf, checkOptions, fail, type Scope, scopeOf, within } from '../internal/check.js'

/** What a level in decibels is the logarithm of. */
export type LevelOf = 'amplitude' | 'power'

/** Options of {@link decibelsToValue}. */
export interface DecibelsToValueOptions {
  /** Level [dB] re `reference`, −6000 to 6000 */
  readonly decibels: number
  /** Value at 0 dB [unit, or unit² for a power], above 0. A level says nothing without it, so there is no default. */
  readonly reference: number
  /** `'amplitude'`: 20·log10 of rms, amplitude, amplitude density; `'power'`: 10·log10 of a power or power density.
   * @defaultValue `'amplitude'` */
  readonly of?: LevelOf
}

/** Options of {@link valueToDecibels}. */
export interface ValueToDecibelsOptions {
  /** [unit, or unit² for a power], above 0 */
  readonly value: number
  /** Value at 0 dB [unit, or unit² for a power], above 0 */
  readonly reference: number
  /** What the value is. @defaultValue `'amplitude'` */
  readonly of?: LevelOf
}

/** Value of a level in decibels.
 *
 * reference · 10^(L/20) of an amplitude, reference · 10^(L/10) of a power.
 * @param options - see {@link DecibelsToValueOptions}
 * @returns value [unit of the reference]
 * @throws {@link IsolationError} `out-of-range`, also where the value leaves the range of numbers; `not-finite`; `invalid-option`
 * @source ISO 1683:2015, Preferred reference values for acoustical and vibratory levels (definition of a level)
 * @example
 * import { decibelsToValue } from 'restmass'
 * decibelsToValue({ decibels: 74, reference: 1e-9 }) // 5.0119e-6
 */
export function decibelsToValue(options: DecibelsToValueOptions): number {
  const scope = scopeOf('decibelsToValue')
  checkOptions(scope, options, ['decibels', 'reference', 'of'])
  const decibels = checkNumber(scope, 'decibels', options.decibels, { unit: 'dB', atLeast: -6000, atMost: 6000 })
  const value =
    checkNumber(scope, 'reference', options.reference, { above: 0 }) * 10 ** (decibels / stepsOf(scope, options))
  if (value > 0 && Number.isFinite(value)) return value
  fail('out-of-range', within(scope, 'decibels'), `leaves the range of numbers, got ${decibels}`)
}

/** Level in decibels of a value.
 *
 * 20·log10(value/reference) of an amplitude, 10·log10(value/reference) of a power.
 * @param options - see {@link ValueToDecibelsOptions}
 * @returns level [dB re reference]
 * @throws {@link IsolationError} `out-of-range`, `not-finite`, `invalid-option`
 * @source ISO 1683:2015, Preferred reference values for acoustical and vibratory levels (definition of a level)
 * @example
 * import { valueToDecibels } from 'restmass'
 * valueToDecibels({ value: 3.12e-6, reference: 1e-9 }) // 69.88
 */
export function valueToDecibels(options: ValueToDecibelsOptions): number {
  const scope = scopeOf('valueToDecibels')
  checkOptions(scope, options, ['value', 'reference', 'of'])
  const value = checkNumber(scope, 'value', options.value, { above: 0 })
  const reference = checkNumber(scope, 'reference', options.reference, { above: 0 })
  return stepsOf(scope, options) * (Math.log10(value) - Math.log10(reference))
}

function stepsOf(scope: Scope, { of }: { readonly of?: LevelOf }): number {
  return of !== undefined && checkOneOf(scope, 'of', of, ['amplitude', 'power']) === 'power' ? 10 : 20
}
