import { dynamicStiffness, type Mount } from '../../../src/elements/index.js'

/** |T| and phase [degrees] of a mass on a mount, T = K/(K − m ω²), worked out here from K(jω) alone. */
export function transmissibilityOf(
  mount: Mount,
  mass: number,
  frequency: number,
): { modulus: number; degrees: number } {
  const K = dynamicStiffness(mount, [frequency])
  const re = K.re[0] as number
  const im = K.im[0] as number
  const rest = re - mass * (2 * Math.PI * frequency) ** 2
  const size = rest * rest + im * im
  const t = { re: (re * rest + im * im) / size, im: (im * rest - re * im) / size }
  return { modulus: Math.hypot(t.re, t.im), degrees: (Math.atan2(t.im, t.re) * 180) / Math.PI }
}
