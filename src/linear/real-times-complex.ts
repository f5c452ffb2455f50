import type { ComplexDense } from './complex-lu.js'
import type { Dense } from './dense.js'

/** Z ← Q X of a square real and a complex matrix, two rows and two columns at a time so that the sums stay in registers. */
export function realTimesComplex({ rows: n, data: Q }: Dense, from: ComplexDense, to: ComplexDense): void {
  const { columns, re: fromRe, im: fromIm } = from
  const { re: toRe, im: toIm } = to
  for (let i = 0; i < n; i += 2) {
    // The last row or column of an odd number is done twice.
    const below = i + 1 < n ? 1 : 0
    for (let c = 0; c < columns; c += 2) {
      const beside = c + 1 < columns ? 1 : 0
      let [aRe, aIm, bRe, bIm, cRe, cIm, dRe, dIm] = [0, 0, 0, 0, 0, 0, 0, 0]
      for (let k = 0, q = i * n, p = c; k < n; k++, q++, p += columns) {
        const upper = Q[q]
        const lower = Q[q + below * n]
        const leftRe = fromRe[p]
        const leftIm = fromIm[p]
        const rightRe = fromRe[p + beside]
        const rightIm = fromIm[p + beside]
        aRe += upper * leftRe
        aIm += upper * leftIm
        bRe += upper * rightRe
        bIm += upper * rightIm
        cRe += lower * leftRe
        cIm += lower * leftIm
        dRe += lower * rightRe
        dIm += lower * rightIm
      }
      const at = i * columns + c
      const next = at + below * columns
      toRe[at] = aRe
      toIm[at] = aIm
      toRe[at + beside] = bRe
      toIm[at + beside] = bIm
      toRe[next] = cRe
      toIm[next] = cIm
      toRe[next + beside] = dRe
      toIm[next + beside] = dIm
    }
  }
}
