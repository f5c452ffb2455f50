import { describe, expect, it } from 'vitest'
import { piezoCurrent, piezoStack, piezoTravel, pneumaticActuator, voiceCoil } from '../../../src/elements/index.js'
import { channel, frequencyResponse, magnitude, phaseDegrees, poles } from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

describe('the electrical side of a piezo stack', () => {
  const options = { stiffness: 30e6, stroke: 60e-6 }
  const drive = { capacitance: 6e-6, voltage: 100 }

  it('travels less against a spring', () => {
    // From memory, two springs in series: 54.5455, 30 and 13.8462 µm against 3, 30 and 100 N/µm.
    const travels = [3e6, 30e6, 100e6].map(
      (springStiffness) => piezoTravel(piezoStack(options), { springStiffness }) * 1e6,
    )
    expect(travels[0]).toBeCloseTo(54.5455, 4)
    expect(travels[1]).toBeCloseTo(30, 10)
    expect(travels[2]).toBeCloseTo(13.8462, 4)
  })

  it('draws 0.19 A at 100 Hz and 100 V, a third of that on average', () => {
    // From memory of a capacitor: 0.188496 A peak, 0.06 A average while charging.
    const peak = piezoCurrent(piezoStack({ ...options, drive }), { frequency: 100, travel: 60e-6 })
    expect(peak).toBeCloseTo(0.188496, 6)
    expect(peak / Math.PI).toBeCloseTo(0.06, 10)
  })

  it('sets corner and rate', () => {
    // From memory, 1/(2πRC) of 100 Ω and 6 µF: 265.258 Hz. Rate computed from I/(C·V)·stroke = 0.2/(6e-6·100)·60e-6.
    const stack = piezoStack({ ...options, drive: { ...drive, resistance: 100, maxCurrent: 0.2 } })
    expect(poles(stack.dynamics)[0]?.naturalFrequency).toBeCloseTo(265.258, 3)
    expect(stack.limits.rate).toBeCloseTo(0.02, 12)
    expect(stack.drive).toEqual(drive)
  })

  it.each([
    [{ bandwidth: 10, drive: { ...drive, resistance: 1 } }, 'bandwidth'],
    [{ rate: 10, drive: { ...drive, maxCurrent: 1 } }, 'rate'],
    [{ drive: { ...drive, voltage: 0 } }, 'drive.voltage'],
    [{ drive: { ...drive, charge: 0 } }, 'drive.charge'],
  ])('refuses %o at %s', (more, path) => {
    expect(refusal(() => piezoStack({ ...options, ...more })).details.path).toBe(path)
  })

  it('is needed for a current, and bounds the travel', () => {
    expect(refusal(() => piezoCurrent(piezoStack(options), { frequency: 1, travel: 1e-6 })).details.path).toBe(
      'stack.drive',
    )
    const stack = piezoStack({ ...options, drive })
    expect(refusal(() => piezoCurrent(stack, { frequency: 1, travel: 61e-6 })).details.path).toBe('travel')
    expect(refusal(() => piezoTravel(stack, { springStiffness: -1 })).details.path).toBe('springStiffness')
  })
})

describe('the heat of a voice coil', () => {
  it('bounds the continuous force', () => {
    // 20 N/A / √(4 Ω) · √(25 W) = 50 N, computed from the closed form F = k·√(P/R)
    const coil = voiceCoil({ forceConstant: 20, resistance: 4, maxHeat: 25 })
    expect(coil.limits).toEqual({ continuousForce: 50 })
    expect(refusal(() => voiceCoil({ forceConstant: 20, resistance: 4, maxHeat: 0 })).details.path).toBe('maxHeat')
  })
})

describe('pneumaticActuator', () => {
  it('lags and waits', () => {
    // Computed from the closed form at the corner of 3 Hz: 1/√2, −45° − 360°·3·0.01 = −55.8°.
    const { dynamics, limits, kind } = pneumaticActuator({ bandwidth: 3, delay: 0.01, maxForce: 500, maxRate: 8000 })
    const series = channel(frequencyResponse(dynamics, [3]), { input: 'command', output: 'force' })
    expect(magnitude(series)[0]).toBeCloseTo(Math.SQRT1_2, 12)
    expect(phaseDegrees(series)[0]).toBeCloseTo(-55.8, 10)
    expect({ kind, limits, role: dynamics.role }).toEqual({
      kind: 'Actuator',
      limits: { force: 500, rate: 8000 },
      role: 'actuator',
    })
    expect(pneumaticActuator({ bandwidth: 3 }).dynamics.delays).toBeNull()
  })

  it('refuses what is no valve', () => {
    expect(refusal(() => pneumaticActuator({ bandwidth: 3, delay: -1 })).details.path).toBe('delay')
    expect(refusal(() => pneumaticActuator({} as never)).details.path).toBe('bandwidth')
  })
})

describe('a voice coil on a bounded voltage', () => {
  it('is bounded in force and in its rate', () => {
    // Computed from the closed forms k·V/R = 20·12/4 = 60 N and k·V/L = 20·12/2e-3 = 120 kN/s.
    const coil = { forceConstant: 20, resistance: 4, maxVoltage: 12 }
    const { limits } = voiceCoil({ ...coil, inductance: 2e-3 })
    expect(limits.force).toBeCloseTo(60, 12)
    expect(limits.rate).toBeCloseTo(120e3, 8)
    expect(voiceCoil(coil).limits).toEqual({ force: 60 })
    expect(refusal(() => voiceCoil({ ...coil, maxVoltage: 0 })).details.path).toBe('maxVoltage')
  })
})
