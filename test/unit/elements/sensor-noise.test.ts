import { describe, expect, it } from 'vitest'
import {
  accelerometer,
  cornerExtension,
  displacementSensor,
  filteredSensor,
  geophone,
  motionNoise,
  publishedNoise,
  type Sensor,
  seismometer,
} from '../../../src/elements/index.js'
import { channel, frequencyResponse, gain, magnitude, poles, type StateSpace } from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

const gainsOf = (dynamics: StateSpace, frequencies: number[]) =>
  Array.from(magnitude(channel(frequencyResponse(dynamics, frequencies), { input: 'motion', output: 'signal' })))

const displacementNoise = (sensor: Sensor, frequencies: number[]) =>
  Array.from(motionNoise(sensor, { quantity: 'displacement', frequencies }).amplitudeDensity)

/** Relative, for values stated to five or six digits. */
const digits5 = 2e-5
/** Pieces of 1/48 decade, straight in log-log, bend by 0.22 % at most at a corner of damping 0.5. */
const pieces = 3e-3

function expectRelative(values: readonly number[], expected: readonly number[], tolerance: number) {
  expect(values).toHaveLength(expected.length)
  expected.forEach((value, k) => {
    expect(Math.abs((values[k] as number) / value - 1)).toBeLessThan(tolerance)
  })
}

