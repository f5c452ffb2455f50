import { fail, type Scope } from '../internal/check.js'
import type { Complex } from '../linear/complex.js'
import { hypotenuse } from '../linear/hypotenuse.js'

/** A complex function of ω [rad/s]; null at a pole. Where its modulus is below `least`, any value below will
 * do; so will an error of `share` of it that is small beside 1 as well. */
export type ComplexFunction = (omega: number, least?: number, share?: number) => Complex | null

/** Samples of a complex function along the imaginary axis, ascending in ω [rad/s]. */
export interface Scan {
  readonly omega: number[]
  readonly re: number[]
  readonly im: number[]
}

const largestTurn = Math.PI / 8
const largestStretch = 0.5
const largestCount = 400_000

/** Samples f on the seeds and between them until, from sample to sample, neither f nor 1 + f turns by more than 22.5° nor
 * changes its modulus by more than a factor 1.65, or is below `negligible` at both. Seeds at which f has a pole (null) are
 * left out. */
export function refinedScan(scope: Scope, f: ComplexFunction, seeds: readonly number[], negligible = 0): Scan {
  const scan: Scan = { omega: [], re: [], im: [] }
  let count = 0
  const push = (omega: number, value: { re: number; im: number }) => {
    count += 1
    if (count > largestCount) fail('no-convergence', scope, `needs more than ${largestCount} samples of the loop`)
    if (repeats(scan, omega, value)) return
    scan.omega.push(omega)
    scan.re.push(value.re)
    scan.im.push(value.im)
  }
  let left: { omega: number; re: number; im: number } | null = null
  for (const omega of seeds) {
    const value = f(omega)
    if (value === null) continue
    const right = { omega, re: value.re, im: value.im }
    if (left !== null) fillBetween(f, left, right, negligible, push)
    push(omega, right)
    left = right
  }
  return scan
}

/** Whether a sample says the same as the one before; two so close would only show rounding as a turn of the curve. */
function repeats({ omega, re, im }: Scan, place: number, value: { re: number; im: number }): boolean {
  const last = omega.length - 1
  if (last < 0 || place - omega[last] > 1e-6 * place) return false
  return hypotenuse(value.re - re[last], value.im - im[last]) <= 1e-5 * hypotenuse(value.re, value.im)
}

interface Point {
  readonly omega: number
  readonly re: number
  readonly im: number
}

function fillBetween(
  f: ComplexFunction,
  from: Point,
  to: Point,
  negligible: number,
  push: (omega: number, value: Point) => void,
): void {
  const pending: Point[] = [to]
  let left = from
  while (pending.length > 0) {
    const right = pending[pending.length - 1]
    const middle = Math.sqrt(left.omega) * Math.sqrt(right.omega)
    const splittable = right.omega - left.omega > 1e-12 * right.omega && middle > left.omega && middle < right.omega
    const value = splittable && !near(left, right, negligible) ? f(middle) : null
    if (value === null) {
      pending.pop()
      left = right
      if (pending.length > 0) push(right.omega, right)
    } else {
      pending.push({ omega: middle, re: value.re, im: value.im })
    }
  }
}

function near(a: Point, b: Point, negligible: number): boolean {
  return closeBy(a.re, a.im, b.re, b.im, negligible) && closeBy(1 + a.re, a.im, 1 + b.re, b.im, negligible)
}

function closeBy(ar: number, ai: number, br: number, bi: number, negligible: number): boolean {
  if (hypotenuse(ar, ai) < negligible && hypotenuse(br, bi) < negligible) return true
  const turn = Math.abs(Math.atan2(ai * br - ar * bi, ar * br + ai * bi))
  if (turn > largestTurn) return false
  const sizeA = hypotenuse(ar, ai)
  const sizeB = hypotenuse(br, bi)
  return sizeA === sizeB || Math.abs(Math.log(sizeA / sizeB)) <= largestStretch
}
