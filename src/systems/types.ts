/** A matrix at the border of the package: rows of numbers. */
export type Matrix = readonly (readonly number[])[]

/** Channels of a system that are closed through pure delays: `w(t) = z(t − τ)`, channel by channel.
 *
 *     x' = A x + B u + delays.B w
 *     y  = C x + D u + D12 w
 *     z  = delays.C x + D21 u + D22 w
 */
export interface InternalDelays {
  /** Delay of each channel [s], all above 0. */
  readonly seconds: readonly number[]
  /** n × d, how the delayed signals drive the states. */
  readonly B: Matrix
  /** d × n, what the states send into the delays. */
  readonly C: Matrix
  /** p × d, delayed signals to outputs. */
  readonly D12: Matrix
  /** d × m, inputs to delays. */
  readonly D21: Matrix
  /** d × d, delayed signals to delays. */
  readonly D22: Matrix
}

/** Pieces of hardware that a block can stand for. */
export type BlockRole = 'inertialSensor' | 'relativeSensor' | 'controller' | 'actuator' | 'valve'

/** A continuous linear system with named ports: x' = A x + B u, y = C x + D u, with delays kept exact. */
export interface StateSpace<I extends string = string, O extends string = string> {
  readonly kind: 'StateSpace'
  /** n × n [1/s] */
  readonly A: Matrix
  /** n × m */
  readonly B: Matrix
  /** p × n */
  readonly C: Matrix
  /** p × m */
  readonly D: Matrix
  readonly inputs: readonly I[]
  readonly outputs: readonly O[]
  readonly states: readonly string[]
  readonly delays: null | InternalDelays
  /** What the block stands for in a model; carried along, never computed with. */
  readonly role?: BlockRole
}

/** A discrete linear system with named ports: x[k+1] = A x[k] + B u[k], y[k] = C x[k] + D u[k]. */
export interface DiscreteStateSpace<I extends string = string, O extends string = string> {
  readonly kind: 'DiscreteStateSpace'
  /** n × n */
  readonly A: Matrix
  /** n × m */
  readonly B: Matrix
  /** p × n */
  readonly C: Matrix
  /** p × m */
  readonly D: Matrix
  readonly inputs: readonly I[]
  readonly outputs: readonly O[]
  readonly states: readonly string[]
  /** [s] */
  readonly sampleTime: number
}

/** A mechanical system in second-order form: M q'' + C q' + K q = F u, outputs from displacement, velocity, acceleration. */
export interface MechanicalSystem<I extends string = string, O extends string = string> {
  readonly kind: 'MechanicalSystem'
  /** n × n [kg], symmetric, positive definite */
  readonly mass: Matrix
  /** n × n [N·s/m] */
  readonly damping: Matrix
  /** n × n [N/m] */
  readonly stiffness: Matrix
  /** n × m, force on each coordinate per unit input */
  readonly forces: Matrix
  /** p × n, output per displacement */
  readonly displacements: Matrix
  /** p × n, output per velocity */
  readonly velocities: Matrix
  /** p × n, output per acceleration */
  readonly accelerations: Matrix
  readonly inputs: readonly I[]
  readonly outputs: readonly O[]
  readonly role?: BlockRole
}

/** What a diagram is made of. */
export type Block<I extends string = string, O extends string = string> = StateSpace<I, O> | MechanicalSystem<I, O>

/** Anything that answers as a continuous linear system. */
export type ContinuousSystem<I extends string = string, O extends string = string> =
  | StateSpace<I, O>
  | MechanicalSystem<I, O>
  | PreparedSystem<I, O>

/** Anything that answers as a linear system. */
export type LinearSystem<I extends string = string, O extends string = string> =
  | ContinuousSystem<I, O>
  | DiscreteStateSpace<I, O>

/** A system with its factors, made by {@link prepare}; opaque, to be passed on within one thread. */
export interface PreparedSystem<I extends string = string, O extends string = string> {
  readonly kind: 'PreparedSystem'
  readonly inputs: readonly I[]
  readonly outputs: readonly O[]
  /** The system it was made from */
  readonly system: StateSpace<I, O> | MechanicalSystem<I, O> | DiscreteStateSpace<I, O>
  /** What was worked out once; its form is not part of the contract */
  readonly factors: unknown
}

/** Samples of one complex quantity over frequency. */
export interface ComplexSeries {
  readonly kind: 'ComplexSeries'
  /** [Hz] */
  readonly frequency: Float64Array
  readonly re: Float64Array
  readonly im: Float64Array
}

/** Response of several channels over one grid. */
export interface FrequencyResponse<I extends string = string, O extends string = string> {
  readonly kind: 'FrequencyResponse'
  readonly inputs: readonly I[]
  readonly outputs: readonly O[]
  /** [Hz], length n */
  readonly frequency: Float64Array
  /** Entry (output o, input i, frequency k) stands at `(o * inputs.length + i) * n + k`. */
  readonly re: Float64Array
  readonly im: Float64Array
  /** Bound on the modulus of the error of each entry; absent unless asked for */
  readonly errorBound?: Float64Array
}

/** One pole of a system. */
export interface Pole {
  /** [rad/s] */
  readonly re: number
  /** [rad/s] */
  readonly im: number
  /** |p|/2π [Hz] */
  readonly naturalFrequency: number
  /** −Re p/|p|; null at the origin */
  readonly dampingRatio: number | null
}

/** Verdict on a system: every pole left of the imaginary axis, some on it, or some right of it. */
export type StabilityVerdict = 'stable' | 'marginal' | 'unstable'

/** What {@link stability} finds. */
export interface Stability {
  readonly kind: 'Stability'
  readonly verdict: StabilityVerdict
  readonly unstablePoles: number
  /** Largest real part of the poles [rad/s], of a discrete system that of ln z over the sample time, −Infinity with all poles
   * at z = 0; null for a system with delays or without states. */
  readonly abscissa: number | null
}

/** A frequency at which |L| = 1. */
export interface GainCrossover {
  /** [Hz] */
  readonly frequency: number
  /** 180° + arg L, in (−180, 180] */
  readonly phaseMarginDegrees: number
  /** Extra delay [s] that brings L to −1 at this frequency. */
  readonly delayMargin: number
}

/** A frequency strictly between 0 and Infinity at which L is real and negative. */
export interface PhaseCrossover {
  /** [Hz] */
  readonly frequency: number
  /** 1/|L| */
  readonly gainMargin: number
}

/** What {@link margins} finds of a loop L in 1/(1 + L). */
export interface Margins {
  readonly kind: 'Margins'
  readonly closedLoop: StabilityVerdict
  /** Smallest factor above 1 that destabilises; null if none does. */
  readonly gainMargin: number | null
  /** Largest factor below 1 that destabilises; null if none does. */
  readonly gainReductionMargin: number | null
  /** Phase margin of least magnitude, with its sign; null without gain crossover. */
  readonly phaseMarginDegrees: number | null
  /** min |1 + L| over all frequencies, 0 and Infinity included. */
  readonly modulusMargin: number
  /** Where that minimum is [Hz]. */
  readonly modulusMarginFrequency: number
  /** Smallest extra delay that destabilises [s]; null if none does. */
  readonly delayMargin: number | null
  readonly gainCrossovers: readonly GainCrossover[]
  readonly phaseCrossovers: readonly PhaseCrossover[]
}
