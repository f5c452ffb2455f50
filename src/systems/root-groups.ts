import { hypotenuse } from '../linear/hypotenuse.js'
import type { Zero } from './zeros.js'

/** At most two poles, real or conjugate, and the zeros that go with them. */
export interface RootGroup {
  readonly poles: readonly Zero[]
  readonly zeros: readonly Zero[]
}

/** Poles grouped in pairs, each with the zeros nearest to it: from the pair closest to the unit circle on, which comes last.
 *
 * There are at most as many zeros as poles; a group with fewer zeros than poles has the rest at infinity. An odd number of
 * real poles leaves one on its own. */
export function rootGroups(poles: readonly Zero[], zeros: readonly Zero[]): RootGroup[] {
  const left = { poles: [...poles], zeros: withDoubles(zeros) }
  const groups: RootGroup[] = []
  while (left.poles.length > 0) {
    const first = takeBest(left.poles, () => true, fromCircle)
    const second = partner(left.poles, first, fromCircle)
    const pair = second === null ? [first] : [first, second]
    groups.push({ poles: pair, zeros: nearestZeros(left, pair) })
  }
  return groups.length === 0 ? [{ poles: [], zeros: [] }] : groups.reverse()
}

/** Zeros of which two that rounding has split lie on one place of the real axis again. A double zero, as the bilinear rule puts
 * at −1, comes out as two of them about the root of rounding apart, side by side or as a conjugate pair by chance. */
function withDoubles(zeros: readonly Zero[]): Zero[] {
  const isSplit = (a: Zero, b: Zero) =>
    a.im === -b.im && hypotenuse(a.re - b.re, a.im - b.im) <= 1e-7 * hypotenuse(a.re - 1, a.im)
  const result = [...zeros]
  zeros.forEach((a, i) => {
    const j = zeros.findIndex((b, k) => k > i && isSplit(a, b) && result[k] === b)
    if (j > 0 && result[i] === a) result[i] = result[j] = { re: (a.re + zeros[j].re) / 2, im: 0 }
  })
  return result
}

/** Distance of a root from the unit circle. */
function fromCircle({ re, im }: Zero): number {
  return Math.abs(1 - hypotenuse(re, im))
}

/** Takes out of the list the root of least cost among those wanted. */
function takeBest(list: Zero[], wanted: (root: Zero) => boolean, cost: (root: Zero) => number): Zero {
  let best = -1
  list.forEach((root, k) => {
    if (wanted(root) && (best < 0 || cost(root) < cost(list[best]))) best = k
  })
  return list.splice(best, 1)[0]
}

/** Takes the conjugate of a root, or for a real one the best other real one; null where there is none. */
function partner(list: Zero[], root: Zero, cost: (root: Zero) => number): Zero | null {
  if (root.im !== 0) {
    return takeBest(
      list,
      ({ im }) => im !== 0,
      ({ re, im }) => hypotenuse(re - root.re, im + root.im),
    )
  }
  return list.some(isReal) ? takeBest(list, isReal, cost) : null
}

/** Takes the zeros for a pair of poles; those left must still suffice for the poles left, one real zero for a real pole alone. */
function nearestZeros(left: { poles: Zero[]; zeros: Zero[] }, pair: readonly Zero[]): Zero[] {
  const { zeros } = left
  const distance = ({ re, im }: Zero) => hypotenuse(re - pair[0].re, im - pair[0].im)
  const atInfinity = left.poles.length + pair.length - zeros.length
  const reals = zeros.filter(isReal).length + atInfinity
  if (zeros.length === 0) return []
  if (pair.length === 1) return zeros.some(isReal) ? [takeBest(zeros, isReal, distance)] : []
  const first = takeBest(zeros, (root) => !isReal(root) || reals >= 2, distance)
  const second = partner(zeros, first, distance)
  return second === null ? [first] : [first, second]
}

function isReal({ im }: Zero): boolean {
  return im === 0
}
