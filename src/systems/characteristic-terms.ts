import { fail, must, type Scope } from '../internal/check.js'
import { type ComplexDense, complexLu, complexZeros, determinantAngle } from '../linear/complex-lu.js'
import type { Eigenvalues } from '../linear/eigenvalues.js'
import { hypotenuse } from '../linear/hypotenuse.js'
import { type ResponseKernel, responseKernel } from '../linear/response-kernel.js'
import { denseSystem } from './dense-system.js'
import { polesOf } from './eigenvalues-of.js'
import type { StateSpace } from './types.js'
import { scaledZeros } from './zeros.js'

/** det(I − e^(−sτ) P(s)) = 1 + Σ c_S(s) over the sets S of delays, c_S = ± e^(−s τ_S) det P_SS, where P is the transfer between the
 * delays of a system: it has the zeros of the characteristic function, and poles where the system with its delays cut has them. */
export interface CharacteristicSum {
  /** Poles of every term [rad/s] */
  readonly poles: Eigenvalues
  readonly terms: readonly CharacteristicTerm[]
  /** Values at s = re + j·im; null at a pole. They are reused by the next call */
  at(re: number, im: number): CharacteristicSample | null
}

/** One term of the sum, which may lack some of the common poles by having zeros there. */
export interface CharacteristicTerm {
  /** Its delays, by number */
  readonly set: readonly number[]
  /** Sum of its delays [s] */
  readonly seconds: number
  readonly zeros: Eigenvalues
  /** det P_SS over the product of its roots */
  readonly gain: Polar
}

/** What a {@link CharacteristicSum} is at one s. */
export interface CharacteristicSample {
  re: number
  im: number
  /** The sum, 1 included */
  readonly value: { re: number; im: number }
  /** Each term, and what its modulus is at most: more than it seems where it is faint */
  readonly terms: readonly { re: number; im: number; size: number }[]
}

/** Delays in loops with each other that can be judged: the number of terms doubles with each. */
const mostDelays = 8
/** Share of its largest possible value below which a determinant vanishes but for rounding. */
const vanishing = 1e-11

const noRoots = 'could not find the roots between the delays'

/** Modulus of a transfer below which any such value will do, beside the 1 that it is added to. */
const faint = 1e-3

/** The terms of a system whose inputs are the delayed signals and whose outputs go into the delays. */
export function characteristicSum(scope: Scope, inner: StateSpace, seconds: readonly number[]): CharacteristicSum {
  const d = seconds.length
  if (d > mostDelays)
    fail('unsupported', scope, `cannot judge ${d} delays in loops with each other, at most ${mostDelays}`)
  const kernel = responseKernel(denseSystem(inner))
  const poles = polesOf(scope, kernel)
  const sets = Array.from({ length: 2 ** d - 1 }, (_, k) => seconds.flatMap((__, i) => (((k + 1) >> i) & 1 ? [i] : [])))
  const probes = probePlaces(poles, seconds)
  const terms = sets.flatMap((set) => {
    const zeros = must(scaledZeros(subsystem(inner, set)), 'no-convergence', scope, noRoots)
    const gain = gainOf(kernel, d, set, probes, zeros, poles)
    return gain === null ? [] : [{ set, seconds: set.reduce((sum, i) => sum + seconds[i], 0), zeros, gain }]
  })
  const sample: CharacteristicSample = {
    re: 0,
    im: 0,
    value: { re: 1, im: 0 },
    terms: terms.map(() => ({ re: 0, im: 0, size: 0 })),
  }
  const at = (re: number, im: number): CharacteristicSample | null => {
    const response = kernel.at(re, im, faint)
    if (response === null) return null
    sample.re = re
    sample.im = im
    sample.value.re = 1
    sample.value.im = 0
    for (let k = 0; k < terms.length; k++) {
      const { set, seconds: tau, zeros, gain } = terms[k]
      const term = sample.terms[k]
      // A single transfer is known from the response, to rounding; a determinant of several would cancel close to a pole.
      if (set.length === 1) {
        const growth = Math.exp(-re * tau)
        const cos = growth * Math.cos(im * tau)
        const sin = growth * Math.sin(im * tau)
        const x = -response.re[set[0] * (d + 1)]
        const y = -response.im[set[0] * (d + 1)]
        term.re = x * cos + y * sin
        term.im = y * cos - x * sin
        term.size = growth * Math.max(hypotenuse(x, y), faint)
      } else {
        const roots = rootProduct(zeros, poles, re, im)
        const angle = roots.angle + gain.angle - im * tau + (set.length % 2 === 0 ? 0 : Math.PI)
        term.size = Math.exp(roots.logarithm + gain.logarithm - re * tau)
        term.re = term.size * Math.cos(angle)
        term.im = term.size * Math.sin(angle)
      }
      sample.value.re += term.re
      sample.value.im += term.im
    }
    return sample
  }
  return { poles, terms, at }
}

