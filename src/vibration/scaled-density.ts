import { fail, type Scope, within } from '../internal/check.js'
import type { Quantity, Spectrum } from './types.js'

/** A spectrum times an amplitude factor of frequency, entry by entry, as another quantity. */
export function scaledDensity(
  scope: Scope,
  spectrum: Spectrum,
  quantity: Quantity,
  factor: (frequency: number, k: number) => number,
): Spectrum {
  const density = spectrum.density.map((value, k) => value * factor(spectrum.frequency[k], k) ** 2)
  const lost = density.findIndex((value) => !Number.isFinite(value))
  if (lost >= 0)
    fail('out-of-range', within(within(scope, 'density'), lost), `leaves the range of numbers as ${quantity}`)
  return { ...spectrum, quantity, density }
}
