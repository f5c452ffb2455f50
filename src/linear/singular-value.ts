import type { ComplexDense } from './complex-lu.js'
import { zeros } from './dense.js'
import { eigenvalues } from './eigenvalues.js'

/** Largest singular value of a complex matrix with finite entries; 0 for an empty one, null without convergence.
 *
 * The root of the largest eigenvalue of Gᴴ G, whose real form [Re, −Im; Im, Re] has each eigenvalue twice. Squaring costs
 * no digits of the largest one.
 * @source G. H. Golub, C. F. Van Loan, Matrix Computations, 4th edition 2013, section 2.4 */
export function largestSingularValue({ rows, columns, re, im }: ComplexDense): number | null {
  if (rows === 0 || columns === 0) return 0
  if (rows === 1 || columns === 1) return Math.hypot(...re, ...im)
  const scale = Math.max(...re.map(Math.abs), ...im.map(Math.abs))
  if (scale === 0) return 0
  const gram = zeros(2 * columns, 2 * columns)
  for (let i = 0; i < columns; i++) {
    for (let j = 0; j < columns; j++) {
      let real = 0
      let imaginary = 0
      for (let k = 0; k < rows; k++) {
        const [a, b] = [re[k * columns + i] / scale, -im[k * columns + i] / scale]
        const [c, d] = [re[k * columns + j] / scale, im[k * columns + j] / scale]
        real += a * c - b * d
        imaginary += a * d + b * c
      }
      const size = 2 * columns
      gram.data[i * size + j] = real
      gram.data[(columns + i) * size + columns + j] = real
      gram.data[(columns + i) * size + j] = imaginary
      gram.data[i * size + columns + j] = -imaginary
    }
  }
  const found = eigenvalues(gram)
  return found === null ? null : scale * Math.sqrt(Math.max(...found.re))
}
