import { describe, expect, it } from 'vitest'
import { displacementSensor, geophone } from '../../../src/elements/index.js'
import type { Point } from '../../../src/elements/rigid-payload-types.js'
import * as isolation from '../../../src/isolation/index.js'
import { gain, transferFunction } from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'
import { activeStage, damping, levelling, mount, onAir, onSprings, onValves, payload } from './full-models.js'

const {
  activelyDampedIsolation,
  feedforwardResidual,
  levellingLimit,
  mobilityModes,
  passiveIsolation,
  pneumaticIsolation,
  seriesActiveIsolation,
  simulateWithLimits,
  simultaneousLoopMargin,
  sixAxisIsolation,
  stackedIsolation,
  stageReaction,
} = isolation

const velocitySensor = geophone({ naturalFrequency: 1, dampingRatio: 0.7 })
const twoPorts = gain([[1], [1]])
const body = { payload, mount }
const damped = activelyDampedIsolation({ ...body, damping: { gain: 200 } })
const passive = { concept: 'passive', ...body } as const
const pneumatic = pneumaticIsolation({ ...onAir, levelling: { flowGain: 0.02 } })
const six = (more: object) => sixAxisIsolation({ payload: onSprings, ...more })
const storey = (more: object = {}) => ({ concept: 'sixAxis' as const, payload: onSprings, ...more })
const loops = (...list: object[]) => ({ damping: { ...damping, loops: list as never } })
const [sensor] = damping.sensors
const integrating = {
  kind: 'Sensor',
  measures: 'velocity',
  noise: null,
  dynamics: transferFunction({ numerator: [1], denominator: [1, 0], input: 'motion', output: 'signal' }),
}
const rocking = { inertia: 100, springDistance: 1, centreOfMassHeight: 0.5 }
const inputs = { payloadForce: [0, 1] }
const limited = (more: object) => simulateWithLimits(damped, { inputs, sampleTime: 0.01, ...more })
const stage = { mass: 50, position: [0, 0, 1] as Point, direction: [1, 0, 0] as Point, reference: [0, 0, 0] as Point }
const appendage = { mass: 20, naturalFrequency: 3, dampingRatio: 0.1, position: [0, 0, 0], direction: [0, 0, 1] }
const table = { frequency: [1, 2], re: [1, 1], im: [0, 0] }

