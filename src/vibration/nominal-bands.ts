import { checkNumber, fail, type Scope, within } from '../internal/check.js'

const labels = ['1', '1.25', '1.6', '2', '2.5', '3.15', '4', '5', '6.3', '8'] as const

/** Nominal label [Hz] of the band whose exact centre is 10^(index/10) Hz: index 0 is the 1 Hz band.
 * @source IEC 61260-1:2014, annex E
 */
export function nominalFrequency(index: number): number {
  const decade = Math.floor(index / 10)
  return Number(`${labels[index - 10 * decade]}e${decade}`)
}

/** Exact centre [Hz] of a band, base ten.
 * @source IEC 61260-1:2014, equations 1 and 2
 */
export function centreFrequency(index: number): number {
  return 10 ** (index / 10)
}

/** Lower edge [Hz] of a band, which is the upper edge of the one below, to the last bit.
 * @source IEC 61260-1:2014, equations 4 and 5
 */
export function lowerEdge(index: number): number {
  return 10 ** ((2 * index - 1) / 20)
}

/** Indices of the bands whose nominal label lies in from..to, ends included. */
export function bandIndices(from: number, to: number): number[] {
  const indices: number[] = []
  const last = Math.ceil(10 * Math.log10(to)) + 1
  for (let index = Math.floor(10 * Math.log10(from)) - 1; index <= last; index++) {
    const nominal = nominalFrequency(index)
    if (nominal >= from && nominal <= to) indices.push(index)
  }
  return indices
}

/** Checks a range of nominal labels and returns the indices of its bands, at least one. */
export function checkedBandIndices(scope: Scope, options: { readonly from: number; readonly to: number }): number[] {
  const from = checkNumber(scope, 'from', options.from, { unit: 'Hz', atLeast: 1e-6, atMost: 1e6 })
  const to = checkNumber(scope, 'to', options.to, { unit: 'Hz', atLeast: from, atMost: 1e6 })
  const indices = bandIndices(from, to)
  if (indices.length > 0) return indices
  const says = `to to must hold a nominal band frequency, ${from} to ${to} Hz does not`
  fail('invalid-option', within(scope, 'from'), says)
}

/** Index of the band whose centre lies nearest, in equal ratios. */
export function nearestBandIndex(frequency: number): number {
  return Math.round(10 * Math.log10(frequency))
}

/** Checks that a number is a nominal band label and returns the index of its band. */
export function checkedBandIndex(scope: Scope, key: string | number, value: unknown): number {
  const nominal = checkNumber(scope, key, value, { unit: 'Hz', atLeast: 1e-6, atMost: 1e6 })
  const near = nearestBandIndex(nominal)
  if (nominalFrequency(near) === nominal) return near
  fail(
    'invalid-option',
    within(scope, key),
    `must be a nominal one-third-octave frequency such as ${nominalFrequency(near)}, got ${nominal}`,
    {
      value: nominal,
      unit: 'Hz',
    },
  )
}
