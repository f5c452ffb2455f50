import { describe, expect, it } from 'vitest'
import { type ActuatorEffort, actuatorEffort, assess } from '../../../src/assessment/index.js'
import { motionProfile, type Point, piezoStack, pneumaticActuator, voiceCoil } from '../../../src/elements/index.js'
import {
  activelyDampedIsolation,
  parallelActiveIsolation,
  passiveIsolation,
  seriesActiveIsolation,
  simulateWithLimits,
  sixAxisIsolation,
  stackedIsolation,
} from '../../../src/isolation/index.js'
import { lowPass } from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'
import { flatFloor } from './sites.js'

const coil = voiceCoil({ forceConstant: 20, resistance: 4, maxForce: 50, maxHeat: 30, stroke: 6e-3 })
const payload = { mass: 100 }
const mount = { stiffness: 16e3 }
// ω₀ = √160 rad/s, ζ = √0.625
const damped = activelyDampedIsolation({ payload, mount, damping: { gain: 2000, actuator: coil } })
const actuators = { actuatorForce: coil }
const profile = motionProfile({ distance: 0.05, maxVelocity: 10, maxAcceleration: 4, maxJerk: 400 })
const rowsOf = ({ efforts }: ActuatorEffort) => Object.fromEntries(efforts.map((each) => [each.name, each]))

/** Lines between the points of a predicted density hold to 1e-4 of it; the ends of the floor cut off less than that. */
const predicted = 1e-4
/** A sampled integral of a square, or a peak that lies between two samples. */
const sampled = 1e-5
/** The samples and grids of two models of one motion differ. */
const sixAxes = 1e-5
/** Exact up to rounding. */
const rounding = 1e-9

function near(value: number | null | undefined, expected: number, tolerance: number): void {
  expect(Math.abs((value ?? Number.NaN) / expected - 1)).toBeLessThan(tolerance)
}

describe('under a floor spectrum', () => {
  const effort = () => actuatorEffort(damped, { floor: flatFloor(1e-8, 1e-4, 1e5), actuators })

  it('has the rms of the closed forms for white floor velocity', () => {
    const rows = rowsOf(effort())
    // Computed from the closed forms g·√(S₀ω₀/(8ζ)), ω₀ times that for the rate, and √(S₀(1 + 4ζ²)/(8ζω₀)) for the stretch
    // (s + 2ζω₀)/(s² + 2ζω₀s + ω₀²); the same by quadrature in Python to 3e-5.
    near(rows.actuatorForce?.rms, 0.282842712474619, predicted)
    near(rows.actuatorForceRate?.rms, 3.577708763999664, predicted)
    near(rows.actuatorStroke?.rms, 2.091650066335189e-5, predicted)
    // Over the force constant of 20 N/A
    near(rows.actuatorForceCurrent?.rms, 0.01414213562373095, predicted)
  })

  it('has headroom by three times the rms, and by the rms for what heats', () => {
    const found = effort()
    const rows = rowsOf(found)
    near(rows.actuatorForce?.headroom, 50 / (3 * 0.282842712474619), predicted)
    near(rows.actuatorStroke?.headroom, 3e-3 / (3 * 2.091650066335189e-5), predicted)
    near(rows.actuatorForceCurrent?.limit, 2.5, rounding)
    // The continuous force of 30 W is 10 N/√W · √30 √W.
    near(rows.actuatorForceRms?.limit, 54.772255750516614, rounding)
    near(rows.actuatorForceRms?.peak, 0.282842712474619, predicted)
    expect([rows.actuatorForceRate?.limit, rows.actuatorForceRate?.headroom]).toEqual([null, null])
    expect(found.tightest).toBe('actuatorStroke')
  })

  it('has the heat I²R of the coil', () => {
    const found = effort()
    const [heat] = found.heat
    // (0.2828 N / 10 N/√W)², at three times that 9 times as much, computed from the closed form
    near(heat?.mean, 8e-4, 2 * predicted)
    near(heat?.steady, 8e-4, 2 * predicted)
    near(heat?.peak, 7.2e-3, 2 * predicted)
    near(heat?.headroom, 37500, 2 * predicted)
    expect([heat?.limit, heat?.inMoves, heat?.inRecord]).toEqual([expect.closeTo(30, 9), null, null])
  })
})

