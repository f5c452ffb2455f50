import { checkNumber, checkOptional, checkOptions, fail, type Range, type Scope, within } from '../internal/check.js'

/** Corner frequencies that blocks take. */
export const cornerRange: Range = /* @__PURE__ */ Object.freeze({ unit: 'Hz', above: 0, atMost: 1e15 })

const orderRange: Range = /* @__PURE__ */ Object.freeze({ integer: true, atLeast: 1, atMost: 20 })

/** What low- and high-pass have in common. */
export interface CutoffOptions {
  readonly cutoff: number
  readonly order?: number
  readonly dampingRatio?: number
}

/** Checked corner [rad/s] and the damping ratios of the second-order sections, in ascending order of their peaks. */
export interface Prototype {
  readonly omega: number
  readonly dampingRatios: readonly number[]
  /** whether a first-order section comes first */
  readonly odd: boolean
}

/** Damping ratios of the second-order sections of a Butterworth filter, the flattest first.
 * @source S. Butterworth, On the theory of filter amplifiers, Experimental Wireless 7, 1930; poles at equal angles on a circle */
export function butterworthDamping(order: number): number[] {
  return Array.from({ length: Math.floor(order / 2) }, (_, k) =>
    Math.cos((Math.PI * (1 + 2 * k + (order % 2))) / (2 * order)),
  )
}

/** Checks the options of a low- or high-pass. */
export function checkCutoff(scope: Scope, options: CutoffOptions): Prototype {
  checkOptions(scope, options, ['cutoff', 'order', 'dampingRatio', 'input', 'output'])
  const { dampingRatio } = options
  const omega = 2 * Math.PI * checkNumber(scope, 'cutoff', options.cutoff, cornerRange)
  const order = checkOrder(scope, options.order, dampingRatio === undefined ? 1 : 2)
  if (dampingRatio === undefined) return { omega, dampingRatios: butterworthDamping(order), odd: order % 2 === 1 }
  if (order !== 2) fail('invalid-option', within(scope, 'dampingRatio'), `goes with order 2 only, got order ${order}`)
  return { omega, dampingRatios: [checkDampingRatio(scope, dampingRatio)], odd: false }
}

/** Checks the order of a filter. */
export function checkOrder(scope: Scope, order: unknown, fallback: number): number {
  return checkOptional(scope, 'order', order, orderRange, fallback)
}

function checkDampingRatio(scope: Scope, dampingRatio: unknown): number {
  return checkNumber(scope, 'dampingRatio', dampingRatio, { above: 0, atMost: 1e6 })
}
