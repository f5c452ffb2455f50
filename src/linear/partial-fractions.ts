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

/** Values of s, one after another. */
export interface Points {
  readonly re: Float64Array
  readonly im: Float64Array
}

/** D + Σ c b/(s − λ) with a bound on each entry; null where the bound does not hold. */
export interface Fractions {
  /** Writes some entries at all points, each entry over all points in one row of `into`. */
  along(points: Points, entries: readonly number[], into: Points): void
  /** Bounds as of `nearby` and `at`, which say more. */
  boundNear(re: number, im: number): Float64Array | null
  boundAt(re: number, im: number): Float64Array | null
  /** The bound is that of the last point worked out by `at`, grown by what the distances can have shrunk since. */
  nearby(re: number, im: number): Bounded | null
  at(re: number, im: number): Bounded | null
}

/** Where no distance to a pole shrinks by more than half, their inverses grow by at most 2. */
const shrink = 0.5
const growth = 1 / (1 - shrink)

export function partialFractions(form: ModalForm, D: Dense): Fractions {
  const terms = termsOf(form, D.data.length)
  const bounds = fractionBounds(form, D)
  const value = complexZeros(D.rows, D.columns)
  const near: Bounded = { value, bound: new Float64Array(D.data.length) }
  const exact: Bounded = { value, bound: bounds.bound }
  const all = Array.from(near.bound.keys())
  const one = pointsOf(1)
  const centre = { re: 0, im: 0, reach: -1 }
  const sumUp = (re: number, im: number): void => {
    one.re[0] = re
    one.im[0] = im
    writeSums(terms, D.data, one, all, value)
  }
  const boundNear = (re: number, im: number): Float64Array | null => {
    const x = re - centre.re
    const y = im - centre.im
    return x * x + y * y <= centre.reach ? near.bound : null
  }
  const boundAt = (re: number, im: number): Float64Array | null => {
    const { nearest } = bounds
    bounds.at(re, im)
    centre.re = re
    centre.im = im
    centre.reach = nearest.clearance > growth ? (shrink * nearest.distance) ** 2 : -1
    if (!(nearest.clearance > 1)) return null
    for (let e = 0; e < near.bound.length; e++) near.bound[e] = growth * growth * bounds.bound[e]
    return exact.bound
  }
  return {
    along: (points, entries, into) => writeSums(terms, D.data, points, entries, into),
    boundNear,
    boundAt,
    nearby: (re, im) => {
      if (boundNear(re, im) === null) return null
      sumUp(re, im)
      return near
    },
    at: (re, im) => {
      if (boundAt(re, im) === null) return null
      sumUp(re, im)
      return exact
    },
  }
}

/** One term per real mode or pair of modes. With z = 1/(s − λ), and z' of the conjugate, that of a pair is
 * r z + r̄ z' = Re r (z + z') + Im r (j z − j z'); z' is 0 for a real mode. */
interface Terms {
  readonly lambda: Points
  readonly rest: Points
  /** 1 for a pair, 0 for a real mode */
  readonly pair: Float64Array
  /** c b, entry after entry */
  readonly residue: Points
  /** z + z' and j z − j z' at the last s */
  readonly sum: Points
  readonly difference: Points
}

function termsOf({ lambda, rest, b, c }: ModalForm, entries: number): Terms {
  const modes: number[] = []
  for (let k = 0; k < lambda.im.length; k += lambda.im[k] === 0 ? 1 : 2) modes.push(k)
  const count = modes.length
  const residue = pointsOf(entries * count)
  for (let e = 0; e < entries; e++) {
    modes.forEach((k, t) => {
      const [p, q] = [k * c.columns + Math.floor(e / b.columns), k * b.columns + (e % b.columns)]
      residue.re[e * count + t] = c.re[p] * b.re[q] - c.im[p] * b.im[q]
      residue.im[e * count + t] = c.re[p] * b.im[q] + c.im[p] * b.re[q]
    })
  }
  const some = (list: Float64Array) => Float64Array.from(modes, (k) => list[k])
  return {
    lambda: { re: some(lambda.re), im: some(lambda.im) },
    rest: { re: some(rest.re), im: some(rest.im) },
    pair: Float64Array.from(modes, (k) => (lambda.im[k] === 0 ? 0 : 1)),
    residue,
    sum: pointsOf(count),
    difference: pointsOf(count),
  }
}

/** In one function, since the many short sums take less time than calls. */
function writeSums(terms: Terms, direct: Float64Array, s: Points, entries: readonly number[], into: Points): void {
  const { pair } = terms
  const { re: sRe, im: sIm } = s
  const { re: poleRe, im: poleIm } = terms.lambda
  const { re: restRe, im: restIm } = terms.rest
  const { re: sumRe, im: sumIm } = terms.sum
  const { re: differenceRe, im: differenceIm } = terms.difference
  const { re: residueRe, im: residueIm } = terms.residue
  const { re: intoRe, im: intoIm } = into
  const points = sRe.length
  const modes = pair.length
  for (let k = 0; k < points; k++) {
    const re = sRe[k]
    const im = sIm[k]
    for (let t = 0; t < modes; t++) {
      const x = re - poleRe[t] - restRe[t]
      const y = im - poleIm[t] - restIm[t]
      const v = im + poleIm[t] + restIm[t]
      const near = 1 / (x * x + y * y)
      const far = pair[t] / (x * x + v * v)
      sumRe[t] = x * near + x * far
      sumIm[t] = -y * near - v * far
      differenceRe[t] = y * near - v * far
      differenceIm[t] = x * near - x * far
    }
    for (let c = 0; c < entries.length; c++) {
      const entry = entries[c]
      let valueRe = direct[entry]
      let valueIm = 0
      for (let t = 0, r = entry * modes; t < modes; t++, r++) {
        valueRe += residueRe[r] * sumRe[t] + residueIm[r] * differenceRe[t]
        valueIm += residueRe[r] * sumIm[t] + residueIm[r] * differenceIm[t]
      }
      intoRe[c * points + k] = valueRe
      intoIm[c * points + k] = valueIm
    }
  }
}

function pointsOf(count: number): Points {
  return { re: new Float64Array(count), im: new Float64Array(count) }
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
