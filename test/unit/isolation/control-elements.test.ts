import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { airSpring, standardGravity } from '../../../src/elements/index.js'
import {
  activeBand,
  activelyDampedIsolation,
  controlElements,
  type IsolationModel,
  type IsolationOptions,
  isolation,
  loopMargins,
  parallelActiveIsolation,
  passiveIsolation,
  pneumaticIsolation,
  type SeriesActiveIsolationOptions,
  seriesActiveIsolation,
  stackedIsolation,
} from '../../../src/isolation/index.js'
import { connect, gain, highPass, lowPass, replaceBlock, transferFunction } from '../../../src/systems/index.js'
import { modulusAt } from './read-off.js'

const payload = { mass: 1000 }
const mount = { stiffness: 1e6, damping: 3e3 }
const sensor = { naturalFrequency: 0.5, dampingRatio: 0.7 }
const damped = activelyDampedIsolation({ payload, mount, damping: { dampingRatio: 0.5, sensor } })
const air = airSpring({ area: 0.02, volume: 4e-3, load: 500 * standardGravity, diaphragmDamping: 500 })
const cases = JSON.parse(readFileSync(new URL('../../reference/data/concepts.json', import.meta.url), 'utf8'))
  .cases as { id: string; options: SeriesActiveIsolationOptions }[]
const seriesCase = cases.find(({ id }) => id === 'series-activeStage')?.options as SeriesActiveIsolationOptions

/** The same model around another diagram. */
const rebuilt = (model: IsolationModel, diagram: IsolationModel['diagram']): IsolationModel => ({
  ...model,
  diagram,
  closed: connect(diagram),
})

// Common practice, no source: active control needs an inertial sensor, a path from it to an actuator, and that actuator.
describe('controlElements', () => {
  it('finds all three in active damping, in parallel and in series concepts', () => {
    const all = { inertialSensor: true, controlLoop: true, actuator: true, active: true }
    expect(controlElements(damped)).toMatchObject(all)
    const feedback = { velocityGain: 3e4 }
    expect(controlElements(parallelActiveIsolation({ payload, mount, feedback }))).toMatchObject(all)
    const virtual = { velocityGain: 0, accelerationGain: 400, actuator: { bandwidth: 100 } }
    expect(controlElements(parallelActiveIsolation({ payload, mount, feedback: virtual }))).toMatchObject(all)
    expect(controlElements(seriesActiveIsolation(seriesCase))).toMatchObject(all)
    const activeStage = { ...seriesCase.activeStage, sensorLocation: 'floor' as const }
    expect(controlElements(seriesActiveIsolation({ ...seriesCase, activeStage }))).toMatchObject(all)
  })

  it('finds none in a passive mount', () => {
    expect(controlElements(passiveIsolation({ payload, mount }))).toMatchObject({
      inertialSensor: false,
      controlLoop: false,
      actuator: false,
      active: false,
    })
  })

  it.each([
    ['mechanical', {}],
    ['electronic', { controller: lowPass({ cutoff: 2 }) }],
    ['electronic with a delay', { controller: gain(1), delay: 0.02 }],
    ['electronic with a high-pass', { controller: highPass({ cutoff: 0.01 }) }],
  ])('does not take %s levelling for active control', (_, levelling) => {
    const model = pneumaticIsolation({ payload, mount: air, count: 2, levelling: { flowGain: 1e-3, ...levelling } })
    const found = controlElements(model)
    expect(found).toMatchObject({ inertialSensor: false, controlLoop: false, actuator: false, active: false })
    expect(found.reasons.join(' ')).toContain('not active control')
  })

  it('judges the blocks of the diagram: a constant in place of the sensor is no inertial sensor', () => {
    const port = { inputs: ['velocity'], outputs: ['signal'] }
    const swapped = rebuilt(damped, replaceBlock(damped.diagram, 'sensor', gain(1, port)))
    expect(controlElements(swapped)).toMatchObject({ inertialSensor: false, controlLoop: false, active: false })
    // And back: a high-pass on the velocity is one, whatever it is called.
    const hand = highPass({ cutoff: 0.5, order: 2, input: 'velocity', output: 'signal' })
    const again = rebuilt(damped, replaceBlock(swapped.diagram, 'sensor', hand))
    expect(controlElements(again)).toMatchObject({ inertialSensor: true, active: true })
  })

  it('does not count a controller that does nothing', () => {
    const off = activelyDampedIsolation({ payload, mount, damping: { gain: 0, sensor } })
    expect(controlElements(off)).toMatchObject({
      inertialSensor: true,
      controlLoop: false,
      actuator: true,
      active: false,
    })
    const controllers = [
      { gain: 0, highPass: 0.02, lowPass: 60 },
      transferFunction({ numerator: [0], denominator: [1, 1] }),
      gain(0),
    ]
    for (const controller of controllers) {
      const activeStage = { ...seriesCase.activeStage, controller }
      expect(controlElements(seriesActiveIsolation({ ...seriesCase, activeStage }))).toMatchObject({
        inertialSensor: true,
        actuator: true,
        active: false,
      })
    }
    const feedback = { velocityGain: 0, accelerationGain: 0 }
    expect(controlElements(parallelActiveIsolation({ payload, mount, feedback })).active).toBe(false)
  })

  it('does not take the feedforward of a known force for active control', () => {
    const model = parallelActiveIsolation({
      payload,
      mount,
      feedback: { velocityGain: 0 },
      feedforward: { gain: 1 },
    })
    expect(controlElements(model)).toMatchObject({ actuator: true, controlLoop: false, active: false })
  })

  it.each<[IsolationModel, string[]]>([
    [
      passiveIsolation({ payload, mount }),
      ['no inertial sensor', 'no actuator', 'no inertial sensor drives an actuator'],
    ],
    [damped, ['inertial sensor: sensor', 'actuator: actuator', 'driven by an inertial sensor: actuator']],
    [
      parallelActiveIsolation({ payload, mount, feedback: { velocityGain: 0 }, feedforward: { gain: 1 } }),
      ['inertial sensor: sensor', 'actuator: actuator, feedforwardActuator', 'no inertial sensor drives an actuator'],
    ],
    [
      parallelActiveIsolation({ payload, mount, feedback: { velocityGain: 1 }, feedforward: { gain: 1 } }),
      ['inertial sensor: sensor', 'actuator: actuator, feedforwardActuator', 'driven by an inertial sensor: actuator'],
    ],
    [
      pneumaticIsolation({ payload, mount: air, count: 2, levelling: { flowGain: 1e-3 } }),
      [
        'no inertial sensor',
        'no actuator',
        'no inertial sensor drives an actuator',
        'levelling holds the height above the floor; it is not active control',
      ],
    ],
    [
      activelyDampedIsolation({ payload, mount: air, count: 2, levelling: { flowGain: 1e-3 }, damping: { gain: 1 } }),
      ['inertial sensor: sensor', 'actuator: actuator', 'driven by an inertial sensor: actuator'],
    ],
  ])('says what was found and what is missing', (model, reasons) => {
    expect(controlElements(model).reasons).toEqual(reasons)
  })

  it('looks into both storeys of a stack', () => {
    const passive: IsolationOptions = { concept: 'passive', payload, mount }
    const active: IsolationOptions = { concept: 'activelyDamped', payload, mount, damping: { dampingRatio: 0.5 } }
    expect(controlElements(stackedIsolation({ lower: passive, upper: passive })).active).toBe(false)
    expect(controlElements(stackedIsolation({ lower: passive, upper: active })).active).toBe(true)
    expect(controlElements(stackedIsolation({ lower: active, upper: passive })).active).toBe(true)
  })
})

