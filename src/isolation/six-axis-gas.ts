import type { ForceLine } from '../elements/rigid-payload-lines.js'
import type { CheckedPayload } from '../elements/rigid-payload-options.js'
import type { Carrier } from '../elements/support-loads.js'
import type { AirSpring } from '../elements/types.js'
import { type Branch, weighted } from './six-axis-branches.js'

/** What an inflow does to the mounts. */
export interface GasDrive {
  /** Wrench per stretch that the valve adds */
  readonly pull: readonly number[]
  /** Stretch that the valve adds to each line per unit; only its branches feel it through this */
  readonly rates: readonly number[]
}

/** One valve lets the same volume flow into each of its springs. */
export function gasOf(payload: CheckedPayload, lines: readonly ForceLine[], { members }: Carrier): GasDrive {
  const first = areaOf(payload, members[0].index)
  return gasDrive(
    payload,
    lines,
    members.map(({ index }) => [index, first / areaOf(payload, index)]),
  )
}

/** A volume [m³] that goes from one chamber into another. */
export function exchangeOf(payload: CheckedPayload, lines: readonly ForceLine[], from: number, to: number): GasDrive {
  return gasDrive(payload, lines, [
    [from, 1 / areaOf(payload, from)],
    [to, -1 / areaOf(payload, to)],
  ])
}

function gasDrive(payload: CheckedPayload, lines: readonly ForceLine[], given: [number, number][]): GasDrive {
  const rates = lines.map(() => 0)
  for (const [support, rate] of given) rates[3 * support + 2] = rate
  const stiffnesses = lines.map(({ support, axial }) => (axial ? gasStiffness(payload, support) : 0))
  return {
    pull: weighted(
      lines.map(({ row }) => row),
      stiffnesses,
      rates,
    ),
    rates,
  }
}

/** Pressure in a chamber per state: the tension of its gas, branches included, over −area. */
export function pressureOf(
  payload: CheckedPayload,
  lines: readonly ForceLine[],
  support: number,
  branches: readonly Branch[],
  gas: readonly GasDrive[],
): number[] {
  const line = 3 * support + 2
  const k = gasStiffness(payload, support)
  const tension = [
    ...lines[line].row.map((value) => k * value),
    ...branches.map((branch) => (branch.line === line ? 1 : 0)),
    ...gas.map(({ rates }) => k * rates[line]),
  ]
  return tension.map((value) => -value / areaOf(payload, support))
}

function areaOf({ supports }: CheckedPayload, support: number): number {
  return (supports[support].air as AirSpring).area
}

function gasStiffness({ supports }: CheckedPayload, support: number): number {
  return supports[support].air?.gas.stiffness ?? 0
}
