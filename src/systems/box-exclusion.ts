import { type Complex, complexTimes } from '../linear/complex.js'
import { hullDistance } from '../linear/hull-distance.js'
import { beyond, departure, type Member, polynomialAt } from './box-family.js'

/** Systems at the nodes of a box of parameters, between which every N_S and every delay is affine in each coordinate. */
export interface BoxFamily {
  /** The system at `nodes` in each coordinate, which goes from 0 to 1, the second one where the bit of the coordinate is set */
  readonly members: readonly Member[]
  readonly sizes: readonly number[]
}

/** A part of the box. */
export interface Part {
  readonly from: readonly number[]
  readonly to: readonly number[]
}

/** Where the systems of a family are known: inside of the box, since at an end such as a delay of 0 the form may change. */
export const nodes: readonly [number, number] = [0.125, 0.875]

/** Share of the largest value within which nothing is said: more than what roots are known to and affinity is tested to. */
const reserve = 1e-6
const mostSteps = 20_000

/** What is known of a family at jω: value and derivative of N_S by [S][member]. */
interface Sample {
  readonly omega: number
  readonly parts: readonly { re: number[]; im: number[]; slopeRe: number[]; slopeIm: number[] }[]
}

/** Frequency [rad/s] at which 0 could not be kept away from the characteristic functions of a part of the box; null where all of
 * them are proven not to vanish on the imaginary axis, nor right of it beyond all bounds.
 *
 * f is affine in each coordinate and in each e^(−jωτ), so that its values lie in the convex hull of those at the ends of the
 * coordinates and the corners of polygons about the arcs of e^(−jωτ). From each frequency a step is taken over which the hull of
 * values and tangents keeps further from 0 than the values depart from their tangents.
 * @param suspect - frequency to look at first [rad/s]
 * @source L. A. Zadeh, C. A. Desoer, Linear System Theory, 1963, section 9.17 (mapping theorem); step and polygons derived */
export function notExcluded(family: BoxFamily, part: Part, suspect: number): number | null {
  if (!keepsAway(family, sampleAt(family, suspect), part, 0)) return suspect
  const [slowest, fastest] = [family.sizes[0] ?? 1, family.sizes[family.sizes.length - 1] ?? 1]
  let omega = 0
  let step = slowest
  for (let k = 0; k < mostSteps; k++) {
    const sample = sampleAt(family, omega)
    if (omega >= fastest && isTail(family, part, omega)) return null
    step *= 4
    while (!keepsAway(family, sample, part, step)) {
      step /= 2
      if (step < 1e-9 * (omega + slowest)) return omega
    }
    omega += step
  }
  return omega
}

/** The coordinate along which f moves most at jω. */
export function widestCoordinate(family: BoxFamily, { from, to }: Part, omega: number): number {
  const sample = sampleAt(family, omega)
  const middle = from.map((value, k) => (value + to[k]) / 2)
  const moved = middle.map((_, k) => {
    const [a, b] = [from, to].map((ends) => {
      const at = middle.map((value, other) => (other === k ? ends[k] : value))
      return pointsOf(family, sample, { from: at, to: at }, 0)
    })
    return Math.hypot(a.re[0] - b.re[0], a.im[0] - b.im[0])
  })
  return moved.indexOf(Math.max(...moved))
}

function sampleAt({ members, sizes }: BoxFamily, omega: number): Sample {
  const parts = members[0].polynomials.map((_, set) => {
    const values = members.map(({ polynomials }) => polynomialAt(polynomials[set], omega, sizes))
    return {
      re: values.map(({ re }) => re),
      im: values.map(({ im }) => im),
      slopeRe: values.map(({ slopeRe }) => slopeRe),
      slopeIm: values.map(({ slopeIm }) => slopeIm),
    }
  })
  return { omega, parts }
}

function keepsAway(family: BoxFamily, sample: Sample, part: Part, step: number): boolean {
  const { re, im, departs, largest } = pointsOf(family, sample, part, step)
  return hullDistance(re, im) > departs + reserve * largest
}

