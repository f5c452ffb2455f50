import { lineRow } from '../elements/rigid-payload-lines.js'
import type { Point } from '../elements/rigid-payload-types.js'
import type { Source } from '../systems/diagram.js'
import { gain } from '../systems/gain.js'
import type { Storey } from './model.js'
import { mapped, substitute } from './rewire.js'
import { axes, sixNames } from './six-axis-ports.js'

/** A storey whose floor is described at the reference of the storey beneath: velocities go up to its own, forces down. */
export function seated(lower: Storey, upper: Storey): Storey {
  if (lower.sixAxis === undefined || upper.sixAxis === undefined) return upper
  const up = transfer(upper.sixAxis.reference, lower.sixAxis.top)
  const { blocks, inputs, outputs, wires } = upper.diagram
  const ports = [...sixNames('velocity'), ...sixNames('force')]
  const none = axes.map(() => 0)
  const seat = gain(
    [...up.map((row) => [...row, ...none]), ...axes.map((_, i) => [...none, ...up.map((row) => row[i])])],
    { inputs: ports, outputs: ports },
  )
  const moved: Record<string, Source[]> = {}
  for (const axis of axes) moved[`floorVelocity${axis}`] = [`seat.velocity${axis}`]
  const above = mapped(outputs, (wire) => substitute(wire, moved))
  const seatWires = axes.flatMap((axis) => [
    [`seat.velocity${axis}`, `floorVelocity${axis}`],
    [`seat.force${axis}`, above[`floorForce${axis}`]],
  ])
  return {
    ...upper,
    diagram: {
      blocks: { ...blocks, seat },
      inputs,
      outputs: { ...above, ...Object.fromEntries(axes.map((axis) => [`floorForce${axis}`, `seat.force${axis}`])) },
      wires: { ...mapped(wires, (wire) => substitute(wire, moved)), ...Object.fromEntries(seatWires) },
    },
  }
}

/** Velocity at one place from that at another, 6 × 6; its transpose takes forces the other way. */
export function transfer(to: Point, from: Point): number[][] {
  return axes.map((_, i) => {
    const unit = axes.map((_axis, k) => (k === i ? 1 : 0))
    return i < 3 ? lineRow(to, unit.slice(0, 3), from) : unit
  })
}
