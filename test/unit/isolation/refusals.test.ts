import { describe, expect, it } from 'vitest'
import { airSpring, geophone, standardGravity } from '../../../src/elements/index.js'
import {
  activeBand,
  activelyDampedIsolation,
  compliance,
  controlElements,
  isolation,
  isolationSummary,
  loopMargins,
  parallelActiveIsolation,
  passiveIsolation,
  pneumaticIsolation,
  seriesActiveIsolation,
  stackedIsolation,
  transmissibility,
} from '../../../src/isolation/index.js'
import { gain, stateSpace } from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

const payload = { mass: 100 }
const mount = { stiffness: 1e5, damping: 100 }
const air = airSpring({ area: 0.01, volume: 1e-3, load: 100 * standardGravity })
const passive = { payload, mount }
const pneumatic = { payload, mount: air }
const damped = { payload, mount, damping: { gain: 10 } }
const parallel = { payload, mount, feedback: { velocityGain: 10 } }
const activeStage = {
  mass: 10,
  actuator: { stiffness: 1e8, damping: 1e3, stroke: 1e-5 },
  sensorLocation: 'floor',
  controller: { gain: 1, highPass: 0.1, lowPass: 100 },
}
const series = { payload, mount, activeStage }
const storey = { concept: 'passive', ...passive }
const stack = { lower: storey, upper: storey }
const accelerometer = { ...geophone({ naturalFrequency: 1, dampingRatio: 0.7 }), measures: 'acceleration' }
const twoPorts = stateSpace({ A: [], B: [], C: [[], []], D: [[1], [1]] })

const builders = {
  passiveIsolation,
  pneumaticIsolation,
  activelyDampedIsolation,
  parallelActiveIsolation,
  seriesActiveIsolation,
  stackedIsolation,
  isolation,
} as unknown as Record<string, (options: unknown) => unknown>

/** The options with the value at a path such as `lower.payload.mass` replaced. */
function changed(options: unknown, path: string, value: unknown): unknown {
  const [key = '', ...rest] = path.split('.')
  const record = (options ?? {}) as Record<string, unknown>
  return { ...record, [key]: rest.length === 0 ? value : changed(record[key], rest.join('.'), value) }
}

function expectRefusal(builder: string, options: unknown, code: string, path: string): void {
  const error = refusal(() => (builders[builder] as (options: unknown) => unknown)(options))
  expect({ code: error.code, path: error.details.path, function: error.details.function }).toEqual({
    code,
    path,
    function: builder,
  })
}

const all: [string, unknown][] = [
  ['passiveIsolation', passive],
  ['pneumaticIsolation', pneumatic],
  ['activelyDampedIsolation', damped],
  ['parallelActiveIsolation', parallel],
  ['seriesActiveIsolation', series],
]

describe.each(all)('%s', (builder, options) => {
  it('accepts what the other cases change', () => {
    expect(() => (builders[builder] as (options: unknown) => unknown)(options)).not.toThrow()
  })

  it.each([
    [0, 'out-of-range'],
    [-5, 'out-of-range'],
    [Number.NaN, 'not-finite'],
    [Number.POSITIVE_INFINITY, 'not-finite'],
    ['100', 'invalid-option'],
    [null, 'invalid-option'],
    [undefined, 'invalid-option'],
  ])('refuses a mass of %s as %s', (value, code) => {
    expectRefusal(builder, changed(options, 'payload.mass', value), code, 'payload.mass')
  })

  it.each([
    ['count', 0, 'out-of-range', 'count'],
    ['count', Number.NaN, 'not-finite', 'count'],
    ['count', '4', 'invalid-option', 'count'],
    ['payload', null, 'invalid-option', 'payload'],
    ['payload', [100], 'invalid-option', 'payload'],
    ['payload.weight', 1, 'invalid-option', 'payload.weight'],
    ['colour', 'red', 'invalid-option', 'colour'],
    ['mount', undefined, 'invalid-option', 'mount'],
  ])('refuses %s %s as %s at %s', (path, value, code, at) => {
    expectRefusal(builder, changed(options, path, value), code, at)
  })

  it.each([undefined, null, 3, 'passive', [], new Float64Array(2)])('refuses %s instead of options', (value) => {
    expectRefusal(builder, value, 'invalid-option', '')
  })
})

