import { must, type Scope } from '../internal/check.js'
import { type Dense, multiply, transpose, zeros } from '../linear/dense.js'
import { eigenvalues } from '../linear/eigenvalues.js'
import { symmetricEigen } from '../linear/symmetric-eigen.js'
import type { ForceLine } from './rigid-payload-lines.js'
import type { RigidMode } from './rigid-payload-types.js'
import { dot } from './vectors.js'

/** Part of the kinetic energy from which on a motion counts in the name. */
const noticeable = 0.05

/** Undamped modes of M and K: ω² [rad²/s²], ascending, and shapes with modal mass 1 as columns. */
export function undampedModes(
  scope: Scope,
  M: Dense,
  K: Dense,
): { readonly squares: Float64Array; readonly shapes: Dense } {
  const { values, vectors } = symmetricEigen(scope, M)
  const scaled: Dense = { ...vectors, data: vectors.data.map((value, i) => value / Math.sqrt(values[i % M.rows])) }
  const root = multiply(scaled, transpose(vectors))
  const eigen = symmetricEigen(scope, multiply(root, multiply(K, root)))
  return { squares: eigen.values, shapes: multiply(root, eigen.vectors) }
}

/** Modes with names and damping ratios, for motion given at the centre of mass. */
export function payloadModes(scope: Scope, M: Dense, K: Dense, lines: readonly ForceLine[]): RigidMode[] {
  const { squares, shapes } = undampedModes(scope, M, K)
  const momenta = multiply(M, shapes)
  const modes = Array.from(squares, (square, k) => {
    const shape = Array.from({ length: 6 }, (_, i) => shapes.data[i * 6 + k])
    const energy = shape.map((value, i) => value * momenta.data[i * 6 + k])
    const largest = energy.indexOf(Math.max(...energy))
    const sign = shape[largest] < 0 ? -1 : 1
    return {
      name: nameOf(energy),
      frequency: square > 0 ? Math.sqrt(square) / (2 * Math.PI) : null,
      dampingRatio: square > 0 ? dampingRatioOf(scope, square, shape, lines) : null,
      shape: shape.map((value) => sign * value),
      energy,
    }
  })
  return modes.map((mode, k) => ({ ...mode, name: ranked(mode.name, k, modes) }))
}

/** What moves, rotations first: a rocking mode is named by its rotation. */
function nameOf(energy: readonly number[]): string {
  const moving = (names: readonly string[], from: number) => names.filter((_, i) => energy[from + i] >= noticeable)
  const tilts = moving(['x', 'y'], 3).join(' and ')
  const rotations = [...(tilts === '' ? [] : [`rocking about ${tilts}`]), ...moving(['yaw'], 5)].join(' and ')
  const level = moving(['x', 'y'], 0).join(' and ')
  const upright = moving(['vertical'], 2)
  const alone = level === '' ? '' : `along ${level}`
  if (rotations === '') return [alone, ...upright].filter((name) => name !== '').join(' and ')
  const beside = [level, ...upright].filter((name) => name !== '').join(' and ')
  return beside === '' ? rotations : `${rotations} with ${beside}`
}

/** Two modes of the same motions are told apart by their frequency. */
function ranked(name: string, k: number, modes: readonly { readonly name: string }[]): string {
  const alike = modes.flatMap((mode, i) => (mode.name === name ? [i] : []))
  if (alike.length === 1) return name
  return alike.length === 2 ? `${name} (${alike[0] === k ? 'lower' : 'upper'})` : `${name} (${alike.indexOf(k) + 1})`
}

/** −Re p/|p| of the pole of s² + ω² + Σ (row·shape)² (K(s) − K(0)); where it does not swing, Im K(jω) over 2ω². */
function dampingRatioOf(scope: Scope, square: number, shape: readonly number[], lines: readonly ForceLine[]): number {
  let dashpot = 0
  const branches = new Map<number, number>()
  for (const { row, law } of lines) {
    const part = dot(row, shape) ** 2
    dashpot += part * law.damping
    for (const { stiffness, time } of law.relaxations) branches.set(time, (branches.get(time) ?? 0) + part * stiffness)
  }
  const times = [...branches.entries()].filter(([, stiffness]) => stiffness !== 0)
  if (dashpot === 0 && times.length === 0) return 0
  const n = 2 + times.length
  const A = zeros(n, n)
  A.data[1] = 1
  A.data[n] = -square
  A.data[n + 1] = -dashpot
  times.forEach(([time, stiffness], k) => {
    A.data[n + 2 + k] = -1
    A.data[(2 + k) * n + 1] = stiffness
    A.data[(2 + k) * n + 2 + k] = -1 / time
  })
  const found = must(eigenvalues(A), 'no-convergence', scope, 'has a mode whose damping cannot be computed')
  const swinging = found.im.indexOf(Math.max(...found.im))
  if (found.im[swinging] > 0) {
    return -found.re[swinging] / Math.hypot(found.re[swinging], found.im[swinging])
  }
  const omega = Math.sqrt(square)
  const loss = times.reduce((sum, [time, k]) => sum + (k * omega * time) / (1 + (omega * time) ** 2), dashpot * omega)
  return loss / (2 * square)
}
