import { checkNumber, checkOptions, type Scope, scopeOf, within } from '../internal/check.js'
import { zeros } from '../linear/dense.js'
import { hypotenuse } from '../linear/hypotenuse.js'
import { blockSystem } from './block.js'
import { connect } from './connect.js'
import type { Diagram } from './diagram.js'
import { eigenvaluesOf } from './eigenvalues-of.js'
import { series } from './series.js'
import { stateSpace } from './state-space.js'
import type { ContinuousSystem, InternalDelays, StateSpace } from './types.js'

/** Options of {@link pade}. */
export interface PadeOptions {
  /** Order of the approximation of every delay, a whole number from 1 to 20 */
  readonly order: number
}

/** The same system with every delay replaced by its all-pass Padé approximation of order [n/n].
 *
 * e^(−sτ) ≈ p(−sτ)/p(sτ), realised as a cascade of first- and second-order all-pass sections whose states are scaled in
 * sτ, so no coefficient grows with the order. The modulus is exactly one; the phase is right to 1e-3 rad up to ωτ = n from
 * order 7 on, up to 1.2 n from order 10 on; of order 3 it is out by 0.015 rad at ωτ = 3. Rounding of the poles leaves
 * up to 1e-8 rad at order 15 and 1e-6 rad at order 20.
 * @param plant - with delays; without, it is returned as it is
 * @param options - see {@link PadeOptions}
 * @returns a system without delays, with the same ports
 * @throws {@link IsolationError} `out-of-range`, `invalid-option`; errors of a malformed system
 * @source G. A. Baker, P. Graves-Morris, Padé Approximants, 2nd edition 1996, section 1.2 (exponential); the denominator is
 * the reverse Bessel polynomial, H. L. Krall, O. Frink, Trans. AMS 65 (1949) 100
 * @example
 * import { delay, pade, poles } from 'restmass'
 * poles(pade(delay({ seconds: 2 }), { order: 1 }))[0].re // -1
 */
export function pade<I extends string, O extends string>(
  plant: ContinuousSystem<I, O>,
  options: PadeOptions,
): StateSpace<I, O> {
  const scope = scopeOf('pade')
  checkOptions(scope, options, ['order'])
  const order = checkNumber(scope, 'order', options.order, { integer: true, atLeast: 1, atMost: 20 })
  const system = blockSystem(within(scope, 'system'), plant)
  if (system.delays === null) return system
  const roots = reverseBesselRoots(scope, order)
  return replaceDelays(system, system.delays, (seconds) => allPass(roots, seconds))
}

/** Roots of θ_n(x), the denominator in x = sτ/2, one of each conjugate pair. */
function reverseBesselRoots(scope: Scope, n: number): { re: number; im: number }[] {
  // Companion form in x/n, whose roots all have modulus near one; each is then polished on the three-term recurrence.
  const companion = zeros(n, n)
  for (let k = 0; k + 1 < n; k++) companion.data[k * n + k + 1] = 1
  let coefficient = 1
  for (let k = n; k > 0; k--) {
    coefficient *= ((2 * n - k + 1) * k) / (2 * (n - k + 1)) / n
    companion.data[(n - 1) * n + k - 1] = -coefficient
  }
  const found = eigenvaluesOf(scope, companion)
  const upper = Array.from(found.re, (re, k) => ({ re: n * re, im: n * found.im[k] })).filter(({ im }) => im > -1e-6)
  return upper.map((root) => polished(n, Math.abs(root.im) < 1e-6 ? { re: root.re, im: 0 } : root))
}

/** Newton steps on θ_m = (2m − 1) θ_(m−1) + x² θ_(m−2) with θ_n' = θ_n − x θ_(n−1). */
function polished(n: number, start: { re: number; im: number }): { re: number; im: number } {
  let { re, im } = start
  for (let step = 0; step < 4; step++) {
    let [ar, ai, br, bi] = [1, 0, re + 1, im]
    const sr = re * re - im * im
    const si = 2 * re * im
    for (let m = 2; m <= n; m++) {
      const factor = 2 * m - 1
      ;[ar, ai, br, bi] = [br, bi, factor * br + sr * ar - si * ai, factor * bi + sr * ai + si * ar]
    }
    const dr = br - (re * ar - im * ai)
    const di = bi - (re * ai + im * ar)
    const size = dr * dr + di * di
    re -= (br * dr + bi * di) / size
    im -= (bi * dr - br * di) / size
  }
  return { re, im }
}

/** Cascade of all-pass sections: first order −1 + 2α/(s + α), second order 1 − 4αs/(s² + 2αs + ω²). */
function allPass(roots: readonly { re: number; im: number }[], seconds: number): StateSpace {
  const sections = roots.map(({ re, im }) => {
    const alpha = (-2 * re) / seconds
    if (im === 0) {
      const side = Math.sqrt(2 * alpha)
      return stateSpace({ A: [[-alpha]], B: [[side]], C: [[side]], D: [[-1]] })
    }
    const omega = (2 * hypotenuse(re, im)) / seconds
    const side = 2 * Math.sqrt(alpha)
    return stateSpace({
      A: [
        [0, omega],
        [-omega, -2 * alpha],
      ],
      B: [[0], [side]],
      C: [[0, -side]],
      D: [[1]],
    })
  })
  return sections.length === 1 ? sections[0] : series(...sections)
}

/** The system with each delay channel closed through a block of its own. */
function replaceDelays<I extends string, O extends string>(
  system: StateSpace<I, O>,
  delays: InternalDelays,
  block: (seconds: number) => StateSpace,
): StateSpace<I, O> {
  const channels = delays.seconds.map((_, k) => k)
  const body: StateSpace = {
    kind: 'StateSpace',
    A: system.A,
    B: beside(system.B, delays.B),
    C: [...system.C, ...delays.C],
    D: [...beside(system.D, delays.D12), ...beside(delays.D21, delays.D22)],
    inputs: [...system.inputs.map((_, k) => `u${k}`), ...channels.map((k) => `w${k}`)],
    outputs: [...system.outputs.map((_, k) => `y${k}`), ...channels.map((k) => `z${k}`)],
    states: system.states,
    delays: null,
  }
  const blocks: Record<string, StateSpace> = { system: body }
  const wires: Record<string, string> = {}
  system.inputs.forEach((name, k) => {
    wires[`system.u${k}`] = name
  })
  for (const k of channels) {
    const approximation = block(delays.seconds[k])
    blocks[`delay${k}`] = approximation
    wires[`delay${k}.${approximation.inputs[0]}`] = `system.z${k}`
    wires[`system.w${k}`] = `delay${k}.${approximation.outputs[0]}`
  }
  const outputs = Object.fromEntries(system.outputs.map((name, k) => [name, `system.y${k}`]))
  const diagram: Diagram = { blocks, inputs: system.inputs, outputs, wires }
  return connect(diagram) as StateSpace<I, O>
}

function beside(left: readonly (readonly number[])[], right: readonly (readonly number[])[]): number[][] {
  return left.map((row, i) => [...row, ...right[i]])
}
