import { fail, type Scope, within } from '../internal/check.js'
import type { Criterion } from '../vibration/criterion-types.js'
import { coveredRange } from '../vibration/mean-square.js'
import { checkedBandIndex, lowerEdge } from '../vibration/nominal-bands.js'
import { oneThirdOctaveBands } from '../vibration/one-third-octave-bands.js'
import type { Bands, Spectrum } from '../vibration/types.js'

/** The one-third-octave bands of a spectrum that a criterion judges and the spectrum covers from edge to edge. */
export function coveredBands(scope: Scope, spectrum: Spectrum, criterion: Criterion): Bands {
  const [from, to] = coveredRange(spectrum)
  // Points made from lines end a rounding short of the outer edges.
  const slack = 1 + 1e-9
  const nominal = Array.from(criterion.frequency).filter((label) => {
    const index = checkedBandIndex(scope, 'criterion', label)
    return lowerEdge(index) * slack >= from && lowerEdge(index + 1) <= to * slack
  })
  if (nominal.length === 0) {
    fail(
      'out-of-range',
      within(scope, 'floor'),
      `covers ${from} to ${to} Hz, which holds no band of ${criterion.name}`,
      { unit: 'Hz' },
    )
  }
  return oneThirdOctaveBands(spectrum, { from: nominal[0], to: nominal[nominal.length - 1] })
}
