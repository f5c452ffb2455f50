import { describe, expect, it } from 'vitest'
import * as assessment from '../../../src/assessment/index.js'
import { airSpring, motionProfile, type Point, piezoStack, voiceCoil } from '../../../src/elements/index.js'
import { activelyDampedIsolation, seriesActiveIsolation, sixAxisIsolation } from '../../../src/isolation/index.js'
import { transferFunction } from '../../../src/systems/index.js'
import { spectrum, transferEstimate } from '../../../src/vibration/index.js'
import { refusal } from '../refusal.js'
import { flatFloor, voigt } from './sites.js'

const {
  actuatorEffort,
  assess,
  compareConcepts,
  compareToModel,
  explain,
  fitIsolator,
  mergeSweeps,
  moveAndSettle,
  noiseBudget,
  optimumFeedforward,
  predictPayload,
  rigidBodyMotion,
  smallestTransmissibility,
  sweep,
  toleranceStudy,
  tuneActiveDamping,
  tuneRestrictor,
  tuneSeriesStage,
} = assessment

const floor = flatFloor(1e-12, 0.5, 100)
const force = spectrum({ quantity: 'force', frequency: [0.5, 100], density: [1, 1] })
const model = voigt(2, 0.1)
const site = (more: object) => assess(model, { floor, criterion: 'VC-C', ...more } as never)
const body = { payload: { mass: 100 }, mount: { stiffness: 1e4 } }
const damped = (gain: number) => activelyDampedIsolation({ ...body, damping: { gain } })
const supports = [-1, 1].flatMap((x) =>
  [-1, 1].map((y) => ({ position: [x, y, 0] as Point, mount: { stiffness: 1e5, damping: 900 } })),
)
const six = sixAxisIsolation({
  payload: {
    mass: 1000,
    inertia: [90, 90, 160],
    centreOfMass: [0, 0, 0],
    supports: supports.map((each) => ({ ...each, mount: { ...each.mount, lateral: each.mount } })),
  },
})
const profile = motionProfile({ distance: 0.05, maxVelocity: 10, maxAcceleration: 4 })
const move = { profile, movingMass: 0.1 }
const settle = (more: object) => moveAndSettle(model, { move, band: 1e-6, sampleTime: 1e-3, ...more } as never)
const noise = Array.from({ length: 512 }, (_, n) => Math.sin(n * n * 0.7))
const estimate = transferEstimate({ input: noise, output: noise, sampleRate: 100, segmentLength: 64 })
const sensor = (samples: number[], position = [0, 0, 0], direction = [0, 0, 1]) => ({ position, direction, samples })
const rigid = (sensors: object[], axes?: string[]) => rigidBodyMotion({ sensors, ...(axes && { axes }) } as never)
const points = (parameters: unknown) => sweep({ parameters, evaluate: () => ({ y: 1 }) } as never)
const half = sweep({ parameters: { x: [1, 2] }, evaluate: () => ({ y: 1 }), shard: { index: 0, count: 2 } })
const study = (more: object) =>
  toleranceStudy({
    tolerances: { x: { nominal: 1, relative: 0.1 } },
    samples: 2,
    seed: 1,
    evaluate: () => true,
    ...more,
  } as never)
const widths = (tolerance: object) => study({ tolerances: { x: { nominal: 1, ...tolerance } } })
const many = (count: number) =>
  Object.fromEntries(Array.from({ length: count }, (_, k) => [`x${k}`, { nominal: 1, relative: 0.1 }]))
const response = (frequency: number[]) => ({
  kind: 'ComplexSeries',
  frequency: Float64Array.from(frequency),
  re: Float64Array.from(frequency),
  im: Float64Array.from(frequency),
})
const stage = { mass: 60, actuator: { stiffness: 2e9, damping: 1.5e5, stroke: 2e-5 } }
const series = { payload: { mass: 1100 }, mount: { stiffness: 3.1e6, damping: 6500 }, activeStage: stage }
const record = { inputs: { payloadForce: [0, 1] }, sampleTime: 0.01 }
const stack = piezoStack({ stiffness: 2e9, damping: 1.5e5, stroke: 2e-5 })
const onStack = seriesActiveIsolation({
  ...series,
  activeStage: {
    ...stage,
    actuator: stack,
    sensorLocation: 'activeStage',
    controller: { gain: 3, highPass: 0.02, lowPass: 60 },
  },
})
const coil = voiceCoil({ forceConstant: 20, resistance: 4 })