describe('a geophone made of its coil', () => {
  const coil = { movingMass: 0.0113, coilResistance: 381, openCircuitDampingRatio: 0.644 }
  const axis = { ...coil, naturalFrequency: 4.627, voltagePerVelocity: 28.7 }

  it('reaches the damping that has been published for its load resistors', () => {
    // Published targets 0.707 and 1.000 with loaded gains 28.2 and 25.6 for two load resistors (E. Wielandt's damping
    // formula, New Manual of Seismological Observatory Practice, chapter 5); four digits recomputed.
    const soft = geophone({ ...axis, loadResistance: 19517 })
    expect(soft.dampingRatio).toBeCloseTo(0.707004, 4)
    expect(soft.loadedVoltagePerVelocity).toBeCloseTo(28.15, 2)
    const critical = geophone({ ...axis, loadResistance: 3137 })
    expect(critical.dampingRatio).toBeCloseTo(1.0004, 4)
    expect(critical.loadedVoltagePerVelocity).toBeCloseTo(25.59, 2)
    const vertical = { ...axis, naturalFrequency: 3.786, coilResistance: 383, voltagePerVelocity: 27.7 }
    const z = { ...vertical, openCircuitDampingRatio: 0.576 }
    expect(geophone({ ...z, loadResistance: 10653 }).dampingRatio).toBeCloseTo(0.7053, 4)
    expect(geophone({ ...z, loadResistance: 3032 }).dampingRatio).toBeCloseTo(0.9939, 4)
    for (const pole of poles(soft.dynamics)) expect(pole.dampingRatio).toBeCloseTo(soft.dampingRatio, 10)
  })

  it('has the noise of suspension, coil and amplifier together', () => {
    // Computed from the closed forms √(8·kT·ζω₀/m)/ω² and √(4kTR + e²)/(G·|H|·ω), 293.15 K: 11 g, 380 Ω, 28.8 V/(m/s),
    // 3 nV/√Hz, displacement.
    const small = { naturalFrequency: 4.5, openCircuitDampingRatio: 0.56, movingMass: 0.011 }
    const sensor = geophone({ ...small, voltagePerVelocity: 28.8, coilResistance: 380, amplifierVoltageNoise: 3e-9 })
    const found = displacementNoise(sensor, [0.5, 1, 4.5, 10, 50])
    expectRelative(found, [3.5373e-9, 4.6166e-10, 1.00792e-11, 2.66623e-12, 4.34477e-13], pieces)
  })

  // Computed from the closed form √(8·kT·ζω₀/m), 293.15 K; m/s²/√Hz.
  it.each([
    [1, 1, 0.28, 2.38671e-10],
    [0.011, 4.5, 0.56, 6.82693e-9],
  ])('of %d kg, %d Hz and %d is limited by Brownian motion, %d, without resistance', (movingMass, f0, ratio, level) => {
    const coil = { naturalFrequency: f0, openCircuitDampingRatio: ratio, movingMass, voltagePerVelocity: 1e6 }
    const sensor = geophone({ ...coil, coilResistance: 1e-3 })
    const noise = motionNoise(sensor, { quantity: 'acceleration', frequencies: [0.1 * f0, f0, 10 * f0] })
    expectRelative(Array.from(noise.amplitudeDensity), [level, level, level], 4e-3)
  })

  // Computed from the closed form √(4kTR), 293.15 K; V/√Hz. J. B. Johnson, Phys. Rev. 32 (1928) 97.
  it.each([
    [380, 2.48032e-9],
    [1000, 4.02362e-9],
    [5500, 9.43622e-9],
  ])('of so large a mass that nothing moves has the noise of its coil: %d Ω, %d V', (coilResistance, volts) => {
    const heavy = { naturalFrequency: 1, openCircuitDampingRatio: 0.28, movingMass: 1e9, voltagePerVelocity: 100 }
    const { amplitudeDensity } = motionNoise(geophone({ ...heavy, coilResistance }), { frequencies: [100] })
    expectRelative([100 * (amplitudeDensity[0] as number)], [volts], 2e-4)
  })

  it('of 4.5 Hz behind a converter of 16 bit and ±20 V hears no floor at 1 Hz', () => {
    // LIGO seismic-isolation group, open function SEI_sensor_noise: 6.4e-6 V/√Hz at 1 Hz, 3.7e-6 at 100 Hz. Computed from
    // the closed form e/(G·|H|·ω) with 28.8·|H| = 1.44732 and 28.821707 V/(m/s).
    const small = { naturalFrequency: 4.5, openCircuitDampingRatio: 0.56, movingMass: 0.011, voltagePerVelocity: 28.8 }
    const behind = (amplifierVoltageNoise: number) => geophone({ ...small, coilResistance: 380, amplifierVoltageNoise })
    expectRelative(displacementNoise(behind(6.4e-6), [1]), [7.03778e-7], pieces)
    expectRelative(displacementNoise(behind(3.7e-6), [100]), [2.04316e-10], pieces)
  })

  it('of 11 g is some hundred times as noisy at 1 Hz as one of a kilogram and more', () => {
    // M. A. Riedesel, R. D. Moore, J. A. Orcutt, Bull. Seismol. Soc. Am. 80 (1990) 1725: "about 100 times".
    const small = { naturalFrequency: 4.5, openCircuitDampingRatio: 0.56, movingMass: 0.011, voltagePerVelocity: 28.8 }
    const sensor = geophone({ ...small, coilResistance: 380, amplifierVoltageNoise: 3e-9 })
    const large = seismometer({ lowerCorner: 0.01, noise: publishedNoise('large-mass-seismometer') })
    const ratio = (displacementNoise(sensor, [1])[0] as number) / (displacementNoise(large, [1])[0] as number)
    // 4.6166e-10 over 7.2e-12 m/√Hz
    expect(ratio).toBeGreaterThan(50)
    expect(ratio).toBeLessThan(200)
  })

  it('keeps the correlation of current and force under a load', () => {
    // Computed from three independent noise sources, the suspension and both resistors, through the coupled equations of
    // coil and mass: a coil of 11 g with 1500 Ω; signal in (m/s)/√Hz.
    const loaded = { naturalFrequency: 4.5, openCircuitDampingRatio: 0.4, movingMass: 0.011, voltagePerVelocity: 28.8 }
    const { noise } = geophone({ ...loaded, coilResistance: 380, loadResistance: 1500 })
    const at = (place: number) => {
      const k = noise?.frequency.findIndex((entry) => entry >= place * (1 - 1e-9)) ?? -1
      return noise?.amplitudeDensity[k] as number
    }
    expectRelative([at(4.5)], [1.80994e-10], digits5)
  })

  it('adds the noise current of the amplifier', () => {
    // Computed from the closed form i·|Z|/G at the natural frequency, Z = R + G²/(2mω₀ζ₀) = 380 + 2381.1 Ω:
    // 1e-10 A · 2761.1 Ω/28.8; the other noise is set aside by 1e-6 K.
    const open = { naturalFrequency: 4.5, openCircuitDampingRatio: 0.56, movingMass: 0.011, voltagePerVelocity: 28.8 }
    const sensor = geophone({ ...open, coilResistance: 380, temperature: 1e-6, amplifierCurrentNoise: 1e-10 })
    const k = sensor.noise?.frequency.findIndex((entry) => entry >= 4.4999) ?? -1
    expectRelative([sensor.noise?.amplitudeDensity[k] as number], [9.58723e-9], digits5)
  })

  it.each([
    [{ ...axis, loadResistance: 0 }, 'loadResistance'],
    [{ ...axis, movingMass: 0 }, 'movingMass'],
    [{ ...axis, dampingRatio: 0.7 }, 'dampingRatio'],
    [{ ...axis, temperature: -1 }, 'temperature'],
    [{ ...axis, coilResistance: undefined }, 'coilResistance'],
  ])('refuses %o at %s', (options, path) => {
    expect(refusal(() => geophone(options as never)).details.path).toBe(path)
  })
})

