import type { Scope } from '../internal/check.js'
import { denseFrom } from '../linear/dense.js'
import type { Eigenvalues } from '../linear/eigenvalues.js'
import { characteristicSum } from './characteristic-terms.js'
import { eigenvaluesOf } from './eigenvalues-of.js'
import type { StateSpace } from './types.js'

/** The characteristic function of one system, f(s) = Σ e^(−s τ_S) N_S(s) over the sets S of its delays: N_∅ is the characteristic
 * polynomial with all delays cut. */
export interface Member {
  readonly seconds: readonly number[]
  readonly states: number
  /** By the bits of S; null where N_S vanishes */
  readonly polynomials: readonly (Polynomial | null)[]
}

interface Polynomial {
  readonly gain: number
  readonly roots: Eigenvalues
}

/** What a polynomial is at jω, over Π |jω + sizes|, with its derivative by ω. */
export interface PolynomialValue {
  readonly re: number
  readonly im: number
  readonly slopeRe: number
  readonly slopeIm: number
}

export function memberOf(scope: Scope, system: StateSpace): Member {
  const { delays } = system
  const names = delays?.seconds.map((_, k) => `w${k}`) ?? []
  const cut = ascending(eigenvaluesOf(scope, denseFrom(system.A, system.A.length)))
  const polynomials: (Polynomial | null)[] = new Array(2 ** names.length).fill(null)
  polynomials[0] = { gain: 1, roots: cut }
  if (delays !== null) {
    const inner = { ...system, B: delays.B, C: delays.C, D: delays.D22, inputs: names, outputs: names, delays: null }
    const { terms } = characteristicSum(scope, inner, delays.seconds)
    for (const { set, gain, zeros } of terms) {
      const sign = Math.cos(gain.angle) > 0 === (set.length % 2 === 0) ? 1 : -1
      const bits = set.reduce((sum, k) => sum + 2 ** k, 0)
      polynomials[bits] = { gain: sign * Math.exp(gain.logarithm), roots: ascending(zeros) }
    }
  }
  return { seconds: delays?.seconds ?? [], states: system.A.length, polynomials }
}

/** Sizes of the roots with all delays cut [rad/s], ascending, above 0. */
export function rootSizes({ polynomials }: Member): number[] {
  const { re, im } = (polynomials[0] as Polynomial).roots
  const sizes = Array.from(re, (real, k) => Math.hypot(real, im[k]))
  const fastest = sizes.reduce((most, size) => Math.max(most, size), 0) || 1
  return sizes.map((size) => Math.max(size, 1e-6 * fastest))
}

export function polynomialAt(polynomial: Polynomial | null, omega: number, sizes: readonly number[]): PolynomialValue {
  if (polynomial === null) return { re: 0, im: 0, slopeRe: 0, slopeIm: 0 }
  const { gain, roots } = polynomial
  let [re, im, slopeRe, slopeIm] = [gain, 0, 0, 0]
  sizes.forEach((size, k) => {
    const scale = 1 / Math.hypot(omega, size)
    const [a, b] = k < roots.re.length ? [-roots.re[k] * scale, (omega - roots.im[k]) * scale] : [scale, 0]
    const turn = k < roots.re.length ? scale : 0
    // (N (jω − z))′ = N′ (jω − z) + j N
    ;[slopeRe, slopeIm] = [slopeRe * a - slopeIm * b - im * turn, slopeRe * b + slopeIm * a + re * turn]
    ;[re, im] = [re * a - im * b, re * b + im * a]
  })
  return { re, im, slopeRe, slopeIm }
}

/** Bound on what N e^(−jωτ) departs from its tangent within a step: each coefficient of its series in the step is at most that of
 * e^(hτ) Π (|jω − z| + h). */
export function departure(
  polynomial: Polynomial | null,
  omega: number,
  sizes: readonly number[],
  seconds: number,
  step: number,
): number {
  if (polynomial === null) return 0
  const { gain, roots } = polynomial
  let [now, slope, then] = [Math.abs(gain), 0, Math.abs(gain)]
  sizes.forEach((size, k) => {
    const scale = 1 / Math.hypot(omega, size)
    const distance = k < roots.re.length ? Math.hypot(roots.re[k], omega - roots.im[k]) : 1
    const move = k < roots.re.length ? 1 : 0
    slope = (slope * distance + now * move) * scale
    now *= distance * scale
    then *= (distance + step * move) * scale
  })
  // What rounding takes away is below the reserve of whoever compares it.
  return Math.max(0, then * Math.exp(step * seconds) - now - step * (slope + seconds * now))
}

/** Bound on |N/Π (s + sizes) − 1| (leading) or |N/Π (s + sizes)| for all s right of the imaginary axis and beyond ω. */
export function beyond(
  polynomial: Polynomial | null,
  omega: number,
  sizes: readonly number[],
  leading: boolean,
): number {
  if (polynomial === null) return 0
  const { gain, roots } = polynomial
  let product = Math.abs(gain)
  sizes.forEach((size, k) => {
    const distance = Math.hypot(omega, size)
    product *= k < roots.re.length ? 1 + Math.hypot(roots.re[k] + size, roots.im[k]) / distance : 1 / distance
  })
  return leading ? product - 1 : product
}

function ascending(roots: Eigenvalues): Eigenvalues {
  const order = Array.from(roots.re.keys()).sort(
    (a, b) => Math.hypot(roots.re[a], roots.im[a]) - Math.hypot(roots.re[b], roots.im[b]),
  )
  return { re: Float64Array.from(order, (k) => roots.re[k]), im: Float64Array.from(order, (k) => roots.im[k]) }
}
