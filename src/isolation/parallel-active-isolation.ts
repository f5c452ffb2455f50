import type { Mount } from '../elements/types.js'
import { checkNumber, checkOptional, checkOptions, type Scope, scopeOf, within } from '../internal/check.js'
import { gain } from '../systems/gain.js'
import { negative } from '../systems/wire-sources.js'
import type { PayloadOptions } from './bodies.js'
import { type FeedbackDesign, feedbackStorey } from './feedback-storey.js'
import type { FloorOptions } from './floor-mobility.js'
import { type ActuatorOptions, actuatorBlock, delayed, type SensorOptions } from './inertial-path.js'
import type { LevellingOptions } from './levelling.js'
import { closeStorey, type IsolationModel, type Storey } from './model.js'

/** Feedback of a motor in parallel with the springs. */
export interface ParallelFeedbackOptions {
  /** Force per velocity of the payload [N·s/m] */
  readonly velocityGain: number
  /** Force per acceleration of the payload, a virtual mass [kg]. @defaultValue 0 */
  readonly accelerationGain?: number
  /** @defaultValue an exact velocity sensor */
  readonly sensor?: SensorOptions
  /** @defaultValue an exact actuator */
  readonly actuator?: ActuatorOptions
  /** Delay of the loop [s], at least 0. @defaultValue 0 */
  readonly delay?: number
}

/** Feedforward of the known reaction of a moving stage. */
export interface ReactionFeedforwardOptions {
  /** Share of the reaction force that is cancelled; 1 is perfect */
  readonly gain: number
  /** Delay of the counter force [s], at least 0. @defaultValue 0 */
  readonly delay?: number
  /** Time by which the move is known ahead [s], at least 0 and at most `delay`, which it makes up for. @defaultValue 0 */
  readonly preview?: number
  /** @defaultValue an exact actuator */
  readonly actuator?: ActuatorOptions
}

/** Options of {@link parallelActiveIsolation}. */
export interface ParallelActiveIsolationOptions {
  readonly payload: PayloadOptions
  readonly mount: Mount
  /** Number of mounts in parallel, above 0. @defaultValue 1 */
  readonly count?: number
  /** Height control; needs an air spring. @defaultValue none */
  readonly levelling?: LevellingOptions
  readonly feedback: ParallelFeedbackOptions
  /** @defaultValue none */
  readonly feedforward?: ReactionFeedforwardOptions
  /** A floor that gives way. @defaultValue none, a rigid one */
  readonly floor?: FloorOptions
}

/** Model of a payload on mounts with motors in parallel, which damp it and cancel the reaction of a moving stage.
 *
 *     force on the payload = −(g_v + s g_a) A e^(−sτ) S v − gain A e^(−sτ) · reactionForce
 *
 * Only `reactionForce` is fed forward; what is left of it is 1 − gain A e^(−s(τ − preview)). The motors react on the floor. Moving
 * stages and motors can crush: follow local machine-safety codes.
 * @param options - see {@link ParallelActiveIsolationOptions}
 * @returns the diagram and the closed model; main loop `feedback`
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `not-finite`; `algebraic-loop` where a virtual mass
 * cancels the payload; `unsupported` for a sensor that does not measure velocity. With acceleration feedback and an
 * actuator that does not roll off there is no `sensorNoise`, since its derivative has no bound.
 * @source C. Collette, S. Janssens, K. Artoos, Recent Patents on Mechanical Engineering 4 (2011) 212 (feedback laws)
 * @example
 * import { parallelActiveIsolation } from 'restmass'
 * const mount = { stiffness: 4e4, damping: 0 }
 * const feedback = { velocityGain: 4e4, accelerationGain: 3000 }
 * const model = parallelActiveIsolation({ payload: { mass: 1000 }, mount, feedback })
 * model.loops.length // 1
 */
export function parallelActiveIsolation(options: ParallelActiveIsolationOptions): IsolationModel {
  return closeStorey(parallelActiveStorey(scopeOf('parallelActiveIsolation'), options, 0))
}

export function parallelActiveStorey(scope: Scope, options: ParallelActiveIsolationOptions, above: number): Storey {
  checkOptions(scope, options, ['payload', 'mount', 'count', 'levelling', 'feedback', 'feedforward', 'floor'])
  const at = within(scope, 'feedback')
  const { feedback } = options
  checkOptions(at, feedback, ['velocityGain', 'accelerationGain', 'sensor', 'actuator', 'delay'])
  const velocityGain = checkNumber(at, 'velocityGain', feedback.velocityGain, { unit: 'N·s/m' })
  const accelerationGain = checkOptional(at, 'accelerationGain', feedback.accelerationGain, { unit: 'kg' }, 0)
  return feedbackStorey(scope, options, {
    concept: 'parallelActive',
    loop: 'feedback',
    at,
    path: feedback,
    above,
    gains: () => ({ velocityGain, accelerationGain }),
    ...(options.feedforward === undefined ? {} : { feedforward: reactionPath(scope, options.feedforward) }),
  })
}

function reactionPath(scope: Scope, options: ReactionFeedforwardOptions): FeedbackDesign['feedforward'] {
  const at = within(scope, 'feedforward')
  checkOptions(at, options, ['gain', 'delay', 'preview', 'actuator'])
  const share = checkNumber(at, 'gain', options.gain, {})
  const late = checkOptional(at, 'delay', options.delay, { unit: 's', atLeast: 0 }, 0)
  const preview = checkOptional(at, 'preview', options.preview, { unit: 's', atLeast: 0, atMost: late }, 0)
  const path = delayed(at, late - preview, 'feedforwardDelay', 'feedforward.force')
  const { block, record } = actuatorBlock(at, options.actuator, 'force')
  return {
    blocks: {
      feedforward: { ...gain(share, { inputs: ['reaction'], outputs: ['force'] }), role: 'controller' },
      ...path.blocks,
      feedforwardActuator: block,
    },
    wires: {
      'feedforward.reaction': 'reactionForce',
      ...path.wires,
      'feedforwardActuator.command': negative(path.source),
    },
    source: 'feedforwardActuator.force',
    limits: record.limits,
  }
}
