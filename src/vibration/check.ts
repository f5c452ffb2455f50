import {
  checkGrid,
  checkList,
  checkNumber,
  checkNumbers,
  checkOneOf,
  checkOptional,
  checkOptions,
  fail,
  type Range,
  type Scope,
  within,
} from '../internal/check.js'
import { bandFlags, statistics } from './level-statistics.js'
import { checkedBandIndex } from './nominal-bands.js'
import type {
  Averaging,
  BandsLiteral,
  Quantity,
  Spectrum,
  SpectrumEstimation,
  SpectrumLiteral,
  Support,
} from './types.js'
import { detrends, windowNames } from './window-values.js'

const quantities: readonly Quantity[] = [
  'acceleration',
  'velocity',
  'displacement',
  'force',
  'pressure',
  'rotation',
  'unspecified',
]
const averagings: readonly Averaging[] = ['mean', 'median', 'percentile', 'maximum']
const supports: readonly Support[] = ['lines', 'points']

/** Range of the frequencies of a spectrum. */
export const frequencyRange: Range = { unit: 'Hz', atLeast: 0, atMost: 1e50 }

/** Range of a density; the bound keeps its integrals within the range of numbers. */
export const densityRange: Range = { unit: 'unit²/Hz', atLeast: 0, atMost: 1e200 }

/** Range of a level, whose square is a number. */
export const levelRange: Range = { atLeast: 0, atMost: 1e150 }

/** Range of the number of independent averages. */
export const averagesRange: Range = { atLeast: 0.5, atMost: 1e15 }

/** Range of a share of the time. */
export const shareRange: Range = { unit: '%', atLeast: 0, atMost: 100 }

const estimationKeys: readonly (keyof SpectrumEstimation)[] = [
  'segmentLength',
  'overlap',
  'window',
  'detrend',
  'averages',
  'effectiveAverages',
  'noiseBandwidth',
  'average',
  'exceeded',
]

/** Checks the name of a quantity. */
export function checkQuantity(scope: Scope, value: unknown): Quantity {
  return checkOneOf(scope, 'quantity', value, quantities)
}

/** Checks a record in time and returns it as a Float64Array; one that is already is not copied. */
export function checkSamples(scope: Scope, key: string, value: unknown): Float64Array {
  if (!(value instanceof Float64Array)) return Float64Array.from(checkNumbers(scope, key, value))
  for (let i = 0; i < value.length; i++) {
    if (!Number.isFinite(value[i])) checkNumber(within(scope, key), i, value[i], {})
  }
  return value
}

/** Checks a record in time that has to be as long as another one. */
export function checkPartner(
  scope: Scope,
  key: string,
  value: unknown,
  otherKey: string,
  other: Float64Array,
): Float64Array {
  const samples = checkSamples(scope, key, value)
  if (samples.length === other.length) return samples
  fail(
    'dimension-mismatch',
    within(scope, key),
    `must have ${other.length} samples like ${otherKey}, got ${samples.length}`,
  )
}

/** Checks a spectrum that a user may have written and returns it in full, as a copy. */
export function checkSpectrum(scope: Scope, value: SpectrumLiteral): Spectrum {
  checkOptions(scope, value, ['kind', 'quantity', 'frequency', 'density', 'support', ...estimationKeys])
  if (value.kind !== undefined) checkOneOf(scope, 'kind', value.kind, ['Spectrum'])
  const quantity = checkQuantity(scope, value.quantity)
  const frequency = checkGrid(scope, 'frequency', value.frequency, frequencyRange)
  const density = new Float64Array(checkNumbers(scope, 'density', value.density, densityRange))
  checkSameLength(scope, 'density', density, frequency)
  return {
    kind: 'Spectrum',
    quantity,
    frequency,
    density,
    support: checkSupport(scope, value.support, frequency),
    ...checkEstimation(scope, value),
  }
}

/** Checks a spectrum of acceleration, velocity or displacement. */
export function checkMotion(scope: Scope, value: SpectrumLiteral): Spectrum {
  const checked = checkSpectrum(scope, value)
  checkOneOf(scope, 'quantity', checked.quantity, ['acceleration', 'velocity', 'displacement'])
  return checked
}