/** A complex number by the logarithm of its modulus and its angle, which neither overflow. */
export interface Polar {
  readonly logarithm: number
  readonly angle: number
}

function polar(re: number, im: number): Polar {
  return { logarithm: Math.log(hypotenuse(re, im)), angle: Math.atan2(im, re) }
}

/** Π (s − z)/Π (s − p) */
function rootProduct(zeros: Eigenvalues, poles: Eigenvalues, re: number, im: number): Polar {
  let [logarithm, angle] = [0, 0]
  for (const [roots, sign] of [
    [zeros, 1],
    [poles, -1],
  ] as const) {
    for (let k = 0; k < roots.re.length; k++) {
      const factor = polar(re - roots.re[k], im - roots.im[k])
      logarithm += sign * factor.logarithm
      angle += sign * factor.angle
    }
  }
  return { logarithm, angle }
}

/** det P_SS over the product of its roots, from where it is best seen; null where it vanishes everywhere. */
function gainOf(
  kernel: ResponseKernel,
  d: number,
  set: readonly number[],
  probes: readonly { re: number; im: number }[],
  zeros: Eigenvalues,
  poles: Eigenvalues,
): Polar | null {
  let best: Polar | null = null
  let clearest = vanishing
  for (const { re, im } of probes) {
    const response = kernel.at(re, im)
    if (response === null) continue
    const { share, ...found } = determinant(response, d, set)
    if (!(share > clearest)) continue
    clearest = share
    const product = rootProduct(zeros, poles, re, im)
    best = { logarithm: found.logarithm - product.logarithm, angle: found.angle - product.angle }
  }
  return best
}

/** det P_SS, and its modulus as a share of the product of the lengths of its rows. */
function determinant(response: ComplexDense, d: number, set: readonly number[]): Polar & { share: number } {
  const size = set.length
  const M = complexZeros(size, size)
  let rows = 0
  for (let i = 0; i < size; i++) {
    let length = 0
    for (let j = 0; j < size; j++) {
      const from = set[i] * d + set[j]
      M.re[i * size + j] = response.re[from]
      M.im[i * size + j] = response.im[from]
      length = Math.hypot(length, response.re[from], response.im[from])
    }
    rows += Math.log(length)
  }
  const lu = complexLu(M)
  let logarithm = 0
  for (let k = 0; k < size; k++) logarithm += polar(lu.re[k * (size + 1)], lu.im[k * (size + 1)]).logarithm
  return { logarithm, angle: determinantAngle(lu), share: Math.exp(logarithm - rows) }
}

/** Places away from all roots, from the slowest to the fastest pole. */
function probePlaces({ re, im }: Eigenvalues, seconds: readonly number[]): { re: number; im: number }[] {
  const sizes = [...Array.from(re, (real, k) => hypotenuse(real, im[k])), ...seconds.map((tau) => 1 / tau)]
  const nonzero = sizes.filter((size) => size > 0)
  const [slowest, fastest] = [Math.min(...nonzero), Math.max(...nonzero)]
  return [0.3 * slowest, Math.sqrt(slowest) * Math.sqrt(fastest), 3 * fastest].map((size) => ({
    re: 0.6 * size,
    im: 0.8 * size,
  }))
}

function subsystem(inner: StateSpace, set: readonly number[]): StateSpace {
  return {
    ...inner,
    B: inner.B.map((row) => set.map((i) => row[i])),
    C: set.map((i) => inner.C[i]),
    D: set.map((i) => set.map((j) => inner.D[i][j])),
    inputs: set.map((i) => inner.inputs[i]),
    outputs: set.map((i) => inner.outputs[i]),
  }
}
