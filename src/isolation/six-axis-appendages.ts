import { lineRow } from '../elements/rigid-payload-lines.js'
import { checkDirection, checkPoint } from '../elements/rigid-payload-options.js'
import type { Point } from '../elements/rigid-payload-types.js'
import { checkList, checkNumber, checkOptions, type Scope, within } from '../internal/check.js'
import { type Dense, zeros } from '../linear/dense.js'
import { angularFrequency } from '../systems/frequency-response.js'
import { numbered } from '../systems/numbered.js'
import type { StateSpace } from '../systems/types.js'
import { axes, sixNames } from './six-axis-ports.js'

/** A part of the payload on a spring and a dashpot, free to move along one direction. */
export interface SixAxisAppendage {
  /** Mass that moves [kg], above 0; it is part of `payload.mass`, inertia and centre of mass */
  readonly mass: number
  /** Natural frequency on a fixed payload [Hz], above 0 */
  readonly naturalFrequency: number
  /** Damping ratio on a fixed payload, at least 0 */
  readonly dampingRatio: number
  /** Where it is [m] */
  readonly position: Point
  /** Along which it moves; any length above 0 */
  readonly direction: Point
}

interface Part {
  readonly mass: number
  readonly stiffness: number
  readonly damping: number
  readonly row: readonly number[]
}

/** Appendages at a reference: their block, and what they take from the mass of the rigid body. */
export interface SixAxisAppendages {
  readonly block: StateSpace
  readonly mass: Dense
}

/** m w' = k q + c q', q' = row·v − w: the payload without that mass along its direction feels −(k q + c q'). The weight that
 * moves with q is left out, a small thing beside the spring. */
export function sixAxisAppendages(
  scope: Scope,
  list: readonly SixAxisAppendage[],
  reference: Point,
): SixAxisAppendages {
  const parts = checkList(scope, 'appendages', list, 1).map((given, i): Part => {
    const at = within(within(scope, 'appendages'), i)
    checkOptions(at, given, ['mass', 'naturalFrequency', 'dampingRatio', 'position', 'direction'])
    const mass = checkNumber(at, 'mass', given.mass, { unit: 'kg', above: 0 })
    const omega = angularFrequency(
      checkNumber(at, 'naturalFrequency', given.naturalFrequency, { unit: 'Hz', above: 0 }),
    )
    const dampingRatio = checkNumber(at, 'dampingRatio', given.dampingRatio, { atLeast: 0 })
    const direction = checkDirection(at, 'direction', given.direction)
    return {
      mass,
      stiffness: mass * omega ** 2,
      damping: 2 * dampingRatio * omega * mass,
      row: lineRow(checkPoint(at, 'position', given.position), direction, reference),
    }
  })
  const mass = zeros(6, 6)
  for (const { mass: m, row } of parts) {
    for (let i = 0; i < 6; i++) for (let j = 0; j < 6; j++) mass.data[6 * i + j] += m * row[i] * row[j]
  }
  return { block: blockOf(parts), mass }
}

function blockOf(parts: readonly Part[]): StateSpace {
  const states = parts.flatMap((_, i) => [`stretch${i + 1}`, `velocity${i + 1}`])
  const place = (i: number, pair: readonly [number, number]) =>
    parts.flatMap((_, k) => (k === i ? pair : ([0, 0] as const)))
  return {
    kind: 'StateSpace',
    A: parts.flatMap(({ mass, stiffness, damping }, i) => [
      place(i, [0, -1]),
      place(i, [stiffness / mass, -damping / mass]),
    ]),
    B: parts.flatMap(({ mass, damping, row }) => [[...row], row.map((value) => (damping / mass) * value)]),
    C: [
      ...axes.map((_, axis) =>
        parts.flatMap(({ stiffness, damping, row }) => [-stiffness * row[axis], damping * row[axis]]),
      ),
      ...parts.map((_, i) => place(i, [0, 1])),
    ],
    D: [
      ...axes.map((_, axis) =>
        axes.map((_axis, k) => parts.reduce((sum, { damping, row }) => sum - damping * row[axis] * row[k], 0)),
      ),
      ...parts.map(() => axes.map(() => 0)),
    ],
    inputs: sixNames('velocity'),
    outputs: [...sixNames('force'), ...numbered('velocity', parts)],
    states,
    delays: null,
  }
}
