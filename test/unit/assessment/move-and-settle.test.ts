import { describe, expect, it } from 'vitest'
import { type Move, moveAndSettle } from '../../../src/assessment/index.js'
import { motionProfile, residualAmplitude, springMount } from '../../../src/elements/index.js'
import { parallelActiveIsolation, passiveIsolation, seriesActiveIsolation } from '../../../src/isolation/index.js'
import { refusal } from '../refusal.js'

// Table and stage 625 kg at 1.8 Hz, damping 0.07; 25 kg go 50 mm with ±4 m/s².
const payload = { mass: 625 }
const mount = springMount({ mass: 625, naturalFrequency: 1.8, dampingRatio: 0.07 })
const profile = motionProfile({ distance: 0.05, maxVelocity: 10, maxAcceleration: 4 })
const move: Move = { profile, movingMass: 25 }
const options = { move, band: 1e-6, sampleTime: 1e-3 }
/** 2·0.5·m·ω₀ */
const velocityGain = 7068.583470577035
const helped = (damping: number, gain: number, delay = 0) =>
  parallelActiveIsolation({ payload, mount, feedback: { velocityGain: damping, delay }, feedforward: { gain } })

describe('moveAndSettle', () => {
  it.each([
    // Closed form of a damped oscillator under two steps of force, last exit by root search on it. Settling goes as
    // ln(peak/band)/(ζω₀): 50 times less force only halves it.
    ['passive', passiveIsolation({ payload, mount }), 9.121662754],
    ['with active damping', helped(velocityGain, 0), 0.9688198985],
    ['with 98 % feedforward', helped(0, 0.98), 4.356724631],
    ['with both', helped(velocityGain, 0.98), 0.4732341408],
  ])('%s settles within 1 µm as by hand', (_, model, expected) => {
    const found = moveAndSettle(model, options)
    expect(found.settlingTime).toBeCloseTo(expected, 8)
    expect(found.settlingTimeFromStart).toBeCloseTo(expected + 0.2236067977, 8)
    expect(found.moveTime).toBeCloseTo(0.2236067977, 9)
    expect(found.padeOrder).toBeNull()
  })

  // As above: what swings when the stage stands still dies away as e^(−ζω₀t); where that envelope enters the window, two
  // digits, against the last exit, which lies at most half a period before.
  it.each([
    ['passive', passiveIsolation({ payload, mount }), 9.32, 0.07],
    ['with active damping', helped(velocityGain, 0), 1.09, 0.57],
    ['with 98 % feedforward', helped(0, 0.98), 4.38, 0.07],
    ['with both', helped(velocityGain, 0.98), 0.484, 0.57],
  ])('%s settles no later than its envelope, %d s', (_, model, envelope, ratio) => {
    const found = moveAndSettle(model, options).settlingTime as number
    const half = 1 / (2 * 1.8 * Math.sqrt(1 - ratio ** 2))
    expect(found).toBeLessThan(envelope)
    expect(found).toBeGreaterThan(envelope - half)
  })

  it('recoils by 1416 µm at most, which the springs take', () => {
    // As above; the free recoil is m_s·d/M = 2000 µm. Samples of 1 ms miss the top by less than 1e-4 of it.
    const found = moveAndSettle(passiveIsolation({ payload, mount }), options)
    expect(found.peakDisplacement * 1e6).toBeCloseTo(1415.5, 0)
    expect(found.peakStretch).toBeCloseTo(found.peakDisplacement, 12)
    expect(found.peakForce).toBeNull()
    expect(found.peakExpansion).toBeNull()
    // k·x on the floor, near the top of the swing.
    expect(found.peakFloorForce).toBeGreaterThan(79945 * 1.4155e-3)
    expect(found.stretch).toHaveLength(found.time.length)
  })

  it('needs 98 N for a feedforward of 98 % of 100 N', () => {
    expect(moveAndSettle(helped(0, 0.98), options).peakForce).toBeCloseTo(98, 10)
  })

  it('leaves what the closed form leaves', () => {
    // Damping of 1e-9 takes 1e-8 of the amplitude in a second; the jerk-limited move lies between samples.
    const smooth = motionProfile({ distance: 0.3, maxVelocity: 1, maxAcceleration: 10, maxJerk: 500 })
    const free = { mass: 1000, naturalFrequency: 1.5 }
    const barely = passiveIsolation({ payload: { mass: 1000 }, mount: springMount({ ...free, dampingRatio: 1e-9 }) })
    const amplitude = residualAmplitude(smooth, { naturalFrequency: 1.5, movingMass: 20, totalMass: 1000 })
    const swing = (band: number) =>
      moveAndSettle(barely, { move: { profile: smooth, movingMass: 20 }, band, sampleTime: 0.0071 }).settlingTime
    // 4.032471 mm, computed from the closed form with three sincs, confirmed by exact simulation.
    expect(amplitude * 1e3).toBeCloseTo(4.032471, 6)
    expect(swing(4.03248e-3)).toBe(0)
    expect(swing(4.03246e-3)).toBeGreaterThan(0)
  })

  it('takes delays as Padé approximations and says of which order', () => {
    // Computed by stepping the delay equation with 0.025 to 0.1 ms and extrapolating: 0.952872 with 3 ms.
    const found = moveAndSettle(helped(velocityGain, 0, 0.003), options)
    expect(found.padeOrder).toBe(6)
    expect(found.settlingTime).toBeCloseTo(0.952872, 5)
    const finer = moveAndSettle(helped(velocityGain, 0, 0.003), { ...options, padeOrder: 10 })
    expect(finer.padeOrder).toBe(10)
    expect(finer.settlingTime).toBeCloseTo(found.settlingTime as number, 9)
  })

  it('keeps what earlier moves of a row have left', () => {
    // Computed by repeating the closed form sixty times, last exit by line between 10 µs; a single move for comparison.
    const row = (repeatEvery: number) =>
      moveAndSettle(helped(velocityGain, 0), { ...options, band: 1e-5, move: { ...move, repeatEvery } })
    expect(row(1).settlingTime).toBeCloseTo(0.625434, 6)
    expect(row(10).settlingTime).toBeCloseTo(0.62552, 6)
    expect(row(1).time[row(1).time.length - 1]).toBe(1)
    expect(row(0.3)).toMatchObject({ settlingTime: null, settlingTimeFromStart: null })
  })

  it('counts from the start where the payload is still when the stage arrives', () => {
    const found = moveAndSettle(helped(velocityGain, 0), { ...options, band: 1e-3 })
    expect(found).toMatchObject({ settlingTime: 0, settlingTimeFromStart: 0 })
    const inside = moveAndSettle(passiveIsolation({ payload, mount }), { ...options, band: 1.05e-3, sampleTime: 1e-4 })
    expect(inside.settlingTime).toBeGreaterThan(0)
  })

  it('reports the expansion of a stiff stage', () => {
    const actuator = { stiffness: 2e9, damping: 1.5e5, stroke: 2e-5 }
    const controller = { gain: 3, highPass: 0.02, lowPass: 60 }
    const activeStage = { mass: 60, actuator, sensorLocation: 'activeStage' as const, controller }
    const stiff = { stiffness: 3.1e6, damping: 6500 }
    const model = seriesActiveIsolation({ payload: { mass: 1100 }, mount: stiff, count: 4, activeStage })
    const found = moveAndSettle(model, options)
    expect(found.peakForce).toBeNull()
    expect(found.peakExpansion).toBeGreaterThan(0)
  })

  it.each([
    [{ ...options, move: { ...move, direction: [1, 0, 0] as const } }, 'unsupported', 'move.direction'],
    [{ ...options, move: { ...move, repeatEvery: 0.1 } }, 'out-of-range', 'move.repeatEvery'],
    [{ ...options, move: { ...move, movingMass: 0 } }, 'out-of-range', 'move.movingMass'],
    [{ ...options, band: 0 }, 'out-of-range', 'band'],
    [{ ...options, sampleTime: 1e-9 }, 'out-of-range', 'sampleTime'],
    [{ ...options, padeOrder: 0 }, 'out-of-range', 'padeOrder'],
  ])('refuses %o', (given, code, path) => {
    const error = refusal(() => moveAndSettle(passiveIsolation({ payload, mount }), given))
    expect([error.code, error.details.path]).toEqual([code, path])
  })

  it('refuses a model that never settles', () => {
    const undamped = passiveIsolation({ payload, mount: { stiffness: 1e4 } })
    expect(refusal(() => moveAndSettle(undamped, options)).code).toBe('unstable')
  })
})
