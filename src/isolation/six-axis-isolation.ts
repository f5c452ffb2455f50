import type { LoadAbove } from '../elements/load-above.js'
import { type Scope, scopeOf } from '../internal/check.js'
import type { Source, Wire } from '../systems/diagram.js'
import type { StateSpace } from '../systems/types.js'
import { onFloor } from './floor.js'
import { closeStorey, type IsolationModel, type Storey } from './model.js'
import type { SixAxisIsolationOptions } from './six-axis-options.js'
import { sixAxisParts } from './six-axis-parts.js'
import { axes, sixNames, sixWires } from './six-axis-ports.js'

/** Model of a rigid payload on its supports in all six axes.
 *
 *     M v' = forces − tension,  tension = K(s)·(payload − floor) − gravity
 *
 * Ports end in X, Y, Z, Rx, Ry, Rz. In: `floorVelocity…`, `payloadForce…`, `reactionForce…`, with independent feet
 * `foot1VelocityX…`, and noise. Out: `payloadVelocity…`, `floorForce…` with the moment of the weight that moves off, points,
 * and `stretch…`, payload minus floor, less where feet of their own have put it. All of it at the reference.
 *
 * A floor that turns drives the payload sideways through gravity; velocities and forces have it from `floorVelocityRx` and
 * `Ry`. Only stretch, valves and position loops also need the angle, which no stable model can keep: with gravity, drive
 * `floorTiltRx` and `Ry` [rad] with the integral of those two, or leave out how far the payload leans on a turned floor.
 *
 * On a `floor` that gives way `floorVelocity…` stays that of the bare floor; `loadedFloorVelocity…` comes out beside it, and
 * `neighbourVelocity…` where a neighbour stands: what the forces here, as of a stage that moves, do to it.
 *
 * Chambers with a common valve are joined for the load; in vibration only through a `sharedLine`, which lets a pair lean
 * over slowly as if it were one spring at its middle.
 *
 * Read it with `frequencyResponse(model.closed, …)` and the ports by name; functions of one axis refuse it. A loop that
 * runs away moves a heavy load, and a tall one tips: limit force and stroke in hardware, follow local codes.
 * @param options - see {@link SixAxisIsolationOptions}
 * @returns the diagram and the closed model; loops of the damping in the order given, then `levelling1` and so on
 * @throws {@link IsolationError} those of `rigidPayload`; `unstable` for a payload that tips at rest; `invalid-option` also
 * for valves that work against each other; `singular` for a loop that sensors or actuators cannot span
 * @source Harris' Shock and Vibration Handbook, chapter "Vibration of a resiliently supported rigid body"; gravity on a
 * tilted floor derived from the balance of weight and loads
 * @example
 * import { dcGain, sixAxisIsolation } from 'restmass'
 * const mount = { stiffness: 1e5, damping: 500, lateral: { stiffness: 5e4, damping: 300 } }
 * const supports = [-1, 1].flatMap((x) => [-1, 1].map((y) => ({ position: [x, y, 0] as const, mount })))
 * const payload = { mass: 1000, inertia: [90, 90, 160] as const, centreOfMass: [0, 0, 0.5] as const, supports }
 * const { closed } = sixAxisIsolation({ payload })
 * dcGain(closed)[closed.outputs.indexOf('payloadVelocityX')][closed.inputs.indexOf('floorVelocityX')] // 1
 */
export function sixAxisIsolation(options: SixAxisIsolationOptions): IsolationModel {
  return closeStorey(sixAxisStorey(scopeOf('sixAxisIsolation'), options, null))
}

export function sixAxisStorey(scope: Scope, options: SixAxisIsolationOptions, above: LoadAbove | null): Storey {
  const { body, mounts, line, levelling, damping, points, hanging, ...parts } = sixAxisParts(scope, options, above)
  const { reference, gravity, weight, load } = parts
  const turning = mounts.inputs.includes('tiltRx')
  return onFloor(scope, options.floor, {
    concept: 'sixAxis',
    diagram: {
      blocks: {
        payload: body,
        mounts,
        ...(points && { points: points.block }),
        ...(hanging && { appendages: hanging.block }),
        ...damping?.blocks,
        ...levelling?.blocks,
        ...line?.blocks,
      },
      inputs: [
        ...sixNames('floorVelocity'),
        ...sixNames('payloadForce'),
        ...sixNames('reactionForce'),
        ...footInputs(mounts),
        ...(turning ? ['floorTiltRx', 'floorTiltRy'] : []),
        ...(damping?.noiseSources.map(({ input }) => input) ?? []),
      ],
      outputs: {
        ...sixWires('payloadVelocity', ['payload.velocity']),
        ...sixWires('stretch', ['mounts.stretch']),
        ...floorForce(turning, damping !== null),
        ...points?.outputs,
        ...Object.fromEntries(
          options.appendages?.map((_, i) => [`appendage${i + 1}Velocity`, `appendages.velocity${i + 1}`]) ?? [],
        ),
        ...damping?.outputs,
      },
      wires: {
        ...sixWires('payload.force', [
          'payloadForce',
          'reactionForce',
          '-mounts.tension',
          ...(damping ? ['actuatorLines.force'] : []),
          ...(hanging ? ['appendages.force'] : []),
        ]),
        ...mountWires(mounts, turning),
        ...(hanging && sixWires('appendages.velocity', ['payload.velocity'])),
        ...(points && sixWires('points.velocity', ['payload.velocity'])),
        ...damping?.wires,
        ...levelling?.wires,
        ...line?.wires,
      },
    },
    loops: [...(damping?.loops ?? []), ...(levelling?.loops ?? [])],
    noiseSources: damping?.noiseSources ?? [],
    limits: [...(damping?.limits ?? []), ...(levelling?.limits ?? [])],
    weight,
    floorLoops: [],
    sixAxis: { load, reference, top: reference, gravity },
  })
}

/** Pull of the mounts and actuators, and the moment of the weight that moves off. */
function floorForce(turning: boolean, driven: boolean): Record<string, Wire> {
  return Object.fromEntries(
    axes.map((axis) => [
      `floorForce${axis}`,
      [
        `mounts.tension${axis}`,
        ...(turning && (axis === 'Rx' || axis === 'Ry') ? [`mounts.couple${axis}`] : []),
        ...(driven ? [`-actuatorLines.force${axis}`] : []),
      ],
    ]),
  )
}

function footInputs({ inputs }: StateSpace): Source[] {
  return inputs.filter((input) => input.startsWith('foot')).map((input) => input.replace(/(?=[XYZ])/, 'Velocity'))
}

function mountWires(mounts: StateSpace, turning: boolean): Record<string, Wire> {
  return {
    ...sixWires('mounts.velocity', ['payload.velocity', '-floorVelocity']),
    ...(turning && {
      'mounts.floorRx': 'floorVelocityRx',
      'mounts.floorRy': 'floorVelocityRy',
      'mounts.tiltRx': 'floorTiltRx',
      'mounts.tiltRy': 'floorTiltRy',
    }),
    ...Object.fromEntries(footInputs(mounts).map((input) => [`mounts.${input.replace('Velocity', '')}`, input])),
  }
}
