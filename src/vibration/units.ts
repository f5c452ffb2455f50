/** Factors from units of the trade to SI units, for {@link record} and for scaling by hand.
 *
 * A density takes the square: S [(µg)²/Hz] · `microgravity`² is in (m/s²)²/Hz, an amplitude density the factor itself. g is the
 * standard 9.80665 m/s², and an inch is 0.0254 m.
 * @source BIPM, The International System of Units, 9th edition 2019 (standard gravity); International yard and pound agreement,
 * 1959 (inch)
 * @example
 * import { units } from 'restmass'
 * 250 * units.microinchPerSecond // 6.35e-6
 */
export const units = {
  /** [m/s²] */
  gravity: 9.80665,
  /** [m/s²] */
  milligravity: 9.80665e-3,
  /** [m/s²] */
  microgravity: 9.80665e-6,
  /** [m/s²] one cm/s² */
  gal: 1e-2,
  /** [m/s] */
  millimetrePerSecond: 1e-3,
  /** [m/s] */
  micrometrePerSecond: 1e-6,
  /** [m/s] */
  inchPerSecond: 0.0254,
  /** [m/s] */
  microinchPerSecond: 2.54e-8,
  /** [m] */
  micrometre: 1e-6,
  /** [m] */
  nanometre: 1e-9,
  /** [m] a thousandth of an inch */
  mil: 2.54e-5,
} as const
