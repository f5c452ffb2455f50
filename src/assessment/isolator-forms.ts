/** Named forms of transmissibility that can be fitted without a model. */
export type IsolatorForm = 'viscous' | 'relaxation' | 'activelyDamped'

/** Parameters of each form; all above 0. */
export const formParameters: Readonly<Record<IsolatorForm, readonly string[]>> = {
  viscous: ['naturalFrequency', 'dampingRatio'],
  relaxation: ['naturalFrequency', 'dampingRatio', 'stiffnessRatio'],
  activelyDamped: ['naturalFrequency', 'dampingRatio', 'activeDampingRatio'],
}

/** Values from which a fit looks for its start, beside the natural frequency. */
export const formStarts: Readonly<Record<IsolatorForm, readonly (readonly number[])[]>> = {
  viscous: [[0.005, 0.02, 0.06, 0.2, 0.6]],
  relaxation: [
    [0.05, 0.2, 0.6, 1.5],
    [0.5, 3, 12],
  ],
  activelyDamped: [
    [0.005, 0.03, 0.15],
    [0.05, 0.3, 1],
  ],
}

/** Transmissibility of a form at frequencies [Hz], with r = f/f0:
 *
 * viscous (1 + 2jζr)/(1 − r² + 2jζr); relaxation K/(K − r²) with K = 1 + 2jζNr/(N + 2jζr); actively damped
 * (1 + 2jζr)/(1 − r² + 2j(ζ + ζ_a)r).
 */
export function formResponse(
  form: IsolatorForm,
  [naturalFrequency, damping, third]: ArrayLike<number> & Iterable<number>,
  frequency: Float64Array,
): { re: Float64Array; im: Float64Array } {
  const re = new Float64Array(frequency.length)
  const im = new Float64Array(frequency.length)
  frequency.forEach((f, k) => {
    const r = f / naturalFrequency
    const x = 2 * damping * r
    // Relaxation: K = 1 + jNx/(N + jx).
    const scale = form === 'relaxation' ? (third * x) / (third * third + x * x) : 0
    const upRe = form === 'relaxation' ? 1 + scale * x : 1
    const upIm = form === 'relaxation' ? scale * third : x
    const downRe = upRe - r * r
    const downIm = form === 'activelyDamped' ? upIm + 2 * third * r : upIm
    const size = downRe * downRe + downIm * downIm
    re[k] = (upRe * downRe + upIm * downIm) / size
    im[k] = (upIm * downRe - upRe * downIm) / size
  })
  return { re, im }
}