/** Values whose hull holds f over a part and over a step, but for what `departs` says. */
function pointsOf(family: BoxFamily, { omega, parts }: Sample, part: Part, step: number) {
  const { members, sizes } = family
  const delays = delaysOver(family, part, omega + step)
  const terms = parts.flatMap((values, set) => {
    if (members.every(({ polynomials }) => polynomials[set] === null)) return []
    const own = delays.filter((_, k) => (set >> k) & 1)
    const seconds = own.reduce((sum, { least }) => sum + least, 0)
    const ends = (list: readonly number[]) => interpolated(list, part, false)
    const [re, im, sr, si] = [ends(values.re), ends(values.im), ends(values.slopeRe), ends(values.slopeIm)]
    const [cos, sin] = [Math.cos(omega * seconds), -Math.sin(omega * seconds)]
    const value = re.map((x, v) => ({ re: x * cos - im[v] * sin, im: x * sin + im[v] * cos }))
    // (N e^(−jωτ))′ = N′ e^(−jωτ) − jτ N e^(−jωτ)
    const slope = value.map((f, v) => ({
      re: sr[v] * cos - si[v] * sin + seconds * f.im,
      im: sr[v] * sin + si[v] * cos - seconds * f.re,
    }))
    const bound = own.reduce((product, { reach }) => product * reach, 1)
    const bends =
      step === 0
        ? value.map(() => 0)
        : interpolated(
            members.map(({ polynomials }) => departure(polynomials[set], omega, sizes, seconds, step)),
            part,
            true,
          )
    return [{ set, value, slope, bends: bends.map((bend) => bound * bend) }]
  })
  const re: number[] = []
  const im: number[] = []
  let [departs, largest] = [0, 0]
  const factors = combinations(delays.map(({ corners }) => corners))
  for (let v = 0; v < members.length; v++) {
    departs = Math.max(
      departs,
      terms.reduce((sum, { bends }) => sum + bends[v], 0),
    )
    for (const chosen of factors) {
      const f = { re: 0, im: 0, slopeRe: 0, slopeIm: 0 }
      for (const { set, value, slope } of terms) {
        const d = chosen.reduce((product, factor, k) => ((set >> k) & 1 ? complexTimes(product, factor) : product), one)
        const [a, b] = [complexTimes(value[v], d), complexTimes(slope[v], d)]
        f.re += a.re
        f.im += a.im
        f.slopeRe += b.re
        f.slopeIm += b.im
        largest = Math.max(largest, Math.hypot(a.re, a.im))
      }
      re.push(f.re)
      im.push(f.im)
      if (step > 0) {
        re.push(f.re + step * f.slopeRe)
        im.push(f.im + step * f.slopeIm)
      }
    }
  }
  return { re, im, departs, largest }
}

const one: Complex = { re: 1, im: 0 }

/** Per delay its least value over a part [s], and the corners of a polygon about e^(−jωx), x from 0 to what it is longer, for all
 * ω up to `omega`; `reach` is their largest modulus. */
function delaysOver({ members }: BoxFamily, part: Part, omega: number) {
  return members[0].seconds.map((first, k) => {
    const given = members.map(({ seconds }) => seconds[k])
    if (given.every((value) => value === first)) return { least: first, corners: [one], reach: 1 }
    const ends = interpolated(given, part, false)
    const least = Math.max(0, Math.min(...ends))
    const turn = omega * (Math.max(...ends) - least)
    // Two ends and where their tangents meet; a square about the circle for an arc that is too long for that.
    if (turn > 2) {
      return { least, corners: [1, -1].flatMap((a) => [1, -1].map((b) => ({ re: a, im: b }))), reach: Math.SQRT2 }
    }
    const tip = 1 / Math.cos(turn / 2)
    const end = { re: Math.cos(turn), im: -Math.sin(turn) }
    return { least, corners: [one, end, { re: 1, im: -Math.tan(turn / 2) }], reach: tip }
  })
}

/** Values at the corners of a part, from those at the nodes; `bounds` adds moduli up instead. */
export function interpolated(values: readonly number[], { from, to }: Part, bounds: boolean): number[] {
  const result = Array.from(values)
  from.forEach((_, k) => {
    const bit = 1 << k
    const weights = [from[k], to[k]].map((t) => (t - nodes[0]) / (nodes[1] - nodes[0]))
    for (let v = 0; v < result.length; v++) {
      if (v & bit) continue
      const [a, b] = [result[v], result[v | bit]]
      const at = (w: number) => (bounds ? Math.abs(1 - w) * a + Math.abs(w) * b : (1 - w) * a + w * b)
      result[v] = at(weights[0])
      result[v | bit] = at(weights[1])
    }
  })
  return result
}

/** Whether f cannot vanish from ω up, on the axis or right of it, since its leading polynomial outweighs all else. */
function isTail({ members, sizes }: BoxFamily, part: Part, omega: number): boolean {
  const bounds = members.map(({ polynomials }) =>
    polynomials.reduce((sum, polynomial, set) => sum + beyond(polynomial, omega, sizes, set === 0), 0),
  )
  return Math.max(...interpolated(bounds, part, true)) <= 0.9
}

function combinations(lists: readonly (readonly Complex[])[]): Complex[][] {
  return lists.reduce<Complex[][]>((found, list) => found.flatMap((row) => list.map((entry) => [...row, entry])), [[]])
}
