import { checkNumber, checkOptional, checkOptions, fail, scopeOf, within } from '../internal/check.js'
import { cornerRange } from './butterworth.js'
import { type PortOptions, portName } from './section.js'
import type { StateSpace } from './types.js'

/** Options of {@link motionFeedback}. */
export interface MotionFeedbackOptions<I extends string = string, O extends string = string> extends PortOptions<I, O> {
  /** Force per velocity, damping against space [N·s/m]. @defaultValue 0 */
  readonly velocityGain?: number
  /** Force per acceleration, a virtual mass [kg]; needs `derivativeCorner`. @defaultValue 0 */
  readonly accelerationGain?: number
  /** Corner above which the derivative stops to rise [Hz], above 0 */
  readonly derivativeCorner?: number
  /** Force per displacement, a spring against space [N/m]; needs `integratorCorner`. @defaultValue 0 */
  readonly positionGain?: number
  /** Corner below which the integration stops [Hz], above 0 */
  readonly integratorCorner?: number
}

/** Velocity, virtual-mass and position feedback from one velocity signal.
 *
 *     force = (g_v + g_a·s·ω_d/(s + ω_d) + g_p/(s + ω_i))·velocity
 *
 * The wire to the actuator carries the minus sign.
 * @param options - see {@link MotionFeedbackOptions}
 * @returns a block of role 'controller'
 * @throws {@link IsolationError} `out-of-range`, `not-finite`; `invalid-option` for a gain without its corner
 * @source C. Collette, S. Janssens, K. Artoos, Recent Patents on Mechanical Engineering 4 (2011) 212 (feedback laws)
 * @example
 * import { dcGain, motionFeedback } from 'restmass'
 * dcGain(motionFeedback({ velocityGain: 2000, positionGain: 1e4, integratorCorner: 0.1 }))[0][0] // 17915.5
 */
export function motionFeedback<const I extends string = 'u1', const O extends string = 'y1'>(
  options: MotionFeedbackOptions<I, O>,
): StateSpace<NoInfer<I>, NoInfer<O>> {
  const scope = scopeOf('motionFeedback')
  const keys = ['velocityGain', 'accelerationGain', 'derivativeCorner', 'positionGain', 'integratorCorner']
  checkOptions(scope, options, [...keys, 'input', 'output'])
  const gain = (key: 'velocityGain' | 'accelerationGain' | 'positionGain') =>
    checkOptional(scope, key, options[key], {}, 0)
  const corner = (key: 'derivativeCorner' | 'integratorCorner', needed: boolean) => {
    if (!needed && options[key] !== undefined) fail('invalid-option', within(scope, key), 'has no gain to go with')
    return needed ? 2 * Math.PI * checkNumber(scope, key, options[key], cornerRange) : 0
  }
  const [velocity, acceleration, position] = [gain('velocityGain'), gain('accelerationGain'), gain('positionGain')]
  const derivative = corner('derivativeCorner', acceleration !== 0)
  const integrator = corner('integratorCorner', position !== 0)
  // s·ω_d/(s + ω_d) = ω_d·(1 − ω_d/(s + ω_d))
  const parts = [
    { omega: derivative, rate: derivative, out: -acceleration * derivative },
    { omega: integrator, rate: 1, out: position },
  ].filter(({ omega }) => omega > 0)
  return {
    kind: 'StateSpace',
    A: parts.map(({ omega }, i) => parts.map((_, j) => (i === j ? -omega : 0))),
    B: parts.map(({ rate }) => [rate]),
    C: [parts.map(({ out }) => out)],
    D: [[velocity + acceleration * derivative]],
    inputs: [portName(scope, 'input', options.input, 'u1')],
    outputs: [portName(scope, 'output', options.output, 'y1')],
    states: parts.map((_, i) => `x${i + 1}`),
    delays: null,
    role: 'controller',
  }
}
