import { fail, type Scope, scopeOf, within } from '../internal/check.js'
import { type Complex, complexTimes } from '../linear/complex.js'
import { balancedSystem } from '../linear/delayed-solve.js'
import { largest, rowsOf } from '../linear/dense.js'
import { hypotenuse } from '../linear/hypotenuse.js'
import { reachablePart, transposed } from '../linear/reachable-part.js'
import { responseKernel } from '../linear/response-kernel.js'
import { anySystem } from './block.js'
import { continuousForm, denseSystem } from './dense-system.js'
import { stateEigenvalues } from './poles.js'
import { type RootGroup, rootGroups } from './root-groups.js'
import type { DiscreteStateSpace, PreparedSystem, StateSpace } from './types.js'
import { invariantZeros, type Zero } from './zeros.js'

/** One section of a digital filter, y[k] = b₀ u[k] + b₁ u[k−1] + b₂ u[k−2] − a₁ y[k−1] − a₂ y[k−2]. */
export interface SecondOrderSection {
  /** b₀, b₁, b₂ of the numerator b₀ + b₁ z⁻¹ + b₂ z⁻² */
  readonly b: readonly [number, number, number]
  /** 1, a₁, a₂ of the denominator 1 + a₁ z⁻¹ + a₂ z⁻² */
  readonly a: readonly [1, number, number]
}

/** How far the sections may be from the system, relative to its gain there or to 1e-4 of its largest gain. */
const agreement = 1e-8
const floor = 1e-4

/** A discrete system as a cascade of second-order sections, for a digital controller; the first acts first.
 *
 * Hidden modes are left out. The poles closest to the unit circle get the zeros nearest to them, then the next; they act last,
 * those farthest from the circle first. Every section but the last is scaled so that the largest gain from the input to
 * its output is 1, as far as it can be seen around its poles and zeros; the last one carries the rest.
 * @param system - discrete, one input and one output
 * @returns the sections; one, with only b₀ other than 0, for a static gain
 * @throws {@link IsolationError} `dimension-mismatch`; `unsupported` for a continuous system; `ill-conditioned` where poles are
 * too close together for the sections to have the response of the system to 1e-8
 * @source L. B. Jackson, Digital Filters and Signal Processing, 3rd edition 1996, section 11.5 (pairing, ordering, scaling)
 * @example
 * import { discretize, lowPass, secondOrderSections } from 'restmass'
 * const digital = discretize(lowPass({ cutoff: 10, order: 4 }), { sampleTime: 0.001, method: 'bilinear' })
 * secondOrderSections(digital).length // 2
 */
export function secondOrderSections(system: DiscreteStateSpace | PreparedSystem): SecondOrderSection[] {
  const scope = scopeOf('secondOrderSections')
  const at = within(scope, 'system')
  const form = anySystem(at, system)
  if (form.kind !== 'DiscreteStateSpace') fail('unsupported', at, 'must be a discrete system; use discretize first')
  if (form.inputs.length !== 1 || form.outputs.length !== 1) {
    fail(
      'dimension-mismatch',
      at,
      `must have one input and one output, got ${form.inputs.length} and ${form.outputs.length}`,
    )
  }
  const part = visiblePart(continuousForm(form))
  const { re, im } = stateEigenvalues(scope, part)
  const poles = Array.from(re, (real, k) => ({ re: real, im: im[k] }))
  const sections = rootGroups(poles, invariantZeros(scope, part)).map(sectionOf)
  const points = samplePoints(sections, part, scope)
  return scaled(scope, sections, points)
}

/** A section before scaling. */
interface Section {
  readonly b: readonly [number, number, number]
  readonly a: readonly [1, number, number]
}

/** The system without hidden modes. */
function visiblePart(system: StateSpace): StateSpace {
  const tolerance = 10 * system.A.length * Number.EPSILON
  const full = balancedSystem(denseSystem(system))
  const entry = largest(full.A) || 1
  const { A, B, C } = transposed(reachablePart(transposed(reachablePart(full, entry, tolerance)), entry, tolerance))
  if (A.rows === system.A.length) return system
  return { ...system, A: rowsOf(A), B: rowsOf(B), C: rowsOf(C), states: system.states.slice(0, A.rows) }
}

