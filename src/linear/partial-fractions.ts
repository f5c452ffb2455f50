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

/** Where no distance to a pole shrinks by more than half, their inverses grow by at most 2. */
const shrink = 0.5
const growth = 1 / (1 - shrink)

export function partialFractions(form: ModalForm, D: Dense): Fractions {
  const sumUp = fractionSum(form, D)
  const bounds = fractionBounds(form, D)
  const near: Bounded = { value: sumUp.value, bound: new Float64Array(D.data.length) }
  const exact: Bounded = { value: sumUp.value, bound: bounds.bound }
  const centre = { re: 0, im: 0, reach: -1 }
  return {
    nearby: (re, im) => {
      const x = re - centre.re
      const y = im - centre.im
      if (!(x * x + y * y <= centre.reach)) return null
      sumUp.to(re, im)
      return near
    },
    at: (re, im) => {
      const { nearest } = bounds
      bounds.at(re, im)
      centre.re = re
      centre.im = im
      centre.reach = nearest.clearance > growth ? (shrink * nearest.distance) ** 2 : -1
      if (!(nearest.clearance > 1)) return null
      for (let e = 0; e < near.bound.length; e++) near.bound[e] = growth * growth * bounds.bound[e]
      sumUp.to(re, im)
      return exact
    },
  }
}

/** Writes D + Σ c b/(s − λ) into `value`. Conjugate modes are added together. */
function fractionSum(form: ModalForm, D: Dense): { value: ComplexDense; to(re: number, im: number): void } {
  const { re: poleRe, im: poleIm } = form.lambda
  const { re: restRe, im: restIm } = form.rest
  const { re: residueRe, im: residueIm } = residues(form)
  const value = complexZeros(D.rows, D.columns)
  const [valueRe, valueIm, direct, entries] = [value.re, value.im, D.data, D.data.length]
  const to = (re: number, im: number): void => {
    for (let e = 0; e < entries; e++) {
      valueRe[e] = direct[e]
      valueIm[e] = 0
    }
    for (let k = 0; k < poleRe.length; k++) {
      const x = re - poleRe[k] - restRe[k]
      const y = im - poleIm[k] - restIm[k]
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
      const v = im + poleIm[k] + restIm[k]
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

/** Share of its modulus within which a pole counts as hit. */
const hit = 50 * Number.EPSILON

/** Bound of each entry at s, the distance to the nearest pole, and the least distance over that at which a pole counts as hit
 * or what is left of F is not small. */
function fractionBounds(form: ModalForm, D: Dense) {
  const { lambda, rest, scale, coupling } = form
  const { re: poleRe, im: poleIm } = lambda
  const n = poleRe.length
  const p = form.c.columns
  const m = form.b.columns
  const ports = p + m
  const gamma = rounding(n)
  const { square, error } = portSizes(form)
  // Sums over modes of |c|²/d, |c|² scale/d², error²/d: per output, then per input.
  const sums = new Float64Array(3 * ports)
  const bound = new Float64Array(p * m)
  const nearest = { distance: 0, clearance: 0 }
  const closest = scale.map((size, k) => 10 * coupling * size + hit * hypotenuse(poleRe[k], poleIm[k]))
  const at = (re: number, im: number): void => {
    sums.fill(0)
    let distance = Number.POSITIVE_INFINITY
    let clearance = Number.POSITIVE_INFINITY
    for (let k = 0; k < n; k++) {
      const gap = hypotenuse(re - poleRe[k] - rest.re[k], im - poleIm[k] - rest.im[k])
      const inverse = 1 / gap
      const far = scale[k] * inverse
      if (gap < distance) distance = gap
      if (!(gap >= clearance * closest[k])) clearance = gap / closest[k]
      for (let port = 0; port < ports; port++) {
        const size = square[k * ports + port] * inverse
        sums[3 * port] += size
        sums[3 * port + 1] += size * far
        sums[3 * port + 2] += error[k * ports + port] * inverse
      }
    }
    nearest.distance = distance
    nearest.clearance = clearance
    for (let e = 0; e < bound.length; e++) {
      const c = 3 * Math.floor(e / m)
      const b = 3 * (p + (e % m))
      bound[e] =
        1.2 *
        (coupling * Math.sqrt(sums[c + 1] * sums[b + 1]) +
          Math.sqrt(sums[c] * sums[b + 2]) +
          Math.sqrt(sums[c + 2] * sums[b]) +
          gamma * (Math.sqrt(sums[c] * sums[b]) + Math.abs(D.data[e])))
    }
  }
  return { bound, nearest, at }
}

/** The squared moduli of the entries of c and b and of their errors: modes × (outputs, then inputs). */
function portSizes({ b, c, bError, cError }: ModalForm): { square: Float64Array; error: Float64Array } {
  const [n, p, m] = [b.rows, c.columns, b.columns]
  const square = new Float64Array(n * (p + m))
  const error = new Float64Array(n * (p + m))
  const place = ({ columns, re, im }: ComplexDense, off: Float64Array, first: number) => {
    for (let k = 0; k < n; k++) {
      for (let j = 0; j < columns; j++) {
        const [from, to] = [k * columns + j, k * (p + m) + first + j]
        square[to] = re[from] * re[from] + im[from] * im[from]
        error[to] = off[from] * off[from]
      }
    }
  }
  place(c, cError, 0)
  place(b, bError, p)
  return { square, error }
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