// What is wrong, where, and what to do instead. The code is contract; the words are looked at here.
describe('refused with words that help', () => {
  it.each<[string, () => unknown]>([
    [
      'invalid-option: damping needs either gain or dampingRatio',
      () => activelyDampedIsolation({ ...body, damping: {} }),
    ],
    [
      "unsupported: damping.sensor.measures must be 'velocity' here, got 'displacement'; another sensor needs its own controller",
      () => activelyDampedIsolation({ ...body, damping: { gain: 1, sensor: displacementSensor({ bandwidth: 100 }) } }),
    ],
    [
      'dimension-mismatch: damping.sensor.dynamics must have one input and one output, got 1 and 2',
      () =>
        activelyDampedIsolation({
          ...body,
          damping: { gain: 1, sensor: { ...velocitySensor, dynamics: twoPorts } as never },
        }),
    ],
    [
      'dimension-mismatch: floor must have 1 inputs and 1 or 2 outputs, got 2 and 1',
      () => passiveIsolation({ ...body, floor: gain([[1, 1]]) }),
    ],
    [
      'unsupported: floor is a table; give { modes: mobilityModes(table, …).modes }',
      () => passiveIsolation({ ...body, floor: table as never }),
    ],
    [
      'out-of-range: mount must have a static stiffness above 0 [N/m], got -1',
      () => passiveIsolation({ ...body, mount: { stiffness: -1 } }),
    ],
    [
      'invalid-option: mount carries 1000 N with 1 air springs, but 78.4532 N stands on them; set load or gaugePressure',
      () => passiveIsolation({ ...body, mount: onAir.mount }),
    ],
    ['invalid-option: mount must be an air spring, made by airSpring({ … })', () => pneumaticIsolation(body as never)],
    [
      'invalid-option: levelling needs an air spring as mount',
      () => activelyDampedIsolation({ ...body, levelling, damping: { gain: 1 } }),
    ],
    [
      "unsupported: levelling.sensor.measures must be 'displacement' here, got 'velocity'",
      () => pneumaticIsolation({ ...onAir, levelling: { flowGain: 1, sensor: velocitySensor } }),
    ],
    [
      'invalid-option: activeStage.controller must be { gain, highPass, lowPass } or a StateSpace, got 3',
      () => seriesActiveIsolation({ ...body, activeStage: { ...activeStage, controller: 3 as never } }),
    ],
    [
      'out-of-range: delay must be short enough for its phase at 1000000000 Hz to be a number, got 1e+308',
      () => feedforwardResidual({ gain: 1, delay: 1e308 }, [1, 1e9]),
    ],
    [
      'out-of-range: preview must be short enough for its phase at 1000000000 Hz to be a number, got 1e+308',
      () => feedforwardResidual({ gain: 1, preview: 1e308 }, [1, 1e9]),
    ],
    ['invalid-option: needs a model with levelling, got one without', () => levellingLimit(damped)],
    [
      'unsupported: takes one valve; see loopMargins and simultaneousLoopMargin for several',
      () => levellingLimit(sixAxisIsolation({ payload: onValves, levelling })),
    ],
    [
      'invalid-option: diagram.blocks.mount must be a valve with one input and one output',
      () => levellingLimit({ ...pneumatic, loops: [{ name: 'levelling', port: 'mount.stretch' }] }),
    ],
    [
      'unsupported: rocking needs a rigid payload on a rigid floor, in one storey without series stage',
      () =>
        levellingLimit(pneumaticIsolation({ ...onAir, levelling, floor: { mass: 1e4, stiffness: 1e8 } }), { rocking }),
    ],
    [
      'unsupported: needs a model of one axis, with the input floorVelocity and the output payloadVelocity',
      () => isolation.activeBand(six({}), { improvement: 2 }),
    ],
    [
      'dimension-mismatch: mobility.re must have 2 entries, got 1',
      () => mobilityModes({ ...table, re: [1] }, { count: 1 }),
    ],
    ['out-of-range: mobility must not be zero everywhere', () => mobilityModes({ ...table, re: [0, 0] }, { count: 1 })],
    [
      'no-convergence: finds no modes of positive mass (1.00 is left); check the sign',
      () => mobilityModes({ ...table, re: [-1, -1] }, { count: 1 }),
    ],
    [
      'invalid-option: needs a model with a loop, got one without',
      () => simultaneousLoopMargin(passiveIsolation(body)),
    ],
    ['invalid-option: limits[0] needs value or rate', () => limited({ limits: [{ output: 'actuatorForce' }] })],
    [
      "invalid-option: limits[1].output is 'actuatorForce' a second time",
      () =>
        limited({
          limits: [
            { output: 'actuatorForce', value: 1 },
            { output: 'actuatorForce', rate: 1 },
          ],
        }),
    ],
    [
      'unknown-port: limits[0].output must be an actuator output of the model: actuatorForce',
      () => limited({ limits: [{ output: 'stretch', value: 1 }] }),
    ],
    [
      'unknown-port: limits[0].output must be an actuator output of the model: none',
      () =>
        simulateWithLimits(passiveIsolation(body), {
          inputs,
          sampleTime: 0.01,
          limits: [{ output: 'stretch', value: 1 }],
        }),
    ],
    [
      'unknown-port: limits[0].output must be an actuator output of the model: actuatorForce',
      () => limited({ limits: [{ output: 'toString', value: 1 }] }),
    ],
    ['invalid-option: motion must be a motion', () => stageReaction({ ...stage, motion: 3 as never })],
    [
      'dimension-mismatch: motion.acceleration must have 2 entries like position, got 1',
      () => stageReaction({ ...stage, motion: { position: [0, 1], acceleration: [0] as never } as never }),
    ],
    [
      'out-of-range: has forces beyond the range of numbers',
      () => stageReaction({ ...stage, motion: { position: Float64Array.of(1e308), acceleration: Float64Array.of(0) } }),
    ],
    [
      'dimension-mismatch: floor must have 6 inputs and 6 or 12 outputs, got 1 and 1',
      () => six({ floor: gain([[1]]) }),
    ],
    ['invalid-option: floor.axes must name one of X, Y, Z, Rx, Ry, Rz', () => six({ floor: { axes: {} } })],
    [
      'invalid-option: floor.axes.Z must be { mass, stiffness } or { modes }, got 3',
      () => six({ floor: { axes: { Z: 3 } } }),
    ],
    [
      'dimension-mismatch: floor.modes[0].shape must have 6 entries, got 1',
      () => six({ floor: { modes: [{ modalMass: 1, naturalFrequency: 1, dampingRatio: 0, shape: [1] }] } }),
    ],
    [
      'unsupported: floor must be given by axes or modes under valves, shared lines and position loops, which need its angle',
      () =>
        six({
          floor: gain([0, 1, 2, 3, 4, 5].map(() => [0, 0, 0, 0, 0, 0])),
          ...loops({ axis: 'Z', gain: 1, position: { stiffness: 1 } }),
        }),
    ],
    [
      'out-of-range: appendages weigh more than the payload that they are part of',
      () => six({ appendages: [appendage] }),
    ],
    ['ill-conditioned: reference lies too far from the centre of mass', () => six({ reference: [1e9, 0, 0] })],
    [
      'duplicate-port: points.payload gives payloadVelocityX a second time',
      () => six({ points: { payload: [0, 0, 0] } }),
    ],
    [
      'duplicate-port: differences.tool gives toolVelocityX a second time',
      () => six({ points: { tool: [0, 0, 0], lens: [0, 0, 0] }, differences: { tool: ['tool', 'lens'] } }),
    ],
    [
      'invalid-option: differences.gap must be two names of points, got an array; there are tool',
      () => six({ points: { tool: [0, 0, 0] }, differences: { gap: ['nowhere', 'tool'] } }),
    ],
    [
      'invalid-option: differences.gap must be two names of points, got an array; there are tool',
      () => six({ points: { tool: [0, 0, 0] }, differences: { gap: ['tool', 'nowhere'] } }),
    ],
    [
      'invalid-option: differences.gap must be two names of points, got an array; there are tool',
      () => six({ points: { tool: [0, 0, 0] }, differences: { gap: ['tool'] } }),
    ],
    [
      "invalid-option: differences.gap must be two names of points, got 'to'; there are none",
      () => six({ differences: { gap: 'to' } }),
    ],
    ['invalid-option: damping.loops[0] needs either mode or axis', () => six(loops({ gain: 1 }))],
    ['invalid-option: damping.loops[0] needs either mode or axis', () => six(loops({ mode: 1, axis: 'Z', gain: 1 }))],
    ['invalid-option: damping.loops[0] needs either gain or dampingRatio', () => six(loops({ axis: 'Z' }))],
    [
      'invalid-option: damping.loops[2] is Z a second time',
      () => six(loops({ axis: 'Z', gain: 1 }, { axis: 'X', gain: 1 }, { axis: 'Z', gain: 2 })),
    ],
    [
      'out-of-range: damping.loops[0].mode must be a whole number of at least 1 and of at most 6, got 7',
      () => six(loops({ mode: 7, gain: 1 })),
    ],
    [
      'out-of-range: damping.loops[0].mode must be a whole number of at least 1 and of at most 6, got 1.5',
      () => six(loops({ mode: 1.5, gain: 1 })),
    ],
    [
      'singular: damping.loops[0] is X, which the sensors do not span apart from other motion; add sensors or choose another axis',
      () => six({ damping: { ...damping, sensors: [sensor], loops: [{ axis: 'X', gain: 1 }] } }),
    ],
    [
      'singular: damping.loops[0] is Z, which the actuators do not span apart from other motion; add actuators or choose another axis',
      () =>
        six({
          damping: {
            ...damping,
            actuators: [{ position: [1, 0, 0], direction: [0, 0, 1] }],
            loops: [{ axis: 'Z', gain: 1 }],
          },
        }),
    ],
    [
      'unsupported: damping.sensors[1].sensor must be without delay and fall as s² towards 0 Hz to stand level on a payload that tilts',
      () =>
        six({
          damping: {
            ...damping,
            sensors: damping.sensors.map((place) => ({ ...place, sensor: integrating as never })),
          },
        }),
    ],
    [
      'unsupported: damping has a position loop, which measures against a rigid floor; give feet as rigid',
      () => six({ feet: 'independent', ...loops({ axis: 'Z', gain: 1, position: { stiffness: 1 } }) }),
    ],
    [
      'unsupported: levelling measures against a rigid floor; give feet as rigid',
      () => six({ payload: onValves, feet: 'independent', levelling }),
    ],
    [
      'unsupported: sharedLine measures against a rigid floor; give feet as rigid',
      () => six({ payload: onValves, feet: 'independent', sharedLine: { flowResistance: 1 } }),
    ],
    ['invalid-option: levelling needs an air spring under the payload', () => six({ levelling })],
    [
      'invalid-option: sharedLine needs air springs with a common valveGroup',
      () => six({ sharedLine: { flowResistance: 1 } }),
    ],
    [
      'invalid-option: levelling would have valves that work against each other: at most three points not in line; give supports a common valveGroup',
      () =>
        six({
          payload: { ...onValves, supports: onValves.supports.map(({ valveGroup: _, ...support }) => support) },
          levelling,
        }),
    ],
    [
      'unstable: payload tips: its centre of mass stands 40.00 m over the supports, and at rest 32.00 m is the limit',
      () => six({ payload: { ...onSprings, centreOfMass: [0, 0, 40] } }),
    ],
    [
      'out-of-range: damping.loops[0].dampingRatio needs a coordinate that stands by itself; give gain',
      () =>
        six({
          payload: { ...onSprings, centreOfMass: [0, 0, 40] },
          tipping: 'model',
          ...loops({ mode: 1, dampingRatio: 1 }),
        }),
    ],
    [
      "invalid-option: concept must be one of 'passive', 'pneumatic', 'activelyDamped', 'parallelActive', 'seriesActive', 'stacked', 'sixAxis', got 'magnetic'",
      () => isolation.isolation({ concept: 'magnetic' } as never),
    ],
    ['invalid-option: must be an object with a concept, got 7', () => isolation.isolation(7 as never)],
    [
      'unsupported: upper.concept must have as many axes as what it stands on, 1 or 6',
      () => stackedIsolation({ lower: passive, upper: storey() }),
    ],
    [
      'unsupported: upper.concept must have as many axes as what it stands on, 1 or 6',
      () => stackedIsolation({ lower: storey(), upper: passive }),
    ],
    [
      'invalid-option: lower.payload.gravity must be that of what stands on it',
      () => stackedIsolation({ lower: storey(), upper: storey({ payload: { ...onSprings, gravity: 9 } }) }),
    ],
    [
      'unsupported: lower.feet must be rigid under a storey that measures where it stands',
      () =>
        stackedIsolation({
          lower: storey({ feet: 'independent' }),
          upper: storey(loops({ axis: 'Z', gain: 1, position: { stiffness: 1 } })),
        }),
    ],
    [
      'invalid-option: upper.floor belongs to the stack: give it beside lower and upper',
      () => stackedIsolation({ lower: passive, upper: { ...passive, floor: { mass: 1, stiffness: 1 } } as never }),
    ],
    [
      'invalid-option: lower.floor belongs to the stack: give it beside lower and upper',
      () =>
        stackedIsolation({
          lower: { concept: 'stacked', lower: passive, upper: passive, floor: { mass: 1, stiffness: 1 } } as never,
          upper: passive,
        }),
    ],
  ])('%s', (says, call) => {
    const { code, message, details } = refusal(call)
    expect(`${code}: ${message.slice(details.function.length + 2)}`).toBe(says)
  })
})