describe('noise tables', () => {
  // LIGO seismic-isolation group, open function SEI_sensor_noise; m/√Hz.
  it.each([
    ['large-mass-seismometer', [0.101, 0.201, 0.4, 0.994], [2.138e-8, 1.958e-9, 1.892e-10, 7.262e-12]],
    ['large-mass-seismometer', [3.954, 10.71, 46.1, 91.2], [9.725e-13, 3.28e-13, 5.61e-14, 2.053e-14]],
    ['one-hertz-geophone', [0.04, 0.52, 0.8, 1.4, 4, 10, 100], [1e-6, 1e-10, 2.3e-11, 7e-12, 2.3e-12, 8.5e-13, 8e-14]],
    ['broadband-seismometer', [0.03, 0.1, 0.3, 1, 3, 10, 100], [2e-8, 1.5e-9, 2e-10, 4e-11, 5e-12, 1.5e-12, 1e-13]],
    ['capacitive-gap-1mm', [0.01, 0.1, 0.7, 100], [2.5e-9, 5e-10, 2e-10, 2e-10]],
    ['capacitive-gap-0.25mm', [0.7, 100], [6e-11, 6e-11]],
    ['inductive-gap', [0.05, 0.1, 0.5], [1e-9, 4.5e-10, 3e-10]],
  ] as const)('of %s at %j Hz is %j', (name, frequencies, expected) => {
    const sensor = displacementSensor({ noise: publishedNoise(name) })
    expectRelative(displacementNoise(sensor, [...frequencies]), expected, digits5)
  })

  it('of published instruments come back as displacement', () => {
    // Same source.
    const large = seismometer({ lowerCorner: 0.01, noise: publishedNoise('large-mass-seismometer') })
    expectRelative(displacementNoise(large, [0.101, 0.994, 91.2]), [2.138e-8, 7.262e-12, 2.053e-14], digits5)
    const broadband = seismometer({ lowerCorner: 1 / 120, noise: publishedNoise('broadband-seismometer') })
    expectRelative(displacementNoise(broadband, [0.03, 1, 100]), [2e-8, 4e-11, 1e-13], digits5)
    const kilogram = geophone({ naturalFrequency: 1, dampingRatio: 0.28, noise: publishedNoise('one-hertz-geophone') })
    expectRelative(displacementNoise(kilogram, [0.04, 0.52, 1.4, 10]), [1e-6, 1e-10, 7e-12, 8.5e-13], digits5)
    const gap = (name: 'capacitive-gap-1mm' | 'capacitive-gap-0.25mm' | 'inductive-gap') =>
      displacementSensor({ noise: publishedNoise(name) })
    expectRelative(displacementNoise(gap('capacitive-gap-1mm'), [0.01, 0.1, 50]), [2.5e-9, 5e-10, 2e-10], digits5)
    expectRelative(displacementNoise(gap('capacitive-gap-0.25mm'), [1]), [6e-11], digits5)
    expectRelative(displacementNoise(gap('inductive-gap'), [0.05, 0.5]), [1e-9, 3e-10], digits5)
  })

  it('are straight in log-log between their entries', () => {
    // Computed from the closed form √(2.3e-12 · 8.5e-13) at √(4 · 10) Hz.
    const sensor = displacementSensor({ noise: publishedNoise('one-hertz-geophone') })
    expectRelative(displacementNoise(sensor, [6.32455532]), [1.398213e-12], digits5)
  })

  it('turn acceleration into displacement', () => {
    // Computed from the closed form a/ω²: 1e-7 m/s²/√Hz is 2.53303e-9 m/√Hz at 1 Hz, 2.53303e-11 at 10 Hz.
    const sensor = accelerometer({ noise: { frequency: [1, 10], amplitudeDensity: [1e-7, 1e-7] } })
    expectRelative(displacementNoise(sensor, [1, 10]), [2.53303e-9, 2.53303e-11], digits5)
    // without a grid of one's own: where the table has entries
    const { frequency, amplitudeDensity } = motionNoise(sensor, { quantity: 'displacement' })
    expect(Array.from(frequency)).toEqual([1, 10])
    expectRelative(Array.from(amplitudeDensity), [2.53303e-9, 2.53303e-11], digits5)
  })

  it('are refused outside of what they cover, and where there is none', () => {
    const sensor = accelerometer({ noise: { frequency: [1, 10], amplitudeDensity: [1e-7, 1e-7] } })
    expect(refusal(() => motionNoise(sensor, { frequencies: [20] })).code).toBe('out-of-range')
    expect(refusal(() => motionNoise(accelerometer({}))).details.path).toBe('sensor.noise')
    expect(refusal(() => motionNoise({} as never)).code).toBe('invalid-option')
    const bad = { frequency: [1], amplitudeDensity: [1], referredTo: 'floor' }
    expect(refusal(() => accelerometer({ noise: bad as never })).details.path).toBe('noise.referredTo')
    expect(refusal(() => publishedNoise('cheap' as never)).details.path).toBe('instrument')
  })
})