describe('under a record', () => {
  const steps = (value: number) => new Float64Array(5001).fill(value)

  it('has peaks, rate and heat of a force that sets in', () => {
    const found = actuatorEffort(damped, {
      record: { inputs: { payloadForce: steps(10) }, sampleTime: 1e-3 },
      actuators,
    })
    const rows = rowsOf(found)
    // Computed from the closed forms gF/(mω₀)·exp(−ζ·acos ζ/√(1−ζ²)), gF/m, and g·F/m/√(4ζω₀³·5 s); the same by
    // integration in Python.
    near(rows.actuatorForce?.inRecord, 6.752347304742121, sampled)
    near(rows.actuatorForceRate?.peak, 200, rounding)
    near(rows.actuatorForceRms?.inRecord, 1.118033988749895, sampled)
    near(found.heat[0]?.inRecord, 0.0125, 2 * sampled)
    expect(rows.actuatorForce?.rms).toBe(null)
  })

  it('has peak and rate of the force where the floor is shaken', () => {
    const rows = rowsOf(
      actuatorEffort(damped, { record: { inputs: { floorVelocity: steps(1e-3) }, sampleTime: 1e-3 } }),
    )
    // Computed from the closed forms gV(1 + exp(−πζ/√(1−ζ²))) and gVω₀·exp(−ζ·acos ζ/√(1−ζ²))
    near(rows.actuatorForce?.peak, 2.0346439734315154, sampled)
    near(rows.actuatorForceRate?.peak, 10.803755687587394, sampled)
  })

  it('asks for as much as a simulation with limits that are never met', () => {
    const payloadForce = Float64Array.from({ length: 300 }, (_, k) => 30 * Math.sin(0.3 * k) * Math.exp(-0.02 * k))
    const record = { inputs: { payloadForce }, sampleTime: 0.01 }
    const late = activelyDampedIsolation({ payload, mount, damping: { gain: 2000, actuator: coil, delay: 2e-3 } })
    const found = actuatorEffort(late, { record, padeOrder: 4 })
    const { peaks } = simulateWithLimits(late, { ...record, limits: [], padeOrder: 4 })
    near(found.efforts[0]?.inRecord, peaks.actuatorForce ?? 0, rounding)
    expect(found.padeOrder).toBe(4)
  })
})

describe('under the moves of a stage', () => {
  const fed = parallelActiveIsolation({
    payload,
    mount: { stiffness: 16e3, damping: 500 },
    feedback: { velocityGain: 0 },
    feedforward: { gain: 1, actuator: coil },
  })
  const move = { profile, movingMass: 5 }

  it('feedforward gives the reaction of the stage, its jerk and its heat', () => {
    const found = actuatorEffort(fed, { moves: [move], actuators })
    const rows = rowsOf(found)
    near(rows.actuatorForce?.peak, 20, rounding)
    near(rows.actuatorForceRate?.peak, 2000, rounding)
    // 5 kg · √(∫a²dt / 0.23383 s), ∫a²dt = 2a²(t_c + 2t_j/3) with t_j = 0.01 s, t_c = 0.096915 s, computed from the closed form
    near(rows.actuatorForceRms?.inMoves, 18.82505965083213, sampled)
    near(found.heat[0]?.mean, 3.5438287085738795, 2 * sampled)
    near(found.heat[0]?.peak, 4, rounding)
    // Nothing is left to stretch the mounts.
    expect(rows.actuatorStroke?.peak).toBeLessThan(1e-12)
  })

  it('one every second heats by the second', () => {
    const found = actuatorEffort(fed, { moves: [{ ...move, repeatEvery: 1 }], actuators })
    // 25 kg²·∫a²dt / 1 s over (10 N/√W)²
    near(found.heat[0]?.inMoves, 0.8286545047573091, 2 * sampled)
  })

  it('the most demanding one counts, and what comes after it', () => {
    const [slow, fast] = [
      actuatorEffort(damped, { moves: [move] }),
      actuatorEffort(damped, { moves: [{ ...move, movingMass: 50 }] }),
    ]
    const both = actuatorEffort(damped, { moves: [move, { ...move, movingMass: 50 }] })
    expect(both.efforts).toEqual(fast.efforts)
    near(slow.efforts[0]?.peak, (fast.efforts[0]?.peak ?? 0) / 10, rounding)
  })

  it('loads that meet add up, and heat by their squares', () => {
    const record = { inputs: { payloadForce: new Float64Array(5001).fill(10) }, sampleTime: 1e-3 }
    const { efforts } = actuatorEffort(damped, { floor: flatFloor(1e-8, 1e-4, 1e5), record, moves: [move] })
    for (const { of, peak, rms, inRecord, inMoves } of efforts) {
      const parts = [rms ?? 0, inRecord ?? 0, inMoves ?? 0]
      near(peak, of === 'rms' ? Math.hypot(...parts) : 3 * parts[0] + parts[1] + parts[2], rounding)
    }
    expect(efforts.map(({ name }) => name)).toEqual([
      'actuatorForce',
      'actuatorForceRate',
      'actuatorForceRms',
      'actuatorStroke',
    ])
  })
})

