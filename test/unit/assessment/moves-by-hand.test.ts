import { describe, expect, it } from 'vitest'
import { effort, extentOf, largestExtents } from '../../../src/assessment/effort.js'
import { actuatorEffort, assess, moveAndSettle } from '../../../src/assessment/index.js'
import { motionProfile, type Point, sampleProfile, springMount, voiceCoil } from '../../../src/elements/index.js'
import {
  activelyDampedIsolation,
  parallelActiveIsolation,
  passiveIsolation,
  sixAxisIsolation,
} from '../../../src/isolation/index.js'
import { simulate } from '../../../src/systems/index.js'
import { flatFloor } from './sites.js'

/** 5 kg go 50 mm with 4 m/s² and 400 m/s³: 20 N at most, 2000 N/s. */
const profile = motionProfile({ distance: 0.05, maxVelocity: 10, maxAcceleration: 4, maxJerk: 400 })
const move = { profile, movingMass: 5 }
const off = (found: number | null | undefined, expected: number) => Math.abs((found ?? Number.NaN) / expected - 1)

describe('a payload so stiff that it follows the force of the stage', () => {
  const payload = { mass: 100 }
  const mount = springMount({ mass: 100, naturalFrequency: 500, dampingRatio: 0.7 })
  const { stiffness } = mount
  const model = passiveIsolation({ payload, mount })
  /** Time by which x lags behind F/k while the force is a straight line: c/k = 2ζ/ω₀, closed form. */
  const lag = 1.4 / (1000 * Math.PI)
  const moved = () => moveAndSettle(model, { move, band: 5 / stiffness, sampleTime: 1e-5 })

  it('has settled before the stage arrives, where its force has fallen to that of the band', () => {
    const found = moved()
    // 2000 N/s · t = 5 N, t before the end, and the lag later
    expect(found.settlingTime).toBe(0)
    expect(off(found.settlingTimeFromStart, profile.duration - 0.0025 + lag)).toBeLessThan(1e-5)
    expect(found.moveTime).toBe(profile.duration)
    expect([found.kind, found.band, found.axis, found.restsAt]).toEqual(['MoveSettling', 5 / stiffness, null, 0])
  })

  it('is pushed back by F/k, then forwards, and the floor takes F', () => {
    const found = moved()
    // Turns of 500 Hz that the corners of a ramp of 10 ms excite come to less than two hundredths.
    expect(off(found.peakDisplacement, 20 / stiffness)).toBeLessThan(0.02)
    expect(off(found.peakStretch, found.peakDisplacement)).toBeLessThan(1e-9)
    expect(off(found.peakFloorForce, 20)).toBeLessThan(0.02)
    const at = (time: number) => found.displacement[Math.round(time / 1e-5)]
    expect(
      [off(at(0.06), -20 / stiffness), off(at(profile.duration - 0.06), 20 / stiffness)].every((x) => x < 0.01),
    ).toBe(true)
    expect(Array.from(found.stretch)).toEqual(Array.from(found.displacement, (value) => expect.closeTo(value, 18)))
  })

  it('is recorded from the start on, until it has settled', () => {
    const found = moved()
    const { time } = found
    expect([time[0], time[1]]).toEqual([0, 1e-5])
    expect(time.length).toBe(Math.ceil(profile.duration / 1e-5) + 1)
    const coarse = moveAndSettle(
      passiveIsolation({ payload, mount: springMount({ mass: 100, naturalFrequency: 2, dampingRatio: 0.3 }) }),
      {
        move,
        band: 1e-5,
        sampleTime: 0.01,
      },
    )
    // The record goes a tenth beyond the last exit.
    const until = profile.duration + 1.1 * (coarse.settlingTime as number)
    const last = coarse.time[coarse.time.length - 1]
    expect(last >= until && last < until + 0.01).toBe(true)
  })

  it('gives the same where a step of the record ends within a piece of the move', () => {
    const every = (sampleTime: number) => moveAndSettle(model, { move, band: 5 / stiffness, sampleTime }).displacement
    // Each sample is exact: every seventh of the fine record, to rounding
    const [fine, coarse] = [every(1e-4), every(7e-4)]
    coarse.forEach((value, k) => {
      if (7 * k < fine.length) expect(value * stiffness).toBeCloseTo(fine[7 * k] * stiffness, 9)
    })
  })
})