describe('the other sensors', () => {
  it('an accelerometer is flat between its corners', () => {
    // Computed from the closed forms 1/√2 at the first-order corner, 1/(2ζ) at the resonance.
    const { dynamics, measures } = accelerometer({ naturalFrequency: 1000, dampingRatio: 0.25, lowerCorner: 0.01 })
    const [low, middle, high] = gainsOf(dynamics, [0.01, 3, 1000])
    expect(low).toBeCloseTo(Math.SQRT1_2, 8)
    expect(middle).toBeCloseTo(1, 4)
    expect(high).toBeCloseTo(2, 8)
    expect([measures, dynamics.role]).toEqual(['acceleration', 'inertialSensor'])
    expect(refusal(() => accelerometer({ dampingRatio: 1 })).details.path).toBe('dampingRatio')
    expect(refusal(() => accelerometer({ naturalFrequency: 100 })).details.path).toBe('dampingRatio')
  })

  it('a seismometer is flat in velocity between its corners', () => {
    // Computed from the closed form of a Butterworth corner, 1/√2 at either end.
    const { dynamics, measures } = seismometer({ lowerCorner: 1 / 120, upperCorner: 50 })
    const [low, middle, high] = gainsOf(dynamics, [1 / 120, 1, 50])
    expect(low).toBeCloseTo(Math.SQRT1_2, 8)
    expect(middle).toBeCloseTo(1, 6)
    expect(high).toBeCloseTo(Math.SQRT1_2, 7)
    expect([measures, dynamics.role]).toEqual(['velocity', 'inertialSensor'])
    expect(refusal(() => seismometer({ lowerCorner: 0 })).details.path).toBe('lowerCorner')
  })

  it('a capacitive gap of 1 cm² and 0.5 mm has 1.77 pF', () => {
    // From memory of the parallel-plate capacitor: 1.770838 pF and 3.541675e-9 F/m.
    const sensor = displacementSensor({ plates: { area: 1e-4, gap: 0.5e-3 }, bandwidth: 1000 })
    expect((sensor.capacitance ?? 0) * 1e12).toBeCloseTo(1.770838, 6)
    expect((sensor.capacitancePerGap ?? 0) * 1e9).toBeCloseTo(3.541675, 6)
    expect([sensor.measures, sensor.dynamics.role]).toEqual(['displacement', 'relativeSensor'])
    expect(gainsOf(sensor.dynamics, [1000])[0]).toBeCloseTo(Math.SQRT1_2, 10)
    expect(refusal(() => displacementSensor({ plates: { area: 1e-4, gap: 0 } })).details.path).toBe('plates.gap')
    expect(refusal(() => displacementSensor({ range: 1 } as never)).details.path).toBe('range')
  })
})

