import { type Dense, largest, zeros } from './dense.js'

const sweeps = 40
/** Scales stay within 2^±largestExponent: where next to nothing couples two groups of states, they would run away. */
const largestExponent = 100

/** Powers of two d that make diag(1/d) A diag(d) as even as possible, jointly with rows of B and columns of C.
 *
 * B and C take part with one common factor each, so that the unit of the inputs and outputs does not matter.
 * @source E. E. Osborne, J. ACM 7 (1960) 338; B. N. Parlett, C. Reinsch, Numer. Math. 13 (1969) 293
 */
export function balancingScales(A: Dense, B?: Dense, C?: Dense): Float64Array {
  const n = A.rows
  const scales = new Float64Array(n).fill(1)
  const fixed = sideWeights(A, B, C)
  for (let sweep = 0; sweep < sweeps; sweep++) {
    let changed = false
    for (let i = 0; i < n; i++) {
      let column = fixed.column[i] * scales[i]
      let row = fixed.row[i] / scales[i]
      for (let j = 0; j < n; j++) {
        if (j === i) continue
        column += (Math.abs(A.data[j * n + i]) * scales[i]) / scales[j]
        row += (Math.abs(A.data[i * n + j]) * scales[j]) / scales[i]
      }
      if (column === 0 || row === 0) continue
      const exponent = Math.round(Math.log2(row / column) / 2)
      const factor = 2 ** exponent
      if (Math.abs(Math.log2(scales[i]) + exponent) > largestExponent) continue
      if (exponent !== 0 && column * factor + row / factor < 0.95 * (column + row)) {
        scales[i] *= factor
        changed = true
      }
    }
    if (!changed) break
  }
  return scales
}

/** diag(1/d) A diag(d) */
export function scaleStates(A: Dense, scales: Float64Array): Dense {
  const data = new Float64Array(A.data.length)
  for (let i = 0; i < A.rows; i++) {
    for (let j = 0; j < A.columns; j++) {
      data[i * A.columns + j] = (A.data[i * A.columns + j] * scales[j]) / scales[i]
    }
  }
  return { rows: A.rows, columns: A.columns, data }
}

/** diag(1/d) B */
export function scaleRows(B: Dense, scales: Float64Array): Dense {
  const scaled = zeros(B.rows, B.columns)
  for (let k = 0; k < scaled.data.length; k++) scaled.data[k] = B.data[k] / scales[Math.floor(k / B.columns)]
  return scaled
}

/** C diag(d) */
export function scaleColumns(C: Dense, scales: Float64Array): Dense {
  const scaled = zeros(C.rows, C.columns)
  for (let k = 0; k < scaled.data.length; k++) scaled.data[k] = C.data[k] * scales[k % C.columns]
  return scaled
}

function sideWeights(A: Dense, B?: Dense, C?: Dense): { row: Float64Array; column: Float64Array } {
  const n = A.rows
  const row = new Float64Array(n)
  const column = new Float64Array(n)
  const size = largest(A)
  if (B) {
    const factor = size / (largest(B) || 1)
    for (let k = 0; k < B.data.length; k++) row[Math.floor(k / B.columns)] += factor * Math.abs(B.data[k])
  }
  if (C) {
    const factor = size / (largest(C) || 1)
    for (let k = 0; k < C.data.length; k++) column[k % n] += factor * Math.abs(C.data[k])
  }
  return { row, column }
}
