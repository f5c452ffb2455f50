import { must, type Scope } from '../internal/check.js'
import { type Dense, denseFrom } from '../linear/dense.js'
import { solve } from '../linear/solve.js'
import { symmetricEigen } from '../linear/symmetric-eigen.js'
import { assembled, type ForceLine } from './rigid-payload-lines.js'
import type { CheckedSupport } from './rigid-payload-options.js'
import type { TiltStiffness, Tipping } from './rigid-payload-types.js'
import type { Carrier } from './support-loads.js'

/** Stiffness against slow motion: air springs isothermal, those with a common valve as one at their middle. */
export function slowStiffness(
  supports: readonly CheckedSupport[],
  lines: readonly ForceLine[],
  carriers: readonly Carrier[],
): Dense {
  const pooled = carriers.filter(({ members }) => members.length > 1)
  const shared = new Set(pooled.flatMap(({ members }) => members.map(({ index }) => index)))
  const own = lines.map(({ law, support, axial }) => {
    if (!axial) return law.stiffness
    const { air } = supports[support]
    const whole = air?.staticStiffness ?? law.stiffness
    return shared.has(support) ? whole - slowGas(supports[support]) : whole
  })
  const axes = lines.filter(({ axial }) => axial)
  const groups = pooled.map(({ members }) => {
    const area = (index: number) => supportPart(supports[index])
    const total = members.reduce((sum, { index }) => sum + area(index), 0)
    const give = members.reduce((sum, { index }) => sum + area(index) ** 2 / slowGas(supports[index]), 0)
    const row = [0, 1, 2, 3, 4, 5].map((k) => members.reduce((sum, m) => sum + m.part * axes[m.index].row[k], 0))
    return { row, value: total ** 2 / give }
  })
  return assembled(
    [...lines.map(({ row }) => row), ...groups.map(({ row }) => row)],
    [...own, ...groups.map((g) => g.value)],
  )
}

/** Weight of a support within its group: pressure times area, or for lack of an area its stiffness. */
export function supportPart({ air, laws }: CheckedSupport): number {
  return air?.area ?? laws[2].stiffness
}

/** Slow stiffness that a common valve lets flow away [N/m]. */
function slowGas({ air, laws }: CheckedSupport): number {
  if (air === null) return laws[2].stiffness
  return air.heatExchange === null ? air.gas.stiffness / air.polytropicExponent : air.gas.stiffness
}

/** Whether a weight [N] stands on `slow`, its centre of mass `height` over the supports. */
export function tippingOf(scope: Scope, weight: number, height: number, slow: Dense, fast: Dense): Tipping {
  const [atRest, inVibration] = [tiltStiffness(scope, slow), tiltStiffness(scope, fast)]
  const gravityStiffness = weight * height
  const margin = atRest.weakest - gravityStiffness
  const limit = ({ weakest }: TiltStiffness) => (weight > 0 ? weakest / weight : null)
  return {
    verdict: margin > 1e-12 * Math.abs(gravityStiffness) ? 'stands' : 'tips',
    height,
    gravityStiffness,
    slow: atRest,
    fast: inVibration,
    margin,
    heightLimit: limit(atRest),
    fastHeightLimit: limit(inVibration),
  }
}

/** Stiffness against tilt with all other axes free to follow: the Schur complement on the rotations about x and y. */
function tiltStiffness(scope: Scope, K: Dense): TiltStiffness {
  const part = (rows: readonly number[], columns: readonly number[]) =>
    denseFrom(
      rows.map((i) => columns.map((j) => K.data[i * 6 + j])),
      columns.length,
    )
  const [tilts, others] = [
    [3, 4],
    [0, 1, 2, 5],
  ]
  const follow = must(
    solve(part(others, others), part(others, tilts)),
    'singular',
    scope,
    'has an axis without stiffness',
  )
  const S = part(tilts, tilts)
  const across = part(tilts, others)
  for (let i = 0; i < 2; i++) {
    for (let j = 0; j < 2; j++) {
      for (let k = 0; k < 4; k++) S.data[i * 2 + j] -= across.data[i * 4 + k] * follow.data[k * 2 + j]
    }
  }
  const eigen = symmetricEigen(scope, S)
  return {
    aboutX: S.data[0],
    aboutY: S.data[3],
    weakest: eigen.values[0],
    axis: [eigen.vectors.data[0], eigen.vectors.data[2]],
  }
}