const nonPneumatic = all.filter(([builder]) => builder !== 'pneumaticIsolation')
describe.each(nonPneumatic)('%s with a bad mount', (builder, options) => {
  it.each([
    ['mount.stiffness', 0, 'out-of-range', 'mount'],
    ['mount.stiffness', -1e4, 'out-of-range', 'mount'],
    ['mount.stiffness', Number.NaN, 'not-finite', 'mount.stiffness'],
    ['mount.damping', Number.POSITIVE_INFINITY, 'not-finite', 'mount.damping'],
    ['mount.dampingRatio', 0.1, 'invalid-option', 'mount.dampingRatio'],
    ['mount.relaxations', [{ stiffness: 1, time: 0 }], 'out-of-range', 'mount.relaxations[0].time'],
    ['mount.relaxations', [{ stiffness: 1, time: 1, loss: 2 }], 'invalid-option', 'mount.relaxations[0].loss'],
    ['mount.kind', 'Rope', 'invalid-option', 'mount.kind'],
  ])('refuses %s %s as %s at %s', (path, value, code, at) => {
    expectRefusal(builder, changed(options, path, value), code, at)
  })

  it('refuses air springs that do not carry the load', () => {
    expectRefusal(builder, changed(changed(options, 'mount', air), 'payload.mass', 150), 'invalid-option', 'mount')
  })
})

describe('air springs', () => {
  it('must carry what stands on them within 1 %', () => {
    const on = (mass: number) => () => pneumaticIsolation({ payload: { mass }, mount: air })
    for (const mass of [99.02, 100, 100.98]) expect(on(mass)).not.toThrow()
    for (const mass of [98.9, 101.1]) expect(refusal(on(mass)).details.path).toBe('mount')
    const error = refusal(on(120))
    expect(error.details).toMatchObject({ unit: 'N' })
    expect(error.details.value as number).toBeCloseTo(100 * standardGravity, 9)
  })

  it.each([
    ['mount', { stiffness: 1e5 }, 'invalid-option', 'mount'],
    ['mount', { ...air, gas: undefined }, 'invalid-option', 'mount.gas'],
    ['mount', { ...air, area: -1 }, 'out-of-range', 'mount.area'],
    ['levelling', {}, 'invalid-option', 'levelling.flowGain'],
    ['levelling', { flowGain: 0 }, 'out-of-range', 'levelling.flowGain'],
    ['levelling', { flowGain: -1 }, 'out-of-range', 'levelling.flowGain'],
    ['levelling', { flowGain: 1e-3, deadBand: -1e-4 }, 'out-of-range', 'levelling.deadBand'],
    ['levelling', { flowGain: 1e-3, delay: -1 }, 'out-of-range', 'levelling.delay'],
    ['levelling', { flowGain: 1e-3, rate: 2 }, 'invalid-option', 'levelling.rate'],
    ['levelling', { flowGain: 1e-3, controller: twoPorts }, 'dimension-mismatch', 'levelling.controller'],
    ['levelling', { flowGain: 1e-3, controller: 5 }, 'invalid-option', 'levelling.controller'],
    ['levelling', { kind: 'Mount', flowGain: 1e-3 }, 'invalid-option', 'levelling.kind'],
  ])('pneumaticIsolation refuses %s %o as %s at %s', (path, value, code, at) => {
    expectRefusal('pneumaticIsolation', changed(pneumatic, path, value), code, at)
  })

  it('are what levelling needs', () => {
    const levelling = { flowGain: 1e-3 }
    expectRefusal('activelyDampedIsolation', { ...damped, levelling }, 'invalid-option', 'levelling')
    expectRefusal('parallelActiveIsolation', { ...parallel, levelling }, 'invalid-option', 'levelling')
    expectRefusal('passiveIsolation', { ...passive, levelling }, 'invalid-option', 'levelling')
    expectRefusal('seriesActiveIsolation', { ...series, levelling }, 'invalid-option', 'levelling')
  })
})

