import { checkGrid, checkOptions, fail, listed, type Scope, scopeOf, show, within } from '../internal/check.js'
import { finiteResult } from '../internal/finite-result.js'
import { balancedSystem } from '../linear/delayed-solve.js'
import { largest } from '../linear/dense.js'
import { hypotenuse } from '../linear/hypotenuse.js'
import { anySystem } from './block.js'
import type { ChannelOptions } from './channel.js'
import { continuousForm, denseSystem } from './dense-system.js'
import { angularFrequency } from './frequency-response.js'
import { type NotedResponse, notedResponse } from './noted-response.js'
import { stateEigenvalues } from './poles.js'
import { relevantPart } from './relevant-states.js'
import { jumpsAt, type RootModel, rootPhase, settledRoots } from './root-model.js'
import { delayInSeries } from './series-delay.js'
import type { DiscreteStateSpace, LinearSystem, StateSpace } from './types.js'
import { invariantZeros, type Zero } from './zeros.js'

/** How far the phase of the response may be from that of the roots [degrees]. */
const agreement = 30

/** Phase of one channel of a model in degrees, from its poles, zeros and delays; nothing is unwrapped.
 *
 * −ω·delay plus the angles of jω − z less those of jω − p, counted from low frequency: with k integrators and a gain above 0
 * the phase starts at −90° k, with a gain below 0 at −180° − 90° k. A root left of the axis turns it by 90° (a conjugate pair
 * by 180°), a zero up and a pole down, one right of the axis the other way; roots on the axis count as left of it, and right
 * at such a root the phase is the middle of its jump. The roots decide the turns, and the response the digits where it is
 * above rounding. At 0 Hz the limit from above is given. A discrete system is treated alike through w = (z − 1)/(z + 1).
 * @param system - continuous or discrete; delays must be in series with everything else on the channel
 * @param frequencies - grid [Hz], ascending, 0 allowed, up to half the sample rate of a discrete system
 * @param channel - which input and output; may be left out where there is one of each
 * @returns one phase per frequency [degrees]
 * @throws {@link IsolationError} `unsupported` for a delay inside a loop or beside another way; `singular` on a pole;
 * `ill-conditioned` where roots and response do not agree, or for a channel that is zero; `unknown-port`, `out-of-range`,
 * `invalid-option`
 * @source H. W. Bode, Network Analysis and Feedback Amplifier Design, 1945, chapter 14; roots and delay one by one
 * @example
 * import { absolutePhaseDegrees, transferFunction } from 'restmass'
 * const threeIntegrators = transferFunction({ numerator: [1], denominator: [1, 0, 0, 0] })
 * Array.from(absolutePhaseDegrees(threeIntegrators, [0, 1])) // [-270, -270]
 */
export function absolutePhaseDegrees<I extends string, O extends string>(
  system: LinearSystem<I, O>,
  frequencies: ArrayLike<number>,
  channel?: ChannelOptions<NoInfer<I>, NoInfer<O>>,
): Float64Array {
  const scope = scopeOf('absolutePhaseDegrees')
  const form = anySystem(within(scope, 'system'), system)
  const range = form.kind === 'StateSpace' ? {} : { atMost: 1 / (2 * form.sampleTime) }
  const grid = checkGrid(scope, 'frequencies', frequencies, { unit: 'Hz', atLeast: 0, ...range })
  const { input, output } = checkChannel(scope, form, channel)
  const part = relevantPart(form.kind === 'StateSpace' ? form : continuousForm(form), input, output)
  const delayed = delayInSeries(part)
  if (delayed === null) {
    fail('unsupported', scope, 'can pull out delays in series only; use pade(system, { order }) first, or phaseDegrees')
  }
  const axis =
    form.kind === 'StateSpace' ? continuousAxis(scope, delayed.rational) : discreteAxis(scope, form, delayed.rational)
  const model = settledRoots(axis.roots, axis.size, (omega) => {
    const value = axis.at(omega)
    return value === null ? null : value.lost ? Number.NaN : hypotenuse(value.re, value.im)
  })
  const offset = signOffset(scope, axis, model)
  return grid.map((frequency) => {
    const omega = axis.place(frequency)
    const phase = phaseAt(scope, axis, model, omega, offset, frequency) - 360 * frequency * delayed.seconds
    return finiteResult(within(scope, 'frequencies'), 'phase', phase)
  })
}

interface Value {
  readonly re: number
  readonly im: number
  /** Whether it is rounding */
  readonly lost: boolean
}

/** A channel along the axis of its roots: ω, or tan(ωT/2) for a discrete system. */
interface Axis {
  readonly roots: RootModel
  /** Of the roots that are certain */
  readonly size: number
  readonly at: (omega: number) => Value | null
  readonly place: (frequency: number) => number
}

