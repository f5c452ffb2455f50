import type { CheckedPayload } from '../elements/rigid-payload-options.js'
import type { Carrier } from '../elements/support-loads.js'
import { checkNumber, checkOptions, fail, type Scope } from '../internal/check.js'
import type { Source } from '../systems/diagram.js'
import { gain } from '../systems/gain.js'
import { numbered } from '../systems/numbered.js'
import type { Fragment } from './inertial-path.js'

/** Lines between chambers that name the same valve. */
export interface SharedLineOptions {
  /** Volume flow resistance from each chamber to the common point [Pa·s/m³], above 0 */
  readonly flowResistance: number
}

/** Groups of air springs that a line joins. */
export function joinedBy(scope: Scope, payload: CheckedPayload, carriers: readonly Carrier[]): Carrier[] {
  const groups = carriers.filter(({ members }) => members.length > 1 && payload.supports[members[0].index].air !== null)
  if (groups.length === 0) fail('invalid-option', scope, 'needs air springs with a common valveGroup')
  return groups
}

/** Pressures in, flow into each chamber but the first of its group out: (mean pressure − pressure)/R. */
export function sharedLine(scope: Scope, options: SharedLineOptions, groups: readonly Carrier[]): Fragment {
  checkOptions(scope, options, ['flowResistance'])
  const resistance = checkNumber(scope, 'flowResistance', options.flowResistance, { unit: 'Pa·s/m³', above: 0 })
  const chambers = groups.flatMap(({ members }, group) => members.map((_, place) => ({ group, place })))
  const rows = chambers.flatMap((to) =>
    to.place === 0
      ? []
      : [
          chambers.map((from) => {
            if (from.group !== to.group) return 0
            return (1 / groups[to.group].members.length - (from.place === to.place ? 1 : 0)) / resistance
          }),
        ],
  )
  const [pressures, flows] = [numbered('pressure', chambers), numbered('flow', rows)]
  const wires: Record<string, Source> = {}
  for (const name of pressures) wires[`line.${name}`] = `mounts.${name}`
  for (const name of flows) wires[`mounts.${name.replace('flow', 'exchange')}`] = `line.${name}`
  return { blocks: { line: gain(rows, { inputs: pressures, outputs: flows }) }, wires }
}
