import {
  checkGrid,
  checkNumber,
  checkNumbers,
  checkOneOf,
  checkOptions,
  checkText,
  fail,
  type Scope,
  scopeOf,
  within,
} from '../internal/check.js'
import { checkSameLength, checkSpectrum } from './check.js'
import type { BandRatio, CriterionComparison, LineCriterion } from './criterion-types.js'
import { limitCurve } from './limit-curve.js'
import { coveredRange, lineSpacing, meanSquare } from './mean-square.js'
import type { SpectrumLiteral } from './types.js'

/** Verdict on a velocity spectrum against a limit per line.
 *
 * A line of the criterion's width is laid around every frequency of the spectrum between the outer corners, its rms is
 * √∫S df over that width, and the worst one decides. A spectrum of lines must resolve the width into at least four of its
 * own, or its window would spread a tone over more than one. What of the range is not covered is not judged: see `judged`.
 * @param spectrum - of velocity
 * @param criterion - see {@link LineCriterion}
 * @returns verdict, worst line, margin and the ratio of every line; `nominal` is the middle of a line, `missing` is empty
 * @throws {@link IsolationError} `unsupported` for a spectrum of another quantity; `out-of-range` for one too coarse or
 * without a line in the range; `invalid-option` and others for malformed records
 * @source common practice, no source
 * @example
 * import { compareLinesToCriterion, lineCriterion } from 'restmass'
 * const floor = { quantity: 'velocity', frequency: [1, 10, 100], density: [1e-12, 1e-12, 1e-12] } as const
 * const criterion = lineCriterion({ frequency: [4, 80], velocity: [2e-6, 2e-6], lineWidth: 1 })
 * compareLinesToCriterion(floor, criterion).worst.ratio // 0.5
 */
export function compareLinesToCriterion(spectrum: SpectrumLiteral, criterion: LineCriterion): CriterionComparison {
  const scope = scopeOf('compareLinesToCriterion')
  const at = within(scope, 'spectrum')
  const checked = checkSpectrum(at, spectrum)
  if (checked.quantity !== 'velocity') {
    fail('unsupported', within(at, 'quantity'), `must be 'velocity', got '${checked.quantity}'; use convertSpectrum`)
  }
  const { name, lineWidth, frequency, velocity } = checkLineCriterion(within(scope, 'criterion'), criterion)
  if (checked.support === 'lines' && lineSpacing(checked.frequency) > lineWidth / 3.999) {
    fail(
      'out-of-range',
      within(at, 'frequency'),
      `must be at most ${lineWidth / 4} Hz apart for lines of ${lineWidth} Hz`,
    )
  }
  const limit = limitCurve(scope, { frequency, velocity }, ['frequency', 'velocity']).at
  const [start, end] = coveredRange(checked)
  const half = lineWidth / 2
  const ratios: BandRatio[] = []
  for (const nominal of checked.frequency) {
    if (nominal < frequency[0] || nominal > frequency[frequency.length - 1]) continue
    if (nominal - half < start || nominal + half > end) continue
    const rms = Math.sqrt(meanSquare(checked, nominal - half, nominal + half))
    ratios.push({ nominal, rms, limit: limit(nominal), ratio: rms / limit(nominal) })
  }
  if (ratios.length === 0) fail('out-of-range', at, `must hold a whole line between the corners of ${name}`)
  const worst = ratios.reduce((most, entry) => (entry.ratio > most.ratio ? entry : most))
  return {
    kind: 'CriterionComparison',
    criterion: name,
    edition: null,
    verdict: worst.rms <= worst.limit ? 'pass' : 'fail',
    worst,
    marginDecibels: -20 * Math.log10(worst.ratio),
    ratios,
    doubts: [],
    judged: [ratios[0].nominal, ratios[ratios.length - 1].nominal],
    statistic: 'average',
    missing: [],
  }
}

/** Checks a limit per line that a user may have written. */
export function checkLineCriterion(scope: Scope, value: LineCriterion): LineCriterion {
  checkOptions(scope, value, ['kind', 'name', 'lineWidth', 'frequency', 'velocity'])
  checkOneOf(scope, 'kind', value.kind, ['LineCriterion'])
  const frequency = checkGrid(scope, 'frequency', value.frequency, { unit: 'Hz', atLeast: 1e-6, atMost: 1e6 })
  const velocity = Float64Array.from(checkNumbers(scope, 'velocity', value.velocity, { unit: 'm/s', above: 0 }))
  checkSameLength(scope, 'velocity', velocity, frequency)
  const lineWidth = checkNumber(scope, 'lineWidth', value.lineWidth, { unit: 'Hz', atLeast: 1e-6, atMost: 1e6 })
  return { kind: 'LineCriterion', name: checkText(scope, 'name', value.name), lineWidth, frequency, velocity }
}
