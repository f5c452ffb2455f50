import { checkMount } from '../elements/check-mount.js'
import { dynamicStiffness } from '../elements/dynamic-stiffness.js'
import type { Mount } from '../elements/types.js'
import { checkOptions, scopeOf, within } from '../internal/check.js'
import { checkMotion } from '../vibration/check.js'
import { convertSpectrum } from '../vibration/convert-spectrum.js'
import { scaledDensity } from '../vibration/scaled-density.js'
import type { Spectrum, SpectrumLiteral } from '../vibration/types.js'

/** Options of {@link lineForce}. */
export interface LineForceOptions {
  /** The cable or hose between payload and far end, as a mount */
  readonly line: Mount
  /** Motion of the far end of the line, as of a pump: acceleration, velocity or displacement */
  readonly motion: Spectrum | SpectrumLiteral
}

/** Force of a vibrating cable or hose on a payload at rest, as a spectrum to be given as `payloadForce`.
 *
 * S_F = |K|²·S_x, with the stiffness K of the line. The line is part of the suspension too: set it beside the mounts with
 * `mountsInParallel`, or the model isolates better than the machine. Its stiffness is best kept below a tenth of that of the
 * mounts. A line that is also clamped to the floor carries the motion of the floor through its own stiffness, and this
 * function only what its far end does on top.
 * @param options - see {@link LineForceOptions}
 * @returns a force spectrum [N²/Hz]; without the line at 0 Hz unless a displacement was given
 * @throws {@link IsolationError} `invalid-option`, also for a spectrum that is no motion; `out-of-range`, `not-finite`,
 * `dimension-mismatch`
 * @source derived: the force that a massless line moved at one end exerts on a fixed one
 * @example
 * import { lineForce, rms } from 'restmass'
 * const motion = { quantity: 'displacement', frequency: [49, 51], density: [1e-14, 1e-14] } as const
 * rms(lineForce({ line: { stiffness: 18e3 }, motion })) // 2.5456e-3
 */
export function lineForce(options: LineForceOptions): Spectrum {
  const scope = scopeOf('lineForce')
  checkOptions(scope, options, ['line', 'motion'])
  const at = within(scope, 'motion')
  const motion = convertSpectrum(checkMotion(at, options.motion), { to: 'displacement' })
  const K = dynamicStiffness(checkMount(within(scope, 'line'), options.line, 'surge-kept'), motion.frequency)
  return scaledDensity(at, motion, 'force', (_, k) => Math.hypot(K.re[k], K.im[k]))
}
