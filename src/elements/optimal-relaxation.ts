import { checkNumber, checkOneOf, checkOptions, scopeOf } from '../internal/check.js'
import { finiteResult } from '../internal/finite-result.js'

/** Options of {@link optimalRelaxation}. */
export interface OptimalRelaxationOptions {
  /** Stiffness of the spring that supports the damper over that of the main spring, N = (K(∞) − K(0))/K(0), above 0 */
  readonly stiffnessRatio: number
  /** Whose peak is to be low: of payload over floor, of the stretch over the floor, or of the payload under a force on it.
   * @defaultValue 'absolute' */
  readonly response?: 'absolute' | 'relative' | 'force'
}

/** The best damper behind a spring of given stiffness; made by {@link optimalRelaxation}. */
export interface OptimalRelaxation {
  readonly kind: 'OptimalRelaxation'
  /** c/(2√(k·m)) of the dashpot c, with the stiffness k of the main spring */
  readonly dampingRatio: number
  /** Frequency over √(k/m)/2π where the response has the same size for every damper, and its peak for the best one */
  readonly crossingRatio: number
  /** The peak, lower than with any other damper: |x/u|, |x − u|/|u|, or k·|x/F| */
  readonly peak: number
}

/** Best damping of an elastically supported damper under a rigid mass, and the peak it leaves.
 *
 * All responses cross at one frequency whatever the dashpot; the best dashpot puts the peak there.
 *
 * | response | crossing² | peak | damping ratio |
 * |---|---|---|---|
 * | absolute | 2(N + 1)/(N + 2) | 1 + 2/N | N√(2(N + 2)) / (4(N + 1)) |
 * | relative | (N + 2)/2 | 1 + 2/N | N / √(2(N + 1)(N + 2)) |
 * | force | (N + 2)/2 | 2/N | N / √(2(N + 2)) |
 * @param options - see {@link OptimalRelaxationOptions}
 * @returns the optimum; null for 'force' with a ratio above 2, where the static deflection is larger than 2/N and no damper
 * stands out
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `not-finite`
 * @source J. E. Ruzicka, R. D. Cavanaugh, New method for vibration isolation, Machine Design, 1958; M. J. Brennan et al.,
 * On the dynamic behaviour of a mass supported by a parallel combination of a spring and an elastically connected damper,
 * J. Sound Vib. 309, 2008; all three confirmed by min-max search
 * @example
 * import { optimalRelaxation } from 'restmass'
 * optimalRelaxation({ stiffnessRatio: 3, response: 'relative' })?.dampingRatio // 0.474342
 */
export function optimalRelaxation(options: OptimalRelaxationOptions): OptimalRelaxation | null {
  const scope = scopeOf('optimalRelaxation')
  checkOptions(scope, options, ['stiffnessRatio', 'response'])
  const ratio = checkNumber(scope, 'stiffnessRatio', options.stiffnessRatio, { above: 0, atMost: 1e100 })
  const { response = 'absolute' } = options
  checkOneOf(scope, 'response', response, ['absolute', 'relative', 'force'])
  if (response === 'force' && ratio > 2) return null
  return {
    kind: 'OptimalRelaxation',
    dampingRatio:
      response === 'absolute'
        ? absoluteOptimum(ratio)
        : ratio / Math.sqrt(2 * (ratio + 2)) / (response === 'force' ? 1 : Math.sqrt(ratio + 1)),
    crossingRatio: Math.sqrt(response === 'absolute' ? (2 * (ratio + 1)) / (ratio + 2) : (ratio + 2) / 2),
    peak: finiteResult(scope, 'peak', (response === 'force' ? 0 : 1) + 2 / ratio),
  }
}

/** Dashpot [N·s/m] with the lowest peak of absolute transmissibility under a mass on a spring of given static stiffness. */
export function optimalDamping(stiffnessRatio: number, stiffness: number, mass: number): number {
  return 2 * absoluteOptimum(stiffnessRatio) * Math.sqrt(stiffness) * Math.sqrt(mass)
}

function absoluteOptimum(ratio: number): number {
  return (ratio / (4 * (ratio + 1))) * Math.sqrt(2 * (ratio + 2))
}