/** Checks what a spectrum says about its estimation and returns what there is of it. */
function checkEstimation(scope: Scope, value: SpectrumLiteral): SpectrumEstimation {
  const { segmentLength, overlap, window, detrend, averages, effectiveAverages, noiseBandwidth, average } = value
  if (segmentLength !== undefined)
    checkNumber(scope, 'segmentLength', segmentLength, { integer: true, atLeast: 2, atMost: 2 ** 27 })
  if (overlap !== undefined) checkNumber(scope, 'overlap', overlap, { atLeast: 0, below: 1 })
  if (window !== undefined) checkOneOf(scope, 'window', window, windowNames)
  if (detrend !== undefined) checkOneOf(scope, 'detrend', detrend, detrends)
  if (averages !== undefined) checkNumber(scope, 'averages', averages, { integer: true, atLeast: 1, atMost: 1e15 })
  if (effectiveAverages !== undefined) checkNumber(scope, 'effectiveAverages', effectiveAverages, averagesRange)
  if (noiseBandwidth !== undefined) checkNumber(scope, 'noiseBandwidth', noiseBandwidth, { unit: 'Hz', above: 0 })
  if (average !== undefined) checkOneOf(scope, 'average', average, averagings)
  checkOptional(scope, 'exceeded', value.exceeded, shareRange, null)
  const given = estimationKeys.filter((key) => value[key] !== undefined).map((key) => [key, value[key]])
  return Object.fromEntries(given) as SpectrumEstimation
}

/** Checks that a list has one entry per frequency. */
export function checkSameLength(scope: Scope, key: string, list: ArrayLike<number>, frequency: Float64Array): void {
  if (list.length === frequency.length) return
  fail(
    'dimension-mismatch',
    within(scope, key),
    `must have ${frequency.length} entries like frequency, got ${list.length}`,
  )
}

/** Checks the support of a spectrum against its grid, or chooses it. */
export function checkSupport(scope: Scope, value: unknown, frequency: Float64Array): Support {
  const equal = isEquallySpaced(frequency)
  if (value === undefined) return equal && frequency.length > 2 ? 'lines' : 'points'
  const support = checkOneOf(scope, 'support', value, supports)
  if (support === 'lines' && !equal) {
    fail(
      'invalid-option',
      within(scope, 'support'),
      "must be 'points' unless there are two or more equally spaced frequencies",
    )
  }
  return support
}

/** Checks bands that a user may have written; returns the level of each by its band index. */
export function checkBands(scope: Scope, value: BandsLiteral): Map<number, number> {
  checkOptions(scope, value, ['kind', 'quantity', 'bands', 'statistic', 'exceeded'])
  if (value.kind !== undefined) checkOneOf(scope, 'kind', value.kind, ['Bands'])
  checkQuantity(scope, value.quantity)
  if (value.statistic !== undefined) checkOneOf(scope, 'statistic', value.statistic, statistics)
  checkOptional(scope, 'exceeded', value.exceeded, shareRange, null)
  const levels = new Map<number, number>()
  checkList(scope, 'bands', value.bands, 1, 1000).forEach((band, i) => {
    const at = within(within(scope, 'bands'), i)
    checkOptions(at, band, ['nominal', 'centre', 'lower', 'upper', 'rms', 'lines', 'degreesOfFreedom', 'flags'])
    const index = checkedBandIndex(at, 'nominal', band.nominal)
    for (const key of ['centre', 'lower', 'upper'] as const) {
      checkOptional(at, key, band[key], { unit: 'Hz', above: 0 }, 0)
    }
    for (const key of ['lines', 'degreesOfFreedom'] as const) {
      if (band[key] !== null) checkOptional(at, key, band[key], { above: 0 }, 0)
    }
    for (const flag of checkList<string>(at, 'flags', band.flags ?? [])) checkOneOf(at, 'flags', flag, bandFlags)
    if (levels.has(index)) fail('invalid-option', within(at, 'nominal'), `is ${band.nominal} Hz a second time`)
    levels.set(index, checkNumber(at, 'rms', band.rms, { atLeast: 0 }))
  })
  return levels
}

/** Equal spacing up to what printing with six digits does to a grid. */
function isEquallySpaced(frequency: Float64Array): boolean {
  const last = frequency.length - 1
  if (last < 1) return false
  const spacing = (frequency[last] - frequency[0]) / last
  for (let k = 1; k < last; k++) {
    const off = Math.abs(frequency[k] - (frequency[0] + k * spacing))
    if (off > 1e-3 * spacing + 5e-6 * frequency[k]) return false
  }
  return true
}