describe('six axes on equal springs about their centre of mass', () => {
  const mount = { stiffness: 1e5, damping: 1500, lateral: { stiffness: 1e5, damping: 1500 } }
  const model = sixAxisIsolation({
    payload: {
      mass: 1000,
      inertia: [90, 90, 160],
      centreOfMass: [0, 0, 0],
      supports: [-1, 1].flatMap((x) => [-1, 1].map((y) => ({ position: [x, y, 0] as Point, mount }))),
    },
  })
  const one = passiveIsolation({ payload: { mass: 1000 }, mount: { stiffness: 4e5, damping: 6000 } })

  it.each([
    ['x', [1, 0, 0]],
    ['y', [0, 3, 0]],
    ['z', [0, 0, 2]],
  ] as const)('settle along %s, where they are pushed, as one axis does', (axis, direction) => {
    const pushed = { ...move, direction, position: [0, 0, 0] as Point }
    for (const band of [1e-7, 1]) {
      const six = moveAndSettle(model, { move: pushed, band, sampleTime: 1e-3 })
      const expected = moveAndSettle(one, { move, band, sampleTime: 1e-3 })
      expect(six.axis).toBe(axis)
      expect(Math.abs((six.settlingTime as number) - (expected.settlingTime as number))).toBeLessThan(1e-9)
      for (const key of ['peakDisplacement', 'peakStretch', 'peakFloorForce'] as const)
        expect(off(six[key], expected[key])).toBeLessThan(1e-9)
      const places = [20, 100, 200]
      for (const key of ['displacement', 'stretch'] as const)
        for (const k of places) expect(six[key][k]).toBeCloseTo(expected[key][k], 12)
    }
  })
})

describe('what actuators give in a move', () => {
  const payload = { mass: 100 }
  const coil = voiceCoil({ forceConstant: 20, resistance: 4, maxForce: 50, maxHeat: 30 })
  const jerked = motionProfile({ distance: 0.05, maxVelocity: 10, maxAcceleration: 4 })

  it('has no end to its rate where feedforward follows a step of the acceleration', () => {
    const fed = parallelActiveIsolation({
      payload,
      mount: { stiffness: 16e3, damping: 500 },
      feedback: { velocityGain: 0 },
      feedforward: { gain: 1, actuator: coil },
    })
    const rate = (given: typeof profile) =>
      actuatorEffort(fed, { moves: [{ profile: given, movingMass: 5 }] }).efforts.find(
        ({ name }) => name === 'actuatorForceRate',
      )?.peak
    expect([rate(jerked), rate(profile)]).toEqual([Infinity, expect.closeTo(2000, 6)])
  })

  it('is what feedback and feedforward ask for together', () => {
    const both = parallelActiveIsolation({
      payload,
      mount: { stiffness: 16e3, damping: 500 },
      feedback: { velocityGain: 4000 },
      feedforward: { gain: 0.3, actuator: coil },
    })
    const { acceleration } = sampleProfile(profile, { sampleTime: 1e-4 })
    const reactionForce = acceleration.map((value) => -5 * value)
    const { actuatorForce } = simulate(both.closed, { inputs: { reactionForce }, sampleTime: 1e-4 }).outputs
    const { inMoves } = actuatorEffort(both, { moves: [move] }).efforts[0]
    // Samples of 0.1 ms of a force that turns within 10 ms
    expect(off(inMoves, Math.max(...actuatorForce.map(Math.abs)))).toBeLessThan(1e-4)
    expect(inMoves).not.toBeCloseTo(6, 1)
  })

  it('heats until the payload is still', () => {
    const damped = activelyDampedIsolation({
      payload,
      mount: { stiffness: 16e3 },
      damping: { gain: 300, actuator: coil },
    })
    const { efforts, heat } = actuatorEffort(damped, { moves: [move], actuators: { actuatorForce: coil } })
    // The same by simulation for 10 s in steps of 0.2 ms, force squared summed up: it fades to 1 %, 1e-4 of what it was
    const { acceleration } = sampleProfile(profile, { sampleTime: 2e-4 })
    const reactionForce = Float64Array.from({ length: 50_000 }, (_, k) => -5 * (acceleration[k] ?? 0))
    const { actuatorForce } = simulate(damped.closed, { inputs: { reactionForce }, sampleTime: 2e-4 }).outputs
    const square = actuatorForce.reduce((sum, value) => sum + value ** 2 * 2e-4, 0) / profile.duration
    expect(off(efforts.find(({ of }) => of === 'rms')?.inMoves, Math.sqrt(square))).toBeLessThan(1e-3)
    expect(off(heat[0].inMoves, square / 100)).toBeLessThan(2e-3)
    expect(off(efforts[0].inMoves, Math.max(...actuatorForce.map(Math.abs)))).toBeLessThan(1e-3)
  })

  it('is asked for by a site from samples a 200th of the move apart, or as it says', () => {
    const damped = activelyDampedIsolation({
      payload,
      mount: { stiffness: 16e3 },
      damping: { gain: 300, actuator: coil },
    })
    const site = (settling: object) => ({
      floor: flatFloor(1e-20, 0.5, 100),
      criterion: 'VC-A' as const,
      moves: [move],
      settling: { band: 1e-6, ...settling },
    })
    const peak = (settling: object) => assess(damped, site(settling)).effort.find(({ of }) => of === 'value')?.inMoves
    const fine = actuatorEffort(damped, { moves: [move] }).efforts[0].inMoves as number
    expect(off(peak({}), fine)).toBeLessThan(1e-3)
    expect(off(peak({ sampleTime: 1e-4 }), fine)).toBeLessThan(1e-5)
    // Samples further apart than the move is long see its ends and what comes of it alone.
    expect(peak({ sampleTime: 0.5 }) as number).toBeLessThan(0.9999 * fine)
  })
})