describe('inertial paths', () => {
  it.each([
    ['damping', {}, 'invalid-option', 'damping'],
    ['damping', { gain: 1, dampingRatio: 0.5 }, 'invalid-option', 'damping'],
    ['damping', undefined, 'invalid-option', 'damping'],
    ['damping.gain', Number.NaN, 'not-finite', 'damping.gain'],
    ['damping', { dampingRatio: -0.1 }, 'out-of-range', 'damping.dampingRatio'],
    ['damping.delay', -1e-3, 'out-of-range', 'damping.delay'],
    ['damping.ratio', 1, 'invalid-option', 'damping.ratio'],
    ['damping.sensor', { naturalFrequency: 0, dampingRatio: 1 }, 'out-of-range', 'damping.sensor.naturalFrequency'],
    ['damping.sensor', { naturalFrequency: 1 }, 'invalid-option', 'damping.sensor.dampingRatio'],
    ['damping.sensor', { naturalFrequency: 1, dampingRatio: 1, gain: 2 }, 'invalid-option', 'damping.sensor.gain'],
    ['damping.sensor', accelerometer, 'unsupported', 'damping.sensor.measures'],
    ['damping.sensor', 'geophone', 'invalid-option', 'damping.sensor'],
    ['damping.actuator', { bandwidth: 0 }, 'out-of-range', 'damping.actuator.bandwidth'],
    ['damping.actuator', {}, 'invalid-option', 'damping.actuator.bandwidth'],
    ['damping.actuator', { bandwidth: 1, delay: 1 }, 'invalid-option', 'damping.actuator.delay'],
  ])('activelyDampedIsolation refuses %s %o as %s at %s', (path, value, code, at) => {
    expectRefusal('activelyDampedIsolation', changed(damped, path, value), code, at)
  })

  it.each([
    ['feedback', undefined, 'invalid-option', 'feedback'],
    ['feedback', {}, 'invalid-option', 'feedback.velocityGain'],
    ['feedback.accelerationGain', Number.POSITIVE_INFINITY, 'not-finite', 'feedback.accelerationGain'],
    ['feedback.gain', 3, 'invalid-option', 'feedback.gain'],
    ['feedback.sensor', accelerometer, 'unsupported', 'feedback.sensor.measures'],
    ['feedforward', {}, 'invalid-option', 'feedforward.gain'],
    ['feedforward', { gain: 1, delay: -1 }, 'out-of-range', 'feedforward.delay'],
    ['feedforward', { gain: 1, sensor: {} }, 'invalid-option', 'feedforward.sensor'],
    ['feedforward', { gain: 1, actuator: { bandwidth: -1 } }, 'out-of-range', 'feedforward.actuator.bandwidth'],
    ['feedforward', null, 'invalid-option', 'feedforward'],
  ])('parallelActiveIsolation refuses %s %o as %s at %s', (path, value, code, at) => {
    expectRefusal('parallelActiveIsolation', changed(parallel, path, value), code, at)
  })

  it.each([
    ['activeStage', undefined, 'invalid-option', 'activeStage'],
    ['activeStage.mass', 0, 'out-of-range', 'activeStage.mass'],
    ['activeStage.sensorLocation', 'payload', 'invalid-option', 'activeStage.sensorLocation'],
    ['activeStage.sensorLocation', undefined, 'invalid-option', 'activeStage.sensorLocation'],
    ['activeStage.actuator', undefined, 'invalid-option', 'activeStage.actuator'],
    ['activeStage.actuator.stiffness', 0, 'out-of-range', 'activeStage.actuator.stiffness'],
    ['activeStage.actuator.damping', -1, 'out-of-range', 'activeStage.actuator.damping'],
    ['activeStage.actuator.stroke', undefined, 'invalid-option', 'activeStage.actuator.stroke'],
    ['activeStage.actuator.bandwidth', 5, 'invalid-option', 'activeStage.actuator.bandwidth'],
    ['activeStage.controller', undefined, 'invalid-option', 'activeStage.controller'],
    ['activeStage.controller', {}, 'invalid-option', 'activeStage.controller.gain'],
    ['activeStage.controller.highPass', 0, 'out-of-range', 'activeStage.controller.highPass'],
    ['activeStage.controller.lowPass', Number.NaN, 'not-finite', 'activeStage.controller.lowPass'],
    ['activeStage.controller.order', 2, 'invalid-option', 'activeStage.controller.order'],
    ['activeStage.controller', twoPorts, 'dimension-mismatch', 'activeStage.controller'],
    ['activeStage.controller', gain([[1, 2]]), 'dimension-mismatch', 'activeStage.controller'],
    ['activeStage.sensor', accelerometer, 'unsupported', 'activeStage.sensor.measures'],
    ['activeStage.delay', '1 ms', 'invalid-option', 'activeStage.delay'],
    ['activeStage.stroke', 1, 'invalid-option', 'activeStage.stroke'],
  ])('seriesActiveIsolation refuses %s %o as %s at %s', (path, value, code, at) => {
    expectRefusal('seriesActiveIsolation', changed(series, path, value), code, at)
  })
})

