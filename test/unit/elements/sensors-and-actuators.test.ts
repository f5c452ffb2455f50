import { describe, expect, it } from 'vitest'
import { geophone, idealActuator, piezoStack, voiceCoil } from '../../../src/elements/index.js'
import {
  channel,
  frequencyResponse,
  magnitude,
  phaseDegrees,
  poles,
  type StateSpace,
} from '../../../src/systems/index.js'

function response(dynamics: StateSpace, frequencies: number[]): { modulus: number[]; degrees: number[] } {
  const whole = frequencyResponse(dynamics, frequencies)
  const series = channel(whole, { input: dynamics.inputs[0] as string, output: dynamics.outputs[0] as string })
  return { modulus: Array.from(magnitude(series)), degrees: Array.from(phaseDegrees(series)) }
}

describe('geophone', () => {
  it('of 4.5 Hz and damping 0.56 has the tabulated response', () => {
    // E. Wielandt, New Manual of Seismological Observatory Practice, chapter 5 (formula); values of 28.8 V/(m/s) divided by
    // 28.8, seven digits.
    const { dynamics } = geophone({ naturalFrequency: 4.5, dampingRatio: 0.56 })
    const { modulus } = response(dynamics, [0.1, 0.5, 1, 4.5, 10, 100])
    const volts = [0.0142248, 0.357176, 1.44732, 25.714286, 30.527557, 28.821707]
    const halfDigit = [5e-8, 5e-7, 5e-7, 5e-7, 5e-7, 5e-7]
    volts.forEach((value, k) => {
      expect(Math.abs(28.8 * (modulus[k] as number) - value)).toBeLessThanOrEqual(1.01 * (halfDigit[k] as number))
    })
  })

  it('of 1 Hz and damping 0.7 has the tabulated response', () => {
    // As above: 0.243685, 0.714286, 1.000150.
    const { modulus } = response(geophone({ naturalFrequency: 1, dampingRatio: 0.7 }).dynamics, [0.5, 1, 10])
    expect(modulus[0]).toBeCloseTo(0.243685, 6)
    expect(modulus[1]).toBeCloseTo(0.714286, 6)
    expect(modulus[2]).toBeCloseTo(1.00015, 6)
  })

  it('is an inertial sensor of velocity with its poles at the natural frequency', () => {
    const sensor = geophone({ naturalFrequency: 2, dampingRatio: 0.28 })
    expect(sensor).toMatchObject({ kind: 'Sensor', measures: 'velocity', noise: null })
    expect(sensor.dynamics).toMatchObject({ role: 'inertialSensor', inputs: ['motion'], outputs: ['signal'] })
    for (const pole of poles(sensor.dynamics)) {
      expect(pole.naturalFrequency).toBeCloseTo(2, 13)
      expect(pole.dampingRatio).toBeCloseTo(0.28, 13)
    }
  })

  it('copies its noise table and checks it', () => {
    const frequency = [0.1, 1, 10]
    const noise = { frequency, amplitudeDensity: [1e-7, 1e-9, 1e-10] }
    const sensor = geophone({ naturalFrequency: 2, dampingRatio: 0.28, noise })
    frequency[0] = 5
    expect(Array.from(sensor.noise?.frequency ?? [])).toEqual([0.1, 1, 10])
    const bad = (table: object) => () => geophone({ naturalFrequency: 2, dampingRatio: 0.28, noise: table as never })
    expect(bad({ frequency: [1, 2], amplitudeDensity: [1] })).toThrow(
      expect.objectContaining({ code: 'dimension-mismatch' }),
    )
    expect(bad({ frequency: [2, 1], amplitudeDensity: [1, 1] })).toThrow('noise.frequency[1] must ascend')
    expect(bad({ frequency: [1, 2], amplitudeDensity: [1, -1] })).toThrow('noise.amplitudeDensity[1]')
    expect(bad({ frequency: [1, 2], density: [1, 1] })).toThrow('noise.density is not an option')
  })

  it('refuses a sensor without damping or frequency', () => {
    expect(() => geophone({ naturalFrequency: 0, dampingRatio: 0.7 })).toThrow('geophone: naturalFrequency must be')
    expect(() => geophone({ naturalFrequency: 1, dampingRatio: 0 })).toThrow('geophone: dampingRatio must be')
  })
})

describe('idealActuator', () => {
  it('is exactly 1, or a first-order lag', () => {
    // Computed from the closed form 1/√2 and −45° at the corner.
    const lag = response(idealActuator({ bandwidth: 30 }).dynamics, [30])
    expect(lag.modulus[0]).toBeCloseTo(Math.SQRT1_2, 13)
    expect(lag.degrees[0]).toBeCloseTo(-45, 12)
    expect(response(idealActuator().dynamics, [1, 1e4]).modulus).toEqual([1, 1])
    expect(idealActuator()).toMatchObject({ kind: 'Actuator', limits: {}, noise: null, dynamics: { role: 'actuator' } })
  })

  it('refuses a bandwidth that is none', () => {
    expect(() => idealActuator({ bandwidth: 0 })).toThrow(
      'idealActuator: bandwidth must be a finite number above 0 [Hz], got 0',
    )
  })
})