describe('loads on an actuator', () => {
  const wanted = { name: 'force', output: 'force', of: 'value', limit: 10, unit: 'N' } as const
  const load = (value: number, rate: number, rms: number) => new Map([['force', { value, rate, rms }]])

  it('add up: three times the rms, and the peaks on top; by squares what heats', () => {
    const all = [load(1, 10, 0.3), load(0.5, 20, 0.4), load(0.25, 30, 1.2)] as const
    expect(effort(wanted, ...all)).toEqual({
      ...wanted,
      rms: 1,
      inRecord: 0.5,
      inMoves: 0.25,
      peak: 3.75,
      headroom: 10 / 3.75,
    })
    expect(effort({ ...wanted, of: 'rate' }, ...all)).toMatchObject({ peak: 80, headroom: 0.125 })
    // √(0.09 + 0.16 + 1.44) = 1.3
    expect(effort({ ...wanted, of: 'rms' }, ...all).peak).toBeCloseTo(1.3, 12)
    expect(effort({ ...wanted, limit: null }, null, null, load(2, 2, 2))).toEqual({
      ...wanted,
      limit: null,
      rms: null,
      inRecord: null,
      inMoves: 2,
      peak: 2,
      headroom: null,
    })
    expect(effort(wanted, null, null, null)).toMatchObject({ peak: 0, headroom: Infinity })
  })

  it('that do not meet count by the largest of each', () => {
    expect(
      largestExtents([load(1, 20, 3), load(2, 10, 4), new Map([['other', { value: 1, rate: 1, rms: 1 }]])]),
    ).toEqual(
      new Map([
        ['force', { value: 2, rate: 20, rms: 4 }],
        ['other', { value: 1, rate: 1, rms: 1 }],
      ]),
    )
  })

  it('have the rms of their samples, by trapezoids, as if they came once in a while', () => {
    // (0 + 4)/2 + (4 + 16)/2 = 12, times 0.5 s over 1.5 s
    expect(extentOf(Float64Array.of(0, 2, -4), { value: 4, rate: 8, sampleTime: 0.5, over: 1.5 })).toEqual({
      value: 4,
      rate: 8,
      rms: 2,
    })
  })
})