describe('stackedIsolation', () => {
  it.each([
    ['lower.payload.mass', -1, 'out-of-range', 'lower.payload.mass'],
    ['upper.mount.stiffness', Number.NaN, 'not-finite', 'upper.mount.stiffness'],
    ['upper', undefined, 'invalid-option', 'upper'],
    ['lower', null, 'invalid-option', 'lower'],
    ['lower', 'passive', 'invalid-option', 'lower'],
    ['lower.concept', 'rubber', 'invalid-option', 'lower.concept'],
    ['upper.concept', undefined, 'invalid-option', 'upper.concept'],
    ['lower.colour', 1, 'invalid-option', 'lower.colour'],
    ['middle', storey, 'invalid-option', 'middle'],
    ['upper', { concept: 'stacked', lower: storey }, 'invalid-option', 'upper.upper'],
    [
      'upper',
      { concept: 'stacked', ...(changed(stack, 'upper.payload.mass', 0) as object) },
      'out-of-range',
      'upper.upper.payload.mass',
    ],
    [
      'lower',
      { concept: 'stacked', ...(changed(stack, 'lower.payload.mass', 0) as object) },
      'out-of-range',
      'lower.lower.payload.mass',
    ],
    [
      'lower',
      { concept: 'seriesActive', ...(changed(series, 'activeStage.controller.gain', 'x') as object) },
      'invalid-option',
      'lower.activeStage.controller.gain',
    ],
  ])('refuses %s %o as %s at %s', (path, value, code, at) => {
    expectRefusal('stackedIsolation', changed(stack, path, value), code, at)
  })
})

describe('isolation', () => {
  it.each([
    [{ concept: 'nonsense' }, 'concept'],
    [{}, 'concept'],
    [{ concept: 'toString' }, 'concept'],
    [{ concept: 'passive', payload, mount, count: 1, levelling: {} }, 'levelling'],
    [null, ''],
    ['passive', ''],
  ])('refuses %o at "%s"', (options, at) => {
    expectRefusal('isolation', options, 'invalid-option', at)
  })

  it('says what would have been allowed', () => {
    const error = refusal(() => isolation({ concept: 'nonsense' } as never))
    expect(error.message).toMatch(/^isolation: concept must be one of 'passive', .* got 'nonsense'$/)
    expect(refusal(() => passiveIsolation({ payload: { mass: -3 }, mount })).message).toBe(
      'passiveIsolation: payload.mass must be a finite number above 0 [kg], got -3',
    )
  })
})

describe('read-offs', () => {
  const model = passiveIsolation(passive)

  it.each([
    ['transmissibility', (value: never) => transmissibility(value, [1])],
    ['compliance', (value: never) => compliance(value, [1])],
    ['isolationSummary', isolationSummary],
    ['loopMargins', loopMargins],
    ['controlElements', controlElements],
    ['activeBand', (value: never) => activeBand(value, { improvement: 2 })],
  ] as [string, (value: never) => unknown][])('%s refuses what is no model', (name, read) => {
    for (const value of [null, undefined, 7, {}, { kind: 'IsolationModel' }, model.closed]) {
      const error = refusal(() => read(value as never))
      expect([error.code, error.details.function]).toEqual(['invalid-option', name])
    }
  })

  it('refuse a grid that is none', () => {
    for (const grid of [[], [2, 1], [-1, 1], [Number.NaN], '1, 2']) {
      expect(() => transmissibility(model, grid as never)).toThrow(expect.objectContaining({ name: 'IsolationError' }))
      expect(() => compliance(model, grid as never)).toThrow(expect.objectContaining({ name: 'IsolationError' }))
    }
  })

  it('refuse an improvement below 1 and unknown keys', () => {
    expect(refusal(() => activeBand(model, { improvement: 0.5 })).details.path).toBe('improvement')
    expect(refusal(() => activeBand(model, { improvement: 2, from: 1 } as never)).details.path).toBe('from')
  })
})