describe('a piezo stack', () => {
  const drive = { capacitance: 6e-6, voltage: 100, maxCurrent: 0.5 }
  const stack = piezoStack({ stiffness: 30e6, damping: 3e3, stroke: 60e-6, drive })
  const stage = { mass: 60, actuator: stack, sensorLocation: 'floor' as const }
  const controller = { ...lowPass({ cutoff: 5, order: 1 }), C: [[1]], inputs: ['velocity'], outputs: ['expansion'] }
  const model = seriesActiveIsolation({
    payload,
    mount: { stiffness: 1e6, damping: 2000 },
    activeStage: { ...stage, controller: { ...controller, B: [[1]], role: 'controller' } as never },
  })

  it('needs expansion, rate and the current of its capacitance', () => {
    const rows = rowsOf(
      actuatorEffort(model, { floor: flatFloor(1e-12, 1e-3, 1e3), actuators: { actuatorExpansion: stack } }),
    )
    // With D = −V/(s + a), a = 2π·5 rad/s, between 0.001 and 1000 Hz: √(S₀(atan(2πf₂/a) − atan(2πf₁/a))/(2πa)), and of its rate
    // √(S₀(f₂ − f₁ − a/2π·(…))); computed from the closed form
    near(rows.actuatorExpansion?.rms, 8.905842946034868e-8, predicted)
    near(rows.actuatorExpansionRate?.rms, 3.149874629501438e-5, predicted)
    // C·V/stroke = 10 A per m/s
    near(rows.actuatorExpansionCurrent?.rms, 3.149874629501438e-4, predicted)
    near(rows.actuatorExpansionCurrent?.limit, 0.5, rounding)
    near(rows.actuatorExpansion?.limit, 30e-6, rounding)
  })
})