describe('piezoStack', () => {
  it('of 30 N/µm and 60 µm is blocked at 1800 N', () => {
    // Common practice, no source: blocked force = stiffness · free stroke.
    const stack = piezoStack({ stiffness: 30e6, stroke: 60e-6, bandwidth: 265.258, rate: 0.02 })
    expect(stack.limits.force).toBeCloseTo(1800, 9)
    expect(stack.limits).toMatchObject({ stroke: 60e-6, rate: 0.02 })
    expect(stack.dynamics.outputs).toEqual(['expansion'])
    expect(response(stack.dynamics, [265.258]).modulus[0]).toBeCloseTo(Math.SQRT1_2, 13)
    expect(stack).toMatchObject({ kind: 'Actuator', stiffness: 30e6, damping: 0, stroke: 60e-6 })
  })

  it.each([
    [{ stiffness: 30e6 }, 'stroke'],
    [{ stiffness: -1, stroke: 1e-5 }, 'stiffness'],
    [{ stiffness: 1, stroke: 1e-5, damping: -1 }, 'damping'],
    [{ stiffness: 1, stroke: 1e-5, rate: 0 }, 'rate'],
    [{ stiffness: 1e300, stroke: 1e300 }, ''],
  ])('refuses %o at "%s"', (options, path) => {
    expect(() => piezoStack(options as never)).toThrow(
      expect.objectContaining({ name: 'IsolationError', details: expect.objectContaining({ path }) }),
    )
  })
})

describe('voiceCoil', () => {
  const coil = { forceConstant: 20, resistance: 4 }

  it('on a voltage amplifier lags by its inductance', () => {
    // From memory of the coil equations, numbers computed: 4 Ω and 2 mH give 318.310 Hz; 100 Hz: 0.954028, −17.4406°;
    // 10 Hz: −1.7994°.
    const { dynamics } = voiceCoil({ ...coil, inductance: 2e-3, drive: 'voltage' })
    expect(poles(dynamics)[0]?.naturalFrequency).toBeCloseTo(318.31, 3)
    const { modulus, degrees } = response(dynamics, [10, 100])
    expect(degrees[0]).toBeCloseTo(-1.7994, 4)
    expect(modulus[1]).toBeCloseTo(0.954028, 6)
    expect(degrees[1]).toBeCloseTo(-17.4406, 4)
  })

  it('on a voltage amplifier damps what it is fixed to', () => {
    // As above: k²/R = 100 N·s/m.
    expect(voiceCoil({ ...coil, drive: 'voltage' }).backEmf).toEqual({
      kind: 'Mount',
      stiffness: 0,
      damping: 100,
      relaxations: [],
    })
    const branch = voiceCoil({ ...coil, inductance: 2e-3, drive: 'voltage' }).backEmf?.relaxations[0]
    expect((branch?.stiffness ?? 0) * (branch?.time ?? 0)).toBeCloseTo(100, 10)
    expect(branch?.time).toBeCloseTo(5e-4, 16)
  })

  it('on a current amplifier does neither', () => {
    const current = voiceCoil({ ...coil, inductance: 2e-3 })
    expect(current.backEmf).toBeNull()
    expect(current.dynamics.states).toEqual([])
    expect(poles(voiceCoil({ ...coil, bandwidth: 500 }).dynamics)[0]?.naturalFrequency).toBeCloseTo(500, 10)
  })

  it('costs 25 W at 50 N, and keeps the tighter of two limits', () => {
    // As above: k/√R = 10, so (50/10)² = 25 W.
    expect((50 / voiceCoil(coil).motorConstant) ** 2).toBeCloseTo(25, 12)
    expect(voiceCoil({ ...coil, maxForce: 50, maxCurrent: 2, stroke: 4e-3 }).limits).toEqual({
      force: 40,
      stroke: 4e-3,
    })
    expect(voiceCoil({ ...coil, maxForce: 30, maxCurrent: 2 }).limits).toEqual({ force: 30 })
    expect(voiceCoil(coil).limits).toEqual({})
  })

  it.each([
    [{ ...coil, drive: 'voltage', bandwidth: 100 }, 'bandwidth'],
    [{ ...coil, drive: 'charge' }, 'drive'],
    [{ ...coil, resistance: 0 }, 'resistance'],
    [{ ...coil, inductance: -1 }, 'inductance'],
    [{ ...coil, maxForce: 0 }, 'maxForce'],
    [{ resistance: 4 }, 'forceConstant'],
    [{ ...coil, gain: 1 }, 'gain'],
  ])('refuses %o at %s', (options, path) => {
    expect(() => voiceCoil(options as never)).toThrow(
      expect.objectContaining({ name: 'IsolationError', details: expect.objectContaining({ path }) }),
    )
  })
})