function sectionOf({ poles, zeros }: RootGroup): Section {
  const [, a1, a2] = polynomial(poles)
  const b = polynomial(zeros)
  // Zeros that are missing lie at infinity: the numerator starts that many samples later.
  const late = poles.length - zeros.length
  const shifted = [0, 0, ...b].slice(2 - late, 5 - late) as [number, number, number]
  return { b: shifted, a: [1, a1, a2] }
}

/** 1, c₁, c₂ of Π (1 − root z⁻¹), for at most two roots, real or conjugate. */
function polynomial(roots: readonly Zero[]): [number, number, number] {
  if (roots.length === 0) return [1, 0, 0]
  if (roots.length === 1) return [1, -roots[0].re, 0]
  const [first, second] = roots
  return [1, -(first.re + second.re), first.re * second.re - first.im * second.im]
}

interface Point {
  /** z⁻¹ */
  readonly re: number
  readonly im: number
  /** Response of the system */
  readonly value: Complex
}

/** Points on the unit circle, even and around every root, with the response there. */
function samplePoints(sections: readonly Section[], part: StateSpace, scope: Scope): Point[] {
  const angles = Array.from({ length: 257 }, (_, k) => (Math.PI * k) / 256)
  for (let k = 1; k <= 32; k++) angles.push(Math.PI * 10 ** (-k / 8))
  for (const { a, b } of sections) {
    for (const [c0, c1, c2] of [a, b]) {
      const discriminant = c1 * c1 - 4 * c0 * c2
      if (discriminant < 0) angles.push(Math.atan2(Math.sqrt(-discriminant) * Math.sign(c0), -c1 * Math.sign(c0)))
    }
  }
  const kernel = responseKernel(denseSystem(part), angles.length)
  const points = angles.flatMap((angle) => {
    const [re, im] = [Math.cos(angle), Math.sin(angle)]
    const onPole = sections.some(({ a }) => size(quadratic(a, re, -im)) < 1e-9)
    const found = onPole ? null : kernel.at(re, im)
    return found === null ? [] : [{ re, im: -im, value: { re: found.re[0], im: found.im[0] } }]
  })
  if (points.length === 0) fail('singular', scope, 'has no finite response on the unit circle')
  return points
}

export function size({ re, im }: Complex): number {
  return hypotenuse(re, im)
}

function scaled(scope: Scope, sections: readonly Section[], points: readonly Point[]): SecondOrderSection[] {
  let products = points.map(() => ({ re: 1, im: 0 }))
  let before = 1
  const gains = sections.map((section, k) => {
    products = products.map((product, j) => complexTimes(product, sectionAt(section, points[j])))
    const peak = Math.max(...products.map(size))
    const gain = k === sections.length - 1 ? 1 : 1 / (peak * before)
    before *= gain
    return gain
  })
  gains[gains.length - 1] = wholeGain(scope, products, points) / before
  return sections.map(({ b, a }, k) => ({ b: [b[0] * gains[k], b[1] * gains[k], b[2] * gains[k]], a }))
}

/** The factor between the product of the sections and the system: the middle one of all points. */
function wholeGain(scope: Scope, products: readonly Complex[], points: readonly Point[]): number {
  const largest = Math.max(...points.map(({ value }) => size(value)))
  if (largest === 0) return 0
  const ratios = points.flatMap(({ value }, k) => {
    const square = size(products[k]) ** 2
    return square > 0 ? [(value.re * products[k].re + value.im * products[k].im) / square] : []
  })
  const gain = ratios.sort((a, b) => a - b)[Math.floor(ratios.length / 2)]
  const agrees = points.every(({ value }, k) => {
    const off = size({ re: gain * products[k].re - value.re, im: gain * products[k].im - value.im })
    return off <= agreement * Math.max(size(value), floor * largest)
  })
  if (!agrees) {
    fail(
      'ill-conditioned',
      scope,
      'has poles or zeros too close together to be told apart; build it from its own sections',
    )
  }
  return gain
}

/** Response of a section at z⁻¹. */
export function sectionAt({ b, a }: Section, { re, im }: Complex): Complex {
  const top = quadratic(b, re, im)
  const bottom = quadratic(a, re, im)
  const square = bottom.re * bottom.re + bottom.im * bottom.im
  return {
    re: (top.re * bottom.re + top.im * bottom.im) / square,
    im: (top.im * bottom.re - top.re * bottom.im) / square,
  }
}

function quadratic([c0, c1, c2]: readonly [number, number, number], re: number, im: number): Complex {
  return { re: c0 + c1 * re + c2 * (re * re - im * im), im: c1 * im + 2 * c2 * re * im }
}