describe('of other models', () => {
  const floor = flatFloor(1e-8, 0.1, 100)

  it('in six axes is that of one axis, shared, with the stretch at each motor', () => {
    const corners = [-0.6, 0.6].flatMap((x) => [-0.4, 0.4].map((y): Point => [x, y, -0.5]))
    const soft = { stiffness: 4e3, damping: 20 }
    const supports = corners.map((position) => ({ position, mount: { ...soft, lateral: soft } }))
    const upright = corners.map((position) => ({ position, direction: [0, 0, 1] as const }))
    const six = sixAxisIsolation({
      payload: { mass: 100, inertia: [14, 24, 27], centreOfMass: [0, 0, 0], supports, gravity: 0 },
      damping: {
        sensors: upright,
        actuators: upright.map((place) => ({ ...place, actuator: coil })),
        loops: [{ axis: 'Z', gain: 2000 }],
      },
    })
    const one = activelyDampedIsolation({ payload, mount: soft, count: 4, damping: { gain: 2000, actuator: coil } })
    const load = {
      floor: { z: floor },
      moves: [{ profile, movingMass: 5, direction: [0, 0, 1], position: [0, 0, 0] }],
    } as const
    const [along, all] = [
      rowsOf(actuatorEffort(one, { floor, moves: [{ profile, movingMass: 5 }] })),
      rowsOf(actuatorEffort(six, { ...load, actuators: { actuatorForce3: coil } })),
    ]
    for (const key of ['rms', 'inMoves'] as const) {
      near(all.actuatorForce3?.[key], (along.actuatorForce?.[key] ?? 0) / 4, sixAxes)
      near(
        all.actuatorForceRate3?.[key] ?? all.actuatorForce3Rate?.[key],
        (along.actuatorForceRate?.[key] ?? 0) / 4,
        sixAxes,
      )
      near(all.actuatorStroke3?.[key], along.actuatorStroke?.[key] ?? 0, sixAxes)
    }
    expect(all.actuatorForce3Current?.limit).toBe(2.5)
    // The loop reads upright motion alone; what a level floor does to it is rounding, and is not followed.
    const shaken = rowsOf(actuatorEffort(six, { floor: { x: floor, z: floor } }))
    near(shaken.actuatorForce3?.rms, (along.actuatorForce?.rms ?? 0) / 4, sixAxes)
  })

  it('in a stack names both storeys', () => {
    const option = { payload, mount, damping: { gain: 2000, actuator: coil } }
    const stack = stackedIsolation({
      lower: { concept: 'activelyDamped', ...option },
      upper: { concept: 'activelyDamped', ...option },
    })
    const { efforts } = actuatorEffort(stack, { floor, actuators: { lower_actuatorForce: coil } })
    expect(efforts.map(({ name }) => name)).toEqual(
      expect.arrayContaining(['actuatorForce', 'lower_actuatorStroke', 'lower_actuatorForceCurrent']),
    )
  })

  it('is judged by assess with stroke and continuous force', () => {
    const { reasons, verdict } = assess(damped, { floor: flatFloor(1e-4, 0.1, 100), criterion: 'VC-E' })
    expect(verdict).toBe('fail')
    expect(reasons.join('\n')).toMatch(/actuatorStroke: needs 0\.00\d+ m \(3 rms\) of 0\.003 m/)
    expect(reasons.join('\n')).toMatch(/actuatorForceRms: needs [\d.]+ N \(rms\) of 54\.8 N/)
  })

  it('is refused where it makes no sense', () => {
    const refused = (call: () => unknown) => [refusal(call).code, refusal(call).details.path]
    expect(refused(() => actuatorEffort(damped, {}))).toEqual(['invalid-option', ''])
    expect(refused(() => actuatorEffort(damped, { payloadForce: floor, moves: [] }))[1]).toBe('floor')
    expect(refused(() => actuatorEffort(damped, { moves: [] }))[1]).toBe('moves')
    expect(
      refused(() => actuatorEffort(passiveIsolation({ payload, mount: { stiffness: 1, damping: 1 } }), { floor })),
    ).toEqual(['unsupported', 'model'])
    expect(refused(() => actuatorEffort(damped, { floor, actuators: { actuatorExpansion: coil } }))[1]).toBe(
      'actuators.actuatorExpansion',
    )
    const valve = pneumaticActuator({ bandwidth: 5 })
    expect(refused(() => actuatorEffort(damped, { floor, actuators: { actuatorForce: valve } }))).toEqual([
      'unsupported',
      'actuators.actuatorForce',
    ])
    const record = { inputs: { payloadForce: [1] }, sampleTime: 0.1 }
    expect(refused(() => actuatorEffort(damped, { record }))).toEqual(['out-of-range', 'record.inputs'])
    expect(refused(() => actuatorEffort(damped, { record: { ...record, sampleTime: 0 } }))[1]).toBe('record.sampleTime')
  })
})
