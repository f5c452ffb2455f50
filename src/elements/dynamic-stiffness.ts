import { checkGrid, scopeOf, within } from '../internal/check.js'
import { finiteResult } from '../internal/finite-result.js'
import type { ComplexSeries } from '../systems/types.js'
import { checkMount } from './check-mount.js'
import { surgeModes } from './surge-modes.js'
import type { CanonicalMount, Mount } from './types.js'

/** Complex stiffness K(jω) of a mount over frequency [N/m], force over stretch.
 *
 * K(s) = stiffness + damping·s + Σ stiffnessᵢ·timeᵢ·s / (1 + timeᵢ·s), s = jω; Im K / Re K is the loss factor. The sign is
 * e^(+jωt): a passive mount has Im K ≥ 0. Where coils have `surge`, the two ends differ: K is then the force on an end held
 * fast per motion of the other (dynamic transfer stiffness, ISO 10846-1), and of either sign.
 * @param mount - a record or a literal; `lateral` is not looked at
 * @param frequencies - grid [Hz], ascending, at least 0
 * @returns the stiffness [N/m], one entry per frequency
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `not-finite`
 * @source derived: force balance of a spring, a dashpot and Maxwell elements side by side
 * @example
 * import { dynamicStiffness } from 'restmass'
 * const mount = { stiffness: 1e4, relaxations: [{ stiffness: 3e4, time: 0.05 }] }
 * dynamicStiffness(mount, [0, 10]).re[0] // 10000
 */
export function dynamicStiffness(mount: Mount, frequencies: readonly number[] | Float64Array): ComplexSeries {
  const scope = scopeOf('dynamicStiffness')
  const checked = checkMount(within(scope, 'mount'), mount, 'surge-kept')
  const frequency = checkGrid(scope, 'frequencies', frequencies, { unit: 'Hz', atLeast: 0 })
  const re = new Float64Array(frequency.length)
  const im = new Float64Array(frequency.length)
  for (let k = 0; k < frequency.length; k++) {
    const K = stiffnessAt(checked, 2 * Math.PI * (frequency[k] as number))
    re[k] = finiteResult(scope, 'stiffness', K.re)
    im[k] = finiteResult(scope, 'stiffness', K.im)
  }
  return { kind: 'ComplexSeries', frequency, re, im }
}

/** K(jω) at one angular frequency [rad/s]. */
export function stiffnessAt(mount: CanonicalMount, omega: number): { re: number; im: number } {
  let re = mount.stiffness
  let im = mount.damping * omega
  for (const { stiffness, time } of mount.relaxations) {
    const branch = relaxationAt(omega * time)
    re += stiffness * branch.re
    im += stiffness * branch.im
  }
  for (const mode of surgeModes(mount)) {
    // Force on the upper end, held fast, per motion of the lower: upper·lower·s·mω²/(s − mω²), s = stiffness + jω·damping.
    const inertia = mode.mass * omega * omega
    const [s, loss] = [mode.stiffness, mode.damping * omega]
    const [rest, size] = [s - inertia, (s - inertia) ** 2 + loss ** 2]
    const factor = (mode.upper * mode.lower * inertia) / size
    re += factor * (s * rest + loss * loss)
    im += factor * (loss * rest - s * loss)
  }
  return { re, im }
}

/** jx / (1 + jx) for x = ωτ ≥ 0, without overflow in x². */
export function relaxationAt(x: number): { re: number; im: number } {
  if (x > 1) return { re: 1 / (1 + 1 / x / x), im: 1 / (x + 1 / x) }
  return { re: (x * x) / (1 + x * x), im: x / (1 + x * x) }
}