describe('activeBand', () => {
  const series = (more: object = {}) =>
    seriesActiveIsolation({
      ...seriesCase,
      activeStage: { ...seriesCase.activeStage, controller: { gain: 3, highPass: 0.02, lowPass: 60 }, ...more },
    })

  it('of a stiff active stage reaches from 0.3 to 110 Hz at a modulus margin above 0.5', () => {
    // Common practice, no source.
    const bands = activeBand(series(), { improvement: 2 })
    expect(bands.length).toBe(1)
    expect(bands[0]?.[0]).toBeLessThan(0.3)
    expect(bands[0]?.[1]).toBeGreaterThan(110)
    expect(loopMargins(series())[0]?.margins.modulusMargin).toBeGreaterThan(0.5)
  })

  it('ends where |T| is half of what it is with the controller off', () => {
    const model = series()
    const off = series({ controller: { gain: 0, highPass: 0.02, lowPass: 60 } })
    const [[from, to] = [0, 0]] = activeBand(model, { improvement: 2 })
    // The ends are found to rounding; T is steep by a factor of order one per octave.
    for (const edge of [from, to]) expect(modulusAt(off, edge) / modulusAt(model, edge)).toBeCloseTo(2, 9)
    for (const inside of [from * 1.05, 10, to / 1.05]) {
      expect(modulusAt(off, inside) / modulusAt(model, inside)).toBeGreaterThan(2)
    }
    for (const outside of [from / 1.05, to * 1.05]) {
      expect(modulusAt(off, outside) / modulusAt(model, outside)).toBeLessThan(2)
    }
  })

  it('is empty without controllers, with one that does nothing, and for an improvement out of reach', () => {
    expect(activeBand(passiveIsolation({ payload, mount }), { improvement: 2 })).toEqual([])
    expect(activeBand(series({ controller: { gain: 0, highPass: 0.02, lowPass: 60 } }), { improvement: 2 })).toEqual([])
    expect(activeBand(series(), { improvement: 100 })).toEqual([])
  })

  it('of active damping lies around the resonance', () => {
    // Computed from the closed form |T_off/T| ≥ 2 with an undamped mount, f₀ = 1 Hz, ζ_s = 1:
    // |1 − r² + 2jr| ≥ 2|1 − r²|, thus 2r ≥ √3·|1 − r²|: r = 1/√3 and √3.
    const model = activelyDampedIsolation({
      payload: { mass: 1 },
      mount: { stiffness: (2 * Math.PI) ** 2 },
      damping: { dampingRatio: 1 },
    })
    const bands = activeBand(model, { improvement: 2 })
    expect(bands.length).toBe(1)
    expect(bands[0]?.[0]).toBeCloseTo(0.57735027, 8)
    expect(bands[0]?.[1]).toBeCloseTo(1.73205081, 8)
  })

  it('counts levelling as hardware', () => {
    const levelling = { flowGain: 2e-3, controller: gain(1) }
    expect(activeBand(pneumaticIsolation({ payload, mount: air, count: 2, levelling }), { improvement: 1.1 })).toEqual(
      [],
    )
  })

  it('of a stack holds the controllers of both storeys off', () => {
    const passive: IsolationOptions = { concept: 'passive', payload, mount }
    const active: IsolationOptions = { concept: 'activelyDamped', payload, mount, damping: { dampingRatio: 0.5 } }
    const bands = activeBand(stackedIsolation({ lower: active, upper: passive }), { improvement: 2 })
    expect(bands.length).toBeGreaterThan(0)
    expect(activeBand(isolation({ concept: 'stacked', lower: passive, upper: passive }), { improvement: 2 })).toEqual(
      [],
    )
  })
})