describe('cornerExtension', () => {
  const sensor = geophone({
    naturalFrequency: 4.5,
    dampingRatio: 0.56,
    noise: { frequency: [0.05, 100], amplitudeDensity: [1e-9, 1e-9] },
  })
  const filter = cornerExtension({ naturalFrequency: 4.5, dampingRatio: 0.56, extendedTo: 0.5 })

  it('leaves a sensor with the new corner', () => {
    // Computed from the closed form r²/√(1 + r⁴) of a Butterworth corner at 0.5 Hz.
    const extended = filteredSensor(sensor, filter)
    expectRelative(gainsOf(extended.dynamics, [0.25, 0.5, 5]), [0.2425356, Math.SQRT1_2, 0.99995], digits5)
    expect([extended.measures, extended.dynamics.role]).toEqual(['velocity', 'inertialSensor'])
  })

  it('amplifies noise below the old corner and leaves it as motion what it was', () => {
    // Computed from the closed form |(1 − r² + 2jζr)·81/(1 − (9r)² + 2j·0.7071·9r)| at 0.05 Hz, r = 1/90: 80.9922.
    const extended = filteredSensor(sensor, filter)
    expectRelative([extended.noise?.amplitudeDensity[0] as number], [8.09922e-8], digits5)
    const places = [0.1, 0.5, 4.5, 50]
    expectRelative(displacementNoise(extended, places), displacementNoise(sensor, places), 2e-3)
  })

  it('leaves a sensor of unknown noise unknown', () => {
    const { noise, dynamics } = filteredSensor(geophone({ naturalFrequency: 4.5, dampingRatio: 0.56 }), filter)
    expect([noise, dynamics.role]).toEqual([null, 'inertialSensor'])
  })

  it('refuses what is no filter or no sensor', () => {
    const two = refusal(() => filteredSensor(sensor, gain([[1, 1]])))
    expect([two.code, two.details.path]).toEqual(['dimension-mismatch', 'filter'])
    expect(refusal(() => filteredSensor(sensor, {} as never)).code).toBe('invalid-option')
    expect(refusal(() => filteredSensor({ kind: 'Sensor' } as never, filter)).code).toBe('invalid-option')
    expect(refusal(() => cornerExtension({ naturalFrequency: 1, dampingRatio: 1, extendedTo: 0 })).details.path).toBe(
      'extendedTo',
    )
  })
})
