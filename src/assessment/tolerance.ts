import { checkNumber, checkOneOf, checkOptions, fail, type Scope } from '../internal/check.js'

/** A parameter that hardware or site does not fix exactly. One of the three widths is given. */
export interface Tolerance {
  /** Value it is meant to have */
  readonly nominal: number
  /** Half width as a share of the nominal value, above 0: 0.1 is ±10 % */
  readonly relative?: number
  /** Half width in the unit of the nominal value, above 0 */
  readonly absolute?: number
  /** Half width of the ratio to the nominal value [dB], above 0: 1 is a factor from 0.891 to 1.122 */
  readonly decibels?: number
  /** Even over the width, or Gaussian with the half width at three standard deviations and nothing beyond.
   * @defaultValue 'uniform' */
  readonly distribution?: 'uniform' | 'normal'
}

/** A parameter as a function from −1 (lower end) through 0 (nominal) to 1 (upper end). */
export interface Spread {
  readonly name: string
  readonly at: (position: number) => number
  /** A position drawn from its distribution */
  readonly draw: (random: () => number) => number
}

export function spreadOf(scope: Scope, name: string, tolerance: Tolerance): Spread {
  checkOptions(scope, tolerance, ['nominal', 'relative', 'absolute', 'decibels', 'distribution'])
  const nominal = checkNumber(scope, 'nominal', tolerance.nominal, {})
  const widths = (['relative', 'absolute', 'decibels'] as const).filter((key) => tolerance[key] !== undefined)
  if (widths.length !== 1) {
    fail('invalid-option', scope, `needs one of relative, absolute, decibels, got ${widths.join(' and ') || 'none'}`)
  }
  if (nominal === 0 && widths[0] !== 'absolute')
    fail('invalid-option', scope, `${widths[0]} means nothing around 0; give absolute`)
  const width = checkNumber(scope, widths[0], tolerance[widths[0]], { above: 0 })
  const distribution = checkOneOf(scope, 'distribution', tolerance.distribution ?? 'uniform', ['uniform', 'normal'])
  const at = {
    relative: (position: number) => nominal * (1 + width * position),
    absolute: (position: number) => nominal + width * position,
    decibels: (position: number) => nominal * 10 ** ((width * position) / 20),
  }[widths[0]]
  return { name, at, draw: distribution === 'uniform' ? (random) => 2 * random() - 1 : gaussianWithin }
}

/** Gaussian of standard deviation 1/3, drawn again beyond ±1.
 * @source G. E. P. Box, M. E. Muller, Ann. Math. Statist. 29 (1958) 610-611 */
function gaussianWithin(random: () => number): number {
  for (;;) {
    const position = (Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random())) / 3
    if (Math.abs(position) <= 1) return position
  }
}
