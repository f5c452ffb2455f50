import { balancingScales, scaleStates } from '../linear/balance.js'
import { type Dense, largest } from '../linear/dense.js'
import { diagonalBlocks } from '../linear/diagonal-blocks.js'
import type { Eigenvalues } from '../linear/eigenvalues.js'
import { hypotenuse } from '../linear/hypotenuse.js'
import { resolventSize } from '../linear/resolvent-size.js'

/** The imaginary axis, or the unit circle. */
export type StabilityBoundary = 'axis' | 'circle'

/** Eigenvalues farther from the boundary than this times the size of their block are never doubted. */
const doubtful = 1e-3
/** How much closer to the boundary an eigenvalue may be than others of its cluster. */
const clusterReach = 30

/** For each eigenvalue, whether rounding alone may keep it off the stability boundary.
 *
 * Rounding is 16 ε (64 ε on the circle) of the largest entry of the balanced diagonal block it belongs to. A pole on its own counts within
 * that distance; one in a cluster around a point of the boundary also where a change of the block by as much makes that point
 * an eigenvalue, since a k-fold pole is only known to ε^(1/k).
 * @param poles - of A, in the order of `eigenvalues` */
export function boundaryPoles(A: Dense, poles: Eigenvalues, boundary: StabilityBoundary): boolean[] {
  const found: boolean[] = []
  const place = boundary === 'axis' ? onAxis : onCircle
  for (const block of diagonalBlocks(A)) {
    const balanced = scaleStates(block, balancingScales(block))
    const size = boundary === 'axis' ? largest(balanced) : Math.max(1, largest(balanced))
    const rounding = (boundary === 'axis' ? 16 : 64) * Number.EPSILON * size
    let resolvent: ReturnType<typeof resolventSize> | null = null
    const [start, end] = [found.length, found.length + block.rows]
    for (let k = start; k < end; k++) {
      const nearest = place(poles.re[k], poles.im[k])
      const distance = hypotenuse(poles.re[k] - nearest.re, poles.im[k] - nearest.im)
      let counts = distance <= rounding
      if (!counts && distance < doubtful * size && inCluster(poles, k, start, end, nearest, distance)) {
        resolvent ??= resolventSize(balanced)
        counts = resolvent(nearest.re, nearest.im) * rounding >= 1
      }
      found.push(counts)
    }
  }
  return found
}

interface Place {
  readonly re: number
  readonly im: number
}

function onAxis(_: number, im: number): Place {
  return { re: 0, im }
}

function onCircle(re: number, im: number): Place {
  const size = hypotenuse(re, im)
  return size === 0 ? { re: 1, im: 0 } : { re: re / size, im: im / size }
}

function inCluster({ re, im }: Eigenvalues, self: number, start: number, end: number, at: Place, distance: number) {
  for (let k = start; k < end; k++) {
    if (k !== self && hypotenuse(re[k] - at.re, im[k] - at.im) <= clusterReach * distance) return true
  }
  return false
}
