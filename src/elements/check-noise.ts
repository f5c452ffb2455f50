import { checkGrid, checkNumbers, checkOptions, fail, type Scope, within } from '../internal/check.js'
import type { InstrumentNoise, InstrumentNoiseOptions } from './types.js'

/** Checks a noise table and returns a copy; null where there is none. */
export function checkNoise(
  scope: Scope,
  noise: InstrumentNoiseOptions | undefined,
  further: readonly string[] = [],
): InstrumentNoise | null {
  if (noise === undefined) return null
  const at = within(scope, 'noise')
  checkOptions(at, noise, ['frequency', 'amplitudeDensity', ...further])
  const frequency = checkGrid(at, 'frequency', noise.frequency, { unit: 'Hz', above: 0 })
  const density = checkNumbers(at, 'amplitudeDensity', noise.amplitudeDensity, { unit: 'per √Hz', atLeast: 0 })
  if (density.length !== frequency.length) {
    const says = `must have one entry per frequency (${frequency.length}), got ${density.length}`
    fail('dimension-mismatch', within(at, 'amplitudeDensity'), says)
  }
  return { frequency, amplitudeDensity: Float64Array.from(density) }
}