function continuousAxis(scope: Scope, part: StateSpace): Axis {
  const response = notedResponse(part)
  return {
    roots: { zeros: invariantZeros(scope, part), poles: polesOf(scope, part) },
    size: largest(balancedSystem(denseSystem(part)).A),
    at: (omega) => first(response(0, omega)),
    place: angularFrequency,
  }
}

function discreteAxis(scope: Scope, { sampleTime }: DiscreteStateSpace, part: StateSpace): Axis {
  const response = notedResponse(part)
  const mapped = (roots: readonly Zero[]) => roots.flatMap(({ re, im }) => bilinear(re, im))
  const [zeros, poles] = [invariantZeros(scope, part), polesOf(scope, part)]
  // Zeros at z = ∞ lie at w = 1.
  const delays = Array.from({ length: poles.length - zeros.length }, () => ({ re: 1, im: 0 }))
  return {
    roots: { zeros: [...mapped(zeros), ...delays], poles: mapped(poles) },
    size: 1,
    at: (w) => first(response((1 - w * w) / (1 + w * w), (2 * w) / (1 + w * w))),
    place: (frequency) => Math.tan(Math.PI * frequency * sampleTime),
  }
}

/** w = (z − 1)/(z + 1); none for z = −1, which lies at the end of the axis. */
function bilinear(re: number, im: number): Zero[] {
  const square = (re + 1) ** 2 + im * im
  return square < 1e-24 ? [] : [{ re: (re * re + im * im - 1) / square, im: (2 * im) / square }]
}

function polesOf(scope: Scope, part: StateSpace): Zero[] {
  const { re, im } = stateEigenvalues(scope, part)
  return Array.from(re, (real, k) => ({ re: real, im: im[k] }))
}

function first(value: NotedResponse | null): Value | null {
  if (value === null) return null
  const [re, im] = [value.re[0], value.im[0]]
  return { re, im, lost: hypotenuse(re, im) <= 10 * value.noise[0] }
}

/** 0, or −180 where the gain at low frequency is below 0, from the response at the middle of all roots. */
function signOffset(scope: Scope, { roots, at }: Axis, model: RootModel): number {
  const sizes = [...roots.zeros, ...roots.poles].map(({ re, im }) => hypotenuse(re, im)).filter((size) => size > 0)
  let omega = Math.exp(sizes.reduce((sum, size) => sum + Math.log(size), 0) / (sizes.length || 1))
  // Each step leaves at least one root behind.
  for (let k = 0; k < sizes.length && jumpsAt(model, omega); k++) omega = 1.01 * omega + Number.MIN_VALUE
  const value = at(omega)
  if (value === null || value.lost) fail('ill-conditioned', scope, 'has no phase for a channel that is zero')
  const excess = wrapped(degrees(value) - rootPhase(model, omega))
  if (Math.abs(excess) > agreement && Math.abs(excess) < 180 - agreement) disagree(scope, omega)
  return Math.abs(excess) > 90 ? -180 : 0
}

function phaseAt(scope: Scope, axis: Axis, model: RootModel, omega: number, offset: number, frequency: number): number {
  const phase = rootPhase(model, omega) + offset
  if (omega === 0) return phase
  const value = axis.at(omega)
  const jump = jumpsAt(model, omega)
  if (value === null && jump) {
    fail('singular', within(scope, 'frequencies'), `hit a pole at ${frequency} Hz`, { value: frequency, unit: 'Hz' })
  }
  if (value === null || value.lost) return phase
  const excess = wrapped(degrees(value) - phase)
  if (Math.abs(excess) > (jump ? 90 : 0) + agreement) disagree(scope, omega)
  return phase + excess
}

function disagree(scope: Scope, omega: number): never {
  return fail('ill-conditioned', scope, `has poles and zeros that do not account for the response near ${omega} rad/s`)
}

function degrees({ re, im }: { re: number; im: number }): number {
  return (Math.atan2(im, re) * 180) / Math.PI
}

function wrapped(angle: number): number {
  return angle - 360 * Math.round(angle / 360)
}

function checkChannel(scope: Scope, system: StateSpace | DiscreteStateSpace, channel: ChannelOptions | undefined) {
  const { inputs, outputs } = system
  if (channel === undefined) {
    if (inputs.length === 1 && outputs.length === 1) return { input: 0, output: 0 }
    fail('invalid-option', within(scope, 'channel'), 'must name an input and an output of a system with several')
  }
  const at = within(scope, 'channel')
  checkOptions(at, channel, ['input', 'output'])
  const position = (key: string, name: unknown, names: readonly string[]): number => {
    const index = names.indexOf(name as string)
    if (index >= 0) return index
    return fail('unknown-port', within(at, key), `is ${show(name)}; there are ${listed(names)}`)
  }
  return { input: position('input', channel.input, inputs), output: position('output', channel.output, outputs) }
}
