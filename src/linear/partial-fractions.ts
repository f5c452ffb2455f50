import { type ComplexDense, complexZeros } from './complex-lu.js'
import type { Dense } from './dense.js'
import { rounding } from './error-bound.js'
import { hypotenuse } from './hypotenuse.js'
import type { ModalForm } from './modal-form.js'

/** A response and a bound on the error of each entry. */
export interface Bounded {
  readonly value: ComplexDense
  readonly bound: Float64Array
}

/** D + Σ c b/(s − λ) with a bound on each entry; null where the bound does not hold. */
export interface Fractions {
  /** The bound is that of the last point worked out by `at`, grown by what the distances can have shrunk since. */
  nearby(re: number, im: number): Bounded | null
  at(re: number, im: number): Bounded | null
}

/** Where no distance to a pole shrinks by more than a quarter, their inverses grow by at most 4/3. */
const shrink = 0.25
const growth = 1 / (1 - shrink)

export function partialFractions(form: ModalForm, D: Dense): Fractions {
  const { coupling } = form
  const sumUp = fractionSum(form, D)
  const bounds = fractionBounds(form, D)
  const near: Bounded = { value: sumUp.value, bound: new Float64Array(D.data.length) }
  const exact: Bounded = { value: sumUp.value, bound: bounds.bound }
  let centre = { re: Number.NaN, im: Number.NaN, reach: 0 }
  return {
    nearby: (re, im) => {
      if (!((re - centre.re) ** 2 + (im - centre.im) ** 2 <= centre.reach)) return null
      sumUp.to(re, im)
      return near
    },
    at: (re, im) => {
      const nearest = bounds.at(re, im)
      centre = { re, im, reach: coupling * nearest.scaled * growth < 0.1 ? (shrink * nearest.distance) ** 2 : -1 }
      if (!(coupling * nearest.scaled < 0.1)) return null
      for (let e = 0; e < near.bound.length; e++) near.bound[e] = growth * growth * bounds.bound[e]
      sumUp.to(re, im)
      return exact
    },
  }
}

/** Writes D + Σ c b/(s − λ) into `value`. Conjugate modes are added together. */
function fractionSum(form: ModalForm, D: Dense): { value: ComplexDense; to(re: number, im: number): void } {
  const { re: poleRe, im: poleIm } = form.lambda
  const { re: residueRe, im: residueIm } = residues(form)
  const value = complexZeros(D.rows, D.columns)
  const [valueRe, valueIm, direct, entries] = [value.re, value.im, D.data, D.data.length]
  const to = (re: number, im: number): void => {
    for (let e = 0; e < entries; e++) {
      valueRe[e] = direct[e]
      valueIm[e] = 0
    }
    for (let k = 0; k < poleRe.length; k++) {
      const x = re - poleRe[k]
      const y = im - poleIm[k]
      const inverse = 1 / (x * x + y * y)
      let zr = x * inverse
      let zi = -y * inverse
      const r = k * entries
      if (poleIm[k] === 0) {
        for (let e = 0; e < entries; e++) {
          valueRe[e] += residueRe[r + e] * zr
          valueIm[e] += residueRe[r + e] * zi
        }
        continue
      }
      // r z + r̄ z' = Re r (z + z') + j Im r (z − z')
      const v = im + poleIm[k]
      const other = 1 / (x * x + v * v)
      const ur = x * other
      const ui = -v * other
      const dr = ui - zi
      const di = zr - ur
      zr += ur
      zi += ui
      for (let e = 0; e < entries; e++) {
        valueRe[e] += residueRe[r + e] * zr + residueIm[r + e] * dr
        valueIm[e] += residueRe[r + e] * zi + residueIm[r + e] * di
      }
      k++
    }
  }
  return { value, to }
}

/** Bound of each entry at s, the distance to the nearest pole and the largest scale over distance. */
function fractionBounds(form: ModalForm, D: Dense) {
  const { lambda, scale, coupling } = form
  const n = lambda.re.length
  const p = form.c.columns
  const m = form.b.columns
  const gamma = rounding(n)
  // Sums over modes of |c|²/d, |c|² scale/d², error²/d: per output, then per input.
  const sizes = [...sizesOf(form.c, form.cError), ...sizesOf(form.b, form.bError)]
  const sums = new Float64Array(3 * (p + m))
  const bound = new Float64Array(p * m)
  const at = (re: number, im: number): { distance: number; scaled: number } => {
    sums.fill(0)
    let distance = Number.POSITIVE_INFINITY
    let scaled = 0
    for (let k = 0; k < n; k++) {
      const gap = hypotenuse(re - lambda.re[k], im - lambda.im[k])
      distance = Math.min(distance, gap)
      scaled = Math.max(scaled, scale[k] / gap)
      for (let port = 0; port < p + m; port++) {
        const { square, error } = sizes[port]
        sums[3 * port] += square[k] / gap
        sums[3 * port + 1] += (square[k] * scale[k]) / gap / gap
        sums[3 * port + 2] += error[k] / gap
      }
    }
    for (let o = 0; o < p; o++) {
      for (let i = 0; i < m; i++) {
        const q = 3 * (p + i)
        const [cNear, cFar, cOff] = [sums[3 * o], sums[3 * o + 1], sums[3 * o + 2]]
        const [bNear, bFar, bOff] = [sums[q], sums[q + 1], sums[q + 2]]
        bound[o * m + i] =
          1.2 *
          (coupling * Math.sqrt(cFar * bFar) +
            Math.sqrt(cNear * bOff) +
            Math.sqrt(cOff * bNear) +
            gamma * (Math.sqrt(cNear * bNear) + Math.abs(D.data[o * m + i])))
      }
    }
    return { distance, scaled }
  }
  return { bound, at }
}

/** Per port the squared moduli of its entries and of their errors, by mode. */
function sizesOf(M: ComplexDense, off: Float64Array): { square: Float64Array; error: Float64Array }[] {
  return Array.from({ length: M.columns }, (_, port) => {
    const at = (k: number) => k * M.columns + port
    return {
      square: Float64Array.from({ length: M.rows }, (_, k) => M.re[at(k)] ** 2 + M.im[at(k)] ** 2),
      error: Float64Array.from({ length: M.rows }, (_, k) => off[at(k)] ** 2),
    }
  })
}

/** Products c b of every mode: modes × outputs × inputs */
function residues({ b, c }: ModalForm): { re: Float64Array; im: Float64Array } {
  const n = b.rows
  const [p, m] = [c.columns, b.columns]
  const re = new Float64Array(n * p * m)
  const im = new Float64Array(n * p * m)
  for (let k = 0; k < n; k++) {
    for (let o = 0; o < p; o++) {
      for (let i = 0; i < m; i++) {
        const [cr, ci, br, bi] = [c.re[k * p + o], c.im[k * p + o], b.re[k * m + i], b.im[k * m + i]]
        const at = (k * p + o) * m + i
        re[at] = cr * br - ci * bi
        im[at] = cr * bi + ci * br
      }
    }
  }
  return { re, im }
}
