import type { ComplexDense } from './complex-lu.js'

/** Swaps `count` entries from p on with those from q on. */
export function swapEntries(re: Float64Array, im: Float64Array, p: number, q: number, count: number): void {
  for (let c = 0; c < count; c++) {
    const a = re[p + c]
    const b = im[p + c]
    re[p + c] = re[q + c]
    im[p + c] = im[q + c]
    re[q + c] = a
    im[q + c] = b
  }
}

/** Subtracts a multiple of `count` entries from q on from those from p on. */
export function subtractEntries(
  re: Float64Array,
  im: Float64Array,
  p: number,
  q: number,
  count: number,
  fr: number,
  fi: number,
): void {
  for (let c = 0; c < count; c++) {
    const a = re[q + c]
    const b = im[q + c]
    re[p + c] -= fr * a - fi * b
    im[p + c] -= fr * b + fi * a
  }
}

/** Divides `count` entries from p on. */
export function divideEntries(
  re: Float64Array,
  im: Float64Array,
  p: number,
  count: number,
  dr: number,
  di: number,
): void {
  const size = dr * dr + di * di
  for (let c = 0; c < count; c++) {
    const a = re[p + c]
    const b = im[p + c]
    re[p + c] = (a * dr + b * di) / size
    im[p + c] = (b * dr - a * di) / size
  }
}

/** Row k of X less u_kj times row j for all j from one to before another, two columns at a time so that the sums stay in
 * registers. */
export function subtractRows(
  ur: Float64Array,
  ui: Float64Array,
  k: number,
  from: number,
  to: number,
  { rows, columns, re, im }: ComplexDense,
): void {
  for (let c = 0; c < columns; c += 2) {
    // The last column of an odd number is done twice.
    const beside = c + 1 < columns ? 1 : 0
    const at = k * columns + c
    let [aRe, aIm, bRe, bIm] = [re[at], im[at], re[at + beside], im[at + beside]]
    for (let j = from, u = k * rows + from, p = from * columns + c; j < to; j++, u++, p += columns) {
      const fr = ur[u]
      const fi = ui[u]
      aRe -= fr * re[p] - fi * im[p]
      aIm -= fr * im[p] + fi * re[p]
      bRe -= fr * re[p + beside] - fi * im[p + beside]
      bIm -= fr * im[p + beside] + fi * re[p + beside]
    }
    re[at] = aRe
    im[at] = aIm
    re[at + beside] = bRe
    im[at + beside] = bIm
  }
}
