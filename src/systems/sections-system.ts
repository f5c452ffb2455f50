import {
  checkList,
  checkNumber,
  checkNumbers,
  checkOptions,
  fail,
  type Scope,
  scopeOf,
  within,
} from '../internal/check.js'
import type { SecondOrderSection } from './second-order-sections.js'
import { cascade, type PortOptions } from './section.js'
import type { DiscreteStateSpace } from './types.js'

/** Options of {@link sectionsSystem}. */
export interface SectionsSystemOptions<I extends string = string, O extends string = string> extends PortOptions<I, O> {
  /** [s], above 0 */
  readonly sampleTime: number
}

/** Second-order sections as a discrete system, for responses, margins and simulation; the inverse of `secondOrderSections`.
 *
 * Each section has the two states of the transposed direct form II.
 * @param sections - as from `secondOrderSections` or `quantizedSections`; the first acts first
 * @param options - see {@link SectionsSystemOptions}
 * @returns a discrete system with one input and one output
 * @throws {@link IsolationError} `invalid-option`, `dimension-mismatch`, `out-of-range`, `not-finite`
 * @source A. V. Oppenheim, R. W. Schafer, Discrete-Time Signal Processing, 3rd edition 2010, section 6.4
 * @example
 * import { poles, sectionsSystem } from 'restmass'
 * const system = sectionsSystem([{ b: [1, 0, 0], a: [1, -1.5, 0.56] }], { sampleTime: 0.001 })
 * poles(system).map(({ re }) => re.toFixed(2)).sort() // ['0.70', '0.80']
 */
export function sectionsSystem<const I extends string = 'u1', const O extends string = 'y1'>(
  sections: readonly SecondOrderSection[],
  options: SectionsSystemOptions<I, O>,
): DiscreteStateSpace<NoInfer<I>, NoInfer<O>> {
  const scope = scopeOf('sectionsSystem')
  checkOptions(scope, options, ['sampleTime', 'input', 'output'])
  const sampleTime = checkNumber(scope, 'sampleTime', options.sampleTime, { unit: 's', above: 0 })
  const parts = checkSections(scope, sections).map(({ b: [b0, b1, b2], a: [, a1, a2] }) => ({
    A: [
      [-a1, 1],
      [-a2, 0],
    ],
    B: [b1 - a1 * b0, b2 - a2 * b0],
    C: [1, 0],
    D: b0,
  }))
  const { delays: _, ...matrices } = cascade<NoInfer<I>, NoInfer<O>>(scope, parts, options)
  return { ...matrices, kind: 'DiscreteStateSpace', sampleTime }
}

/** Checks that every section has three finite coefficients on either side and a[0] = 1. */
export function checkSections(scope: Scope, sections: readonly SecondOrderSection[]): readonly SecondOrderSection[] {
  checkList(scope, 'sections', sections, 0, 250).forEach((section, k) => {
    const at = within(within(scope, 'sections'), k)
    checkOptions(at, section, ['b', 'a'])
    for (const key of ['b', 'a'] as const) {
      const { length } = checkNumbers(at, key, section[key])
      if (length !== 3) fail('dimension-mismatch', within(at, key), `must have 3 entries, got ${length}`)
    }
    checkNumber(within(at, 'a'), 0, section.a[0], { atLeast: 1, atMost: 1 })
  })
  return sections
}
