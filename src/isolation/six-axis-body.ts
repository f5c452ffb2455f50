import { massMatrix } from '../elements/rigid-payload-lines.js'
import { type CheckedPayload, checkPoint } from '../elements/rigid-payload-options.js'
import type { Point } from '../elements/rigid-payload-types.js'
import { cross, minus } from '../elements/vectors.js'
import { checkOptions, fail, listed, must, type Scope, show, within } from '../internal/check.js'
import { type Dense, identity, rowsOf, sum, times } from '../linear/dense.js'
import { solve } from '../linear/solve.js'
import { symmetricEigen } from '../linear/symmetric-eigen.js'
import { checkName } from '../systems/check.js'
import type { Source } from '../systems/diagram.js'
import { gain } from '../systems/gain.js'
import type { StateSpace } from '../systems/types.js'
import { sixNames } from './six-axis-ports.js'

/** A rigid body: force and moment at the reference in, its velocity and angular velocity out; six states. What its appendages
 * take from the mass is not moved by it. */
export function bodyBlock(
  scope: Scope,
  payload: CheckedPayload,
  reference: Point,
  appendages: Dense | undefined,
): StateSpace {
  const M = massMatrix(payload, reference)
  const left = appendages === undefined ? M : sum(M, times(appendages, -1))
  const least = appendages === undefined ? 1 : symmetricEigen(scope, left).values[0]
  if (!(least > 0))
    fail('out-of-range', within(scope, 'appendages'), 'weigh more than the payload that they are part of')
  const far = 'lies too far from the centre of mass'
  const B = must(solve(left, identity(6)), 'ill-conditioned', within(scope, 'reference'), far)
  const none = sixNames('').map(() => sixNames('').map(() => 0))
  return {
    kind: 'StateSpace',
    A: none,
    B: rowsOf(B),
    C: rowsOf(identity(6)),
    D: none,
    inputs: sixNames('force'),
    outputs: sixNames('velocity'),
    states: sixNames('velocity'),
    delays: null,
  }
}

/** What is looked at on a payload, by name. */
export interface NamedPoints {
  readonly points?: Readonly<Record<string, Point>>
  readonly differences?: Readonly<Record<string, readonly [string, string]>>
}

/** Velocities of points and between points, as one block of gains and the outputs that read it; null without any. */
export function pointsBlock(
  scope: Scope,
  { points = {}, differences = {} }: NamedPoints,
  reference: Point,
): { readonly block: StateSpace; readonly outputs: Record<string, Source> } | null {
  const [at, between] = [within(scope, 'points'), within(scope, 'differences')]
  checkOptions(at, points, Object.keys(points))
  checkOptions(between, differences, Object.keys(differences))
  const places = new Map(
    Object.keys(points).map((name) => [name, minus(checkPoint(at, name, points[name]), reference)]),
  )
  const rows = new Map<string, readonly number[]>()
  const add = (where: Scope, name: string, lever: readonly number[], moves: number) => {
    checkName(where, name, name)
    ;['X', 'Y', 'Z'].forEach((axis, i) => {
      const port = `${name}Velocity${axis}`
      if (rows.has(port) || name === 'payload')
        fail('duplicate-port', within(where, name), `gives ${port} a second time`)
      const unit = [0, 1, 2].map((k) => (k === i ? 1 : 0))
      rows.set(port, [...unit.map((one) => one * moves), ...cross(lever, unit)])
    })
  }
  for (const [name, place] of places) add(at, name, place, 1)
  for (const [name, pair] of Object.entries(differences)) {
    const ends = Array.isArray(pair) && pair.length === 2 ? pair.map((end) => places.get(end)) : []
    const [from, to] = ends
    if (from === undefined || to === undefined) {
      fail(
        'invalid-option',
        within(between, name),
        `must be two names of points, got ${show(pair)}; there are ${listed([...places.keys()])}`,
      )
    }
    add(between, name, minus(to, from), 0)
  }
  if (rows.size === 0) return null
  const outputs = [...rows.keys()]
  return {
    block: gain([...rows.values()], { inputs: sixNames('velocity'), outputs }),
    outputs: Object.fromEntries(outputs.map((port) => [port, `points.${port}`])),
  }
}