// What is wrong, where, and what to do instead. The code is contract; the words are looked at here.
describe('refused with words that help', () => {
  it.each<[string, () => unknown]>([
    [
      'unsupported: actuators.actuatorForce must be a voice coil, whose current is known',
      () => actuatorEffort(damped(100), { record, actuators: { actuatorForce: stack } }),
    ],
    [
      'unsupported: actuators.actuatorExpansion must be a piezo stack with its drive, whose current is known',
      () => actuatorEffort(onStack, { record, actuators: { actuatorExpansion: coil } }),
    ],
    ['invalid-option: needs floor, record or moves', () => actuatorEffort(damped(100), {})],
    [
      'invalid-option: floor is needed with payloadForce',
      () => actuatorEffort(damped(100), { record, payloadForce: force }),
    ],
    ['unsupported: model has no actuators', () => actuatorEffort(model, { floor })],
    [
      'out-of-range: record.inputs must hold at least two samples',
      () => actuatorEffort(damped(100), { record: { ...record, inputs: { payloadForce: [1] } } }),
    ],
    [
      'out-of-range: record takes actuatorForce beyond the range of numbers',
      () => actuatorEffort(damped(100), { record: { ...record, inputs: { payloadForce: [1e308, 1e308] } } }),
    ],
    [
      'unsupported: move.direction has no meaning for a model of one axis',
      () => settle({ move: { ...move, direction: [1, 0, 0] } }),
    ],
    [
      'unsupported: move.position has no meaning for a model of one axis',
      () => settle({ move: { ...move, position: [1, 0, 0] } }),
    ],
    [
      'unsupported: move.repeatEvery is for one axis: in six each move shifts the weight further',
      () => moveAndSettle(six, { move: { ...move, repeatEvery: 1 }, band: 1e-6, sampleTime: 1e-3 }),
    ],
    ['unsupported: point has no meaning for a model of one axis', () => settle({ point: 'tool' })],
    [
      "unknown-port: point must be a point of the model, got 'lens'",
      () =>
        moveAndSettle(six, {
          move: { ...move, direction: [1, 0, 0], position: [0, 0, 0] },
          point: 'lens',
          band: 1e-6,
          sampleTime: 1e-3,
        }),
    ],
    [
      // 2.236068 s · 3e6 1/s + 1
      'out-of-range: sampleTime needs 6708205 samples until it has settled; take a longer one',
      () => moveAndSettle(voigt(2, 1), { move: { ...move, repeatEvery: 2.236068 }, band: 1e-6, sampleTime: 1e-6 / 3 }),
    ],
    ['invalid-option: needs models, got 3', () => compareConcepts(3 as never, { floor, criterion: 'VC-C' })],
    ['invalid-option: needs models, got null', () => compareConcepts(null as never, { floor, criterion: 'VC-C' })],
    ['invalid-option: needs at least one model', () => compareConcepts([], { floor, criterion: 'VC-C' })],
    [
      'dimension-mismatch: model.frequency must be that of the estimate',
      () => compareToModel(estimate, response([1, 2]) as never),
    ],
    [
      'dimension-mismatch: model.frequency must be that of the estimate',
      () => compareToModel(estimate, response([...estimate.frequency].map((f) => 1.001 * f)) as never),
    ],
    [
      'out-of-range: floor covers 2.3 to 2.6 Hz, which holds no band of VC-C',
      () => site({ floor: flatFloor(1, 2.3, 2.6) }),
    ],
    ['invalid-option: needs an Assessment, got an object', () => explain({} as never)],
    ['out-of-range: from to to must hold more than 2 lines, got 2', () => fitIsolator(estimate, { from: 1, to: 4 })],
    ['out-of-range: from to to must hold a line with input power', () => fitIsolator(estimate, { from: 60 })],
    [
      'invalid-option: start must name the parameters of a model given as a function, got undefined',
      () => fitIsolator(estimate, { model: () => model }),
    ],
    [
      'no-convergence: found no gain that the estimate determines',
      () => fitIsolator(estimate, { model: () => model, start: { gain: 1 } }),
    ],
    [
      'invalid-option: estimate needs a TransferEstimate, got an object',
      () => fitIsolator({ ...estimate, kind: 'Spectrum' } as never),
    ],
    ['invalid-option: settling must come with moves', () => site({ settling: { band: 1e-6 } })],
    ['invalid-option: needs a list of sweep results, got 3', () => mergeSweeps(3 as never)],
    ['invalid-option: needs a list of sweep results, got an array', () => mergeSweeps([])],
    ['invalid-option: [1] must be a result of sweep', () => mergeSweeps([half, { total: 2, rows: [] }] as never)],
    ['invalid-option: [1] must be a result of sweep', () => mergeSweeps([half, null] as never)],
    ['dimension-mismatch: [1] has 3 points, not 2', () => mergeSweeps([half, { ...half, total: 3 }])],
    ['invalid-option: [1] repeats point 0', () => mergeSweeps([half, half])],
    ['invalid-option: no shard holds point 1', () => mergeSweeps([half])],
    [
      'out-of-range: [0].rows.index must be a whole number of at least 0 and below 1, got 1',
      () => mergeSweeps([{ ...half, total: 1, rows: [{ ...half.rows[0], index: 1 }] }]),
    ],
    [
      'unknown-port: tolerance.of must be one of stretch, payload, got lens',
      () => site({ tolerance: { limit: 1, of: 'lens' } }),
    ],
    [
      'out-of-range: has spectra whose frequency ranges do not overlap',
      () => optimumFeedforward({ floor, sensorNoise: flatFloor(1, 200, 300) }),
    ],
    [
      'out-of-range: has spectra whose frequency ranges do not overlap',
      () => predictPayload(model, { floor, payloadForce: { ...force, frequency: [200, 300] } }),
    ],
    [
      "invalid-option: payloadForce.quantity must be 'force', got 'velocity'",
      () => predictPayload(model, { floor, payloadForce: floor }),
    ],
    [
      'unstable: model has undamped modes; it has no steady state to predict',
      () => predictPayload(voigt(2, 0), { floor }),
    ],
    [
      'unstable: model has 2 unstable poles; it has no steady state to predict',
      () => noiseBudget(damped(-1000), { floor }),
    ],
    [
      'dimension-mismatch: sensors must be at least 2 for as many axes, got 1',
      () => rigid([sensor([1])], ['z', 'rotationY']),
    ],
    ['invalid-option: axes must not list z twice', () => rigid([sensor([1]), sensor([1])], ['z', 'z'])],
    [
      'dimension-mismatch: sensors[1].samples must have 2 entries, got 1',
      () => rigid([sensor([1, 2]), sensor([1])], ['z']),
    ],
    ['dimension-mismatch: sensors[0].position must have 3 entries, got 2', () => rigid([sensor([1], [0, 1])], ['z'])],
    [
      'singular: sensors cannot tell these axes apart from these places and directions',
      () => rigid([sensor([1]), sensor([1])], ['z', 'rotationY']),
    ],
    ['unsupported: axis is for a model of one axis', () => assess(six, { floor, criterion: 'VC-C', axis: 'z' })],
    // What stands beside an axis is blamed, not the axis; and one that is not judged is looked at all the same.
    [
      'invalid-option: floor.w is not an option here; options are x, y, z',
      () => site({ floor: { z: floor, w: floor } }),
    ],
    [
      'not-finite: floor.x.density[1] must be a finite number of at least 0 and of at most 1e+200 [unit²/Hz], got NaN',
      () => site({ floor: { x: { ...floor, density: [1, Number.NaN] }, z: floor }, axis: 'z' }),
    ],
    [
      "invalid-option: payloadForce.y.quantity must be 'force', got 'velocity'",
      () => site({ floor: { z: floor }, payloadForce: { y: floor, z: force } }),
    ],
    [
      'invalid-option: floor.x is not an option here; options are kind, quantity, frequency, density, support, segmentLength, overlap, window, detrend, averages, effectiveAverages, noiseBandwidth, average, exceeded',
      () => assess(six, { floor: { x: undefined } as never, criterion: 'VC-C' }),
    ],
    ['invalid-option: axis must say which of x, y the model stands for', () => site({ floor: { x: floor, y: floor } })],
    [
      'out-of-range: floor must share a frequency with the noise',
      () => smallestTransmissibility({ floor, payloadSensorNoise: flatFloor(1, 200, 300), averages: 10 }),
    ],
    [
      "invalid-option: payloadSensorNoise.quantity must be 'velocity' like the floor, got 'force'",
      () => smallestTransmissibility({ floor, payloadSensorNoise: force, averages: 10 }),
    ],
    ['invalid-option: parameters must have at least one point', () => points([])],
    ['invalid-option: parameters[1] must be a record of parameters, got 3', () => points([{ x: 1 }, 3])],
    ['invalid-option: parameters[0] must be a record of parameters, got null', () => points([null])],
    ['not-finite: parameters[0].x must be a value, got NaN', () => points([{ x: Number.NaN }])],
    ['invalid-option: parameters must name at least one parameter', () => points({})],
    ['invalid-option: parameters.x must be a list of values, got 3', () => points({ x: 3 })],
    ['invalid-option: parameters.x must have at least one value', () => points({ x: [] })],
    ['not-finite: parameters.x[1] must be a value, got NaN', () => points({ x: [1, Number.NaN] })],
    [
      'out-of-range: parameters makes 1000000000000000000 points, more than can be counted',
      () => points(Object.fromEntries('abcdef'.split('').map((name) => [name, new Float64Array(1000)]))),
    ],
    [
      'dimension-mismatch: resume[0] has other parameters than point 0 of this sweep',
      () => sweep({ parameters: { x: [7] }, evaluate: () => ({ y: 1 }), resume: half.rows }),
    ],
    ['invalid-option: tolerances must name at least one parameter', () => study({ tolerances: {} })],
    [
      'out-of-range: corners are more than 4096 for 13 parameters',
      () => study({ tolerances: many(13), corners: 'all' }),
    ],
    [
      'out-of-range: system can be proven for up to 6 parameters, got 7',
      () => study({ tolerances: many(7), system: () => transferFunction({ numerator: [1], denominator: [1, 1] }) }),
    ],
    [
      'invalid-option: evaluate must return values of the same names every time',
      () => {
        let k = 0
        study({ evaluate: () => ({ pass: true, values: { [`x${k++}`]: 1 } }) })
      },
    ],
    [
      'dimension-mismatch: evaluate must return the transmissibility on the same grid every time',
      () => {
        let k = 0
        study({ evaluate: () => ({ pass: true, transmissibility: response([1, 2 + k++]) }) })
      },
    ],
    [
      'dimension-mismatch: evaluate must return the transmissibility on the same grid every time',
      () => {
        let k = 0
        study({ evaluate: () => ({ pass: true, ...(k++ < 1 && { transmissibility: response([1]) }) }) })
      },
    ],
    ['invalid-option: evaluate must return pass, got an object', () => study({ evaluate: () => ({}) })],
    ['invalid-option: evaluate must return pass, got null', () => study({ evaluate: () => null })],
    [
      'invalid-option: evaluate must not call a value pass',
      () => study({ evaluate: () => ({ pass: true, values: { pass: 1 } }) }),
    ],
    [
      "not-finite: evaluate must return numbers, got 'far' as x",
      () => study({ evaluate: () => ({ pass: true, values: { x: 'far' } }) }),
    ],
    [
      'not-finite: evaluate must return numbers, got NaN as x',
      () => study({ evaluate: () => ({ pass: true, values: { x: Number.NaN } }) }),
    ],
    ['invalid-option: tolerances.x needs one of relative, absolute, decibels, got none', () => widths({})],
    [
      'invalid-option: tolerances.x needs one of relative, absolute, decibels, got relative and decibels',
      () => widths({ relative: 1, decibels: 1 }),
    ],
    [
      'invalid-option: tolerances.x decibels means nothing around 0; give absolute',
      () => widths({ nominal: 0, decibels: 1 }),
    ],
    [
      'invalid-option: airSpring.dampingChamber is needed: it holds the restrictor',
      () => tuneRestrictor({ payload: { mass: 300 }, airSpring: { area: 0.01, volume: 1e-3, load: 2941.995 } }),
    ],
    [
      "invalid-option: floor is needed with maxRms and with the objective 'rms'",
      () => tuneSeriesStage(series, { maxRms: 1 }),
    ],
    [
      'invalid-option: activeStage must be without controller and sensorLocation, which are found',
      () => tuneSeriesStage({ ...series, activeStage: { ...stage, controller: stage } } as never),
    ],
    [
      'unsupported: tolerance is not for air springs, whose stiffness follows their load',
      () =>
        tuneSeriesStage(
          { ...series, mount: airSpring({ area: 0.02, volume: 5e-3, load: 1e4, diaphragmDamping: 900 }) },
          { tolerance: 0.1 },
        ),
    ],
    [
      'invalid-option: activeStage.actuator.stiffness must be a finite number above 0 [N/m], got undefined',
      () => tuneSeriesStage({ ...series, activeStage: { mass: 60 } } as never, { tolerance: 0.1 }),
    ],
    [
      "invalid-option: floor is needed where the objective is 'rms'",
      () => tuneActiveDamping({ ...body, damping: {} }, { objective: 'rms' }),
    ],
    [
      'invalid-option: range must be [from, to], got an array',
      () => tuneActiveDamping({ ...body, damping: {} }, { range: [1, 2, 3] as never }),
    ],
    [
      'out-of-range: band[1] must be a finite number above 3 [Hz], got 2',
      () => tuneSeriesStage(series, { band: [3, 2] }),
    ],
    [
      'out-of-range: range[1] must be a finite number above 3, got 2',
      () => tuneActiveDamping({ ...body, damping: {} }, { range: [3, 2] }),
    ],
    [
      'unstable: padeOrder of 1 does not keep the model stable; raise it',
      () => {
        // stable at this delay, within its second window; see the moves of assessments-at-the-edge
        const late = activelyDampedIsolation({
          payload: { mass: 1 },
          mount: { stiffness: 1, damping: 0.1 },
          damping: { gain: 0.15, delay: 5 },
        })
        moveAndSettle(late, { move, band: 1e-3, sampleTime: 1, padeOrder: 1 })
      },
    ],
  ])('%s', (says, call) => {
    const { code, message, details } = refusal(call)
    expect(`${code}: ${message.slice(details.function.length + 2)}`).toBe(says)
  })
})
