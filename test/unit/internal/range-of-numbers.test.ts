import { describe, expect, it } from 'vitest'
import * as restmass from '../../../src/index.js'
import { refusal } from '../refusal.js'

// Each case is a fault that random calls once found: a number so large, so small or so often that what follows from it leaves
// the range of numbers or never ends. What is expected is one clear refusal, common practice, no source.

const {
  absolutePhaseDegrees,
  activelyDampedIsolation,
  actuatorEffort,
  airSpring,
  bandHistory,
  bandStatistic,
  compareToModel,
  displacementSensor,
  expectedPeak,
  feedforwardResidual,
  filteredSensor,
  frequencyResponse,
  geophone,
  hystereticTransmissibility,
  integrator,
  lineCriterion,
  logFrequencies,
  lowPass,
  margins,
  minimalForm,
  motionNoise,
  motionProfile,
  moveAndSettle,
  onOffLevelling,
  optimalRelaxation,
  orificeFlowResistance,
  passiveIsolation,
  naturalFrequency,
  piezoCurrent,
  piezoStack,
  plotSettling,
  pneumaticIsolation,
  poles,
  recordLength,
  residualAmplitude,
  sampleProfile,
  sectionsSystem,
  seismometer,
  seriesActiveIsolation,
  spectrogram,
  spectrogramBands,
  spectrum,
  stateSpace,
  stationaryCovariance,
  supportLoads,
  transferEstimate,
  transferFunction,
  voiceCoil,
  zeros,
} = restmass

const most = Number.MAX_VALUE
const least = Number.MIN_VALUE
const oscillator = (omega: number) =>
  stateSpace({
    A: [
      [0, omega],
      [-omega, 0],
    ],
    B: [[0], [1]],
    C: [[1, 0]],
  })
const wide = { frequency: [1e-300, 1e300], amplitudeDensity: [1, 1] }
const mount = { stiffness: 1e5, damping: 2000 }
const passive = passiveIsolation({ payload: { mass: 100 }, mount })
const noise = Array.from({ length: 512 }, (_, n) => Math.sin(n * n))
const estimate = transferEstimate({ input: noise, output: noise, sampleRate: 100, segmentLength: 64 })
const floor = spectrum({ quantity: 'velocity', frequency: [0.5, 100], amplitudeDensity: [1e-6, 1e-6] })
const stack = piezoStack({ stiffness: 2e9, damping: 1.5e5, stroke: 2e-5, drive: { capacitance: 6e-6, voltage: 100 } })
const stage = { mass: 60, actuator: stack, controller: { gain: 3, highPass: 0.02, lowPass: 60 } }
const series = seriesActiveIsolation({
  payload: { mass: 1100 },
  mount: { stiffness: 3.1e6, damping: 6500 },
  count: 4,
  activeStage: { ...stage, sensorLocation: 'activeStage' },
})
const history = bandHistory({ samples: [...noise, ...noise], sampleRate: 100, from: 10, to: 10, blockDuration: 2 })
const feet = [{ position: [-1, 0, 0] }, { position: [1, -1, 0] }, { position: [1, 1, 0] }] as const

describe('a list whose length follows from the options is bounded:', () => {
  it.each<[string, () => unknown, string, string]>([
    [
      'the states of a transfer function',
      () => transferFunction({ numerator: [1], denominator: Array.from({ length: 20_000 }, () => 1) }),
      'out-of-range',
      'denominator',
    ],
    [
      'the states of sections',
      () =>
        sectionsSystem(
          Array.from({ length: 251 }, () => ({ b: [1, 0, 0], a: [1, 0, 0] })),
          { sampleTime: 1 },
        ),
      'invalid-option',
      'sections',
    ],
    ['a grid', () => logFrequencies({ from: 1, to: 10, count: 1e6 + 1 }), 'out-of-range', 'count'],
    [
      'the values of a response',
      () => {
        const names = (letter: string) => Array.from({ length: 100 }, (_, k) => `${letter}${k}`)
        const D = Array.from({ length: 100 }, () => new Array<number>(100).fill(1))
        const many = stateSpace({ A: [], B: [], C: D.map(() => []), D, inputs: names('u'), outputs: names('y') })
        return frequencyResponse(
          many,
          Array.from({ length: 5001 }, (_, k) => k),
        )
      },
      'out-of-range',
      'frequencies',
    ],
  ])('%s', (_, call, code, path) => {
    expect(refusal(call)).toMatchObject({ code, details: { path } })
  })
})

describe('at the ends of the range of numbers there is an end to', () => {
  it('the landmarks of a loop', () => {
    // w/(s² + w²) passes −1 at s² = −2w² only, so closely above 0 Hz that nothing but the marginal poles is seen, derived.
    expect(margins(oscillator(least)).closedLoop).toBe('marginal')
    expect(margins(oscillator(1e-315)).closedLoop).toBe('marginal')
  })

  it.each([least, 1.7e308])('the search for a frequency beside roots at %s rad/s', (omega) => {
    expect(refusal(() => absolutePhaseDegrees(oscillator(omega), [1])).code).toBe('ill-conditioned')
  })

  it('the division of a noise table', () => {
    // 600 decades at 64 points each, both ends included, derived.
    const shaped = filteredSensor(
      geophone({ naturalFrequency: 4.5, dampingRatio: 0.6, noise: wide }),
      lowPass({ cutoff: 10 }),
    )
    expect(shaped.noise?.frequency).toHaveLength(600 * 64 + 1)
  })
})

describe('what leaves the range of numbers is refused:', () => {
  it.each<[string, () => unknown, string]>([
    [
      'noise as motion',
      () =>
        motionNoise(geophone({ naturalFrequency: 4.5, dampingRatio: 0.6, noise: { ...wide, frequency: [least, 1] } })),
      '',
    ],
    [
      'noise as another motion',
      () =>
        geophone({
          naturalFrequency: 1,
          dampingRatio: 1,
          noise: { ...wide, frequency: [1, 1.7e308], quantity: 'displacement' },
        }),
      'noise',
    ],
    ['the phase of a preview', () => feedforwardResidual({ gain: 1, preview: most }, [1, 10]), 'preview'],
    ['the phase of a delay', () => feedforwardResidual({ gain: 1, delay: most }, [1, 10]), 'delay'],
    ['a corner in rad/s', () => seismometer({ lowerCorner: 1, upperCorner: most }), ''],
    ['a flow resistance', () => orificeFlowResistance({ diameter: 1e-3, flow: 1e-5, absolutePressure: most }), ''],
    ['a capacitance per gap', () => displacementSensor({ plates: { area: 1e-4, gap: 5e-301 } }), 'plates'],
    ['a peak', () => expectedPeak({ rms: most, frequency: 10, duration: 60 }), ''],
    ['a length of a record', () => recordLength({ bandwidth: least, decibels: 1 }), ''],
    [
      'the resistance to a chamber',
      () =>
        airSpring({
          area: 8e-3,
          volume: 1.5e-3,
          load: 3e3,
          dampingChamber: { volume: least, flowResistance: 'optimal' },
        }),
      'dampingChamber',
    ],
    ['a covariance', () => stationaryCovariance(stateSpace({ A: [[-2]], B: [[1]], C: [[most]] })), ''],
    [
      'a minimal form',
      () =>
        minimalForm(
          stateSpace({
            A: [
              [-5, -1.5],
              [4, 0],
            ],
            B: [[0], [most]],
            C: [[0.5, 0.375]],
          }),
        ),
      '',
    ],
    ['a phase', () => absolutePhaseDegrees(integrator(), [most]), 'frequencies'],
    [
      'a resonance almost without loss',
      () => hystereticTransmissibility({ naturalFrequency: 1, lossFactor: least }, [1]),
      'lossFactor',
    ],
    ['a peak of relaxation', () => optimalRelaxation({ stiffnessRatio: least, response: 'relative' }), ''],
    [
      'a current',
      () => actuatorEffort(series, { floor, actuators: { actuatorExpansion: { ...stack, stroke: least } as never } }),
      'actuators.actuatorExpansion',
    ],
    ['a level in bands', () => bandStatistic({ ...history, rms: history.rms.map(() => most) }), 'history.rms[0]'],
    ['a weight', () => supportLoads({ mass: most, centreOfMass: [0, 0, 0.3], supports: feet }), ''],
    [
      'a limit cycle',
      () => {
        const spring = airSpring({ area: 0.01, volume: 0.002, load: 2451.6625, diaphragmDamping: 800 })
        const levelling = { flowGain: 0.005 }
        return onOffLevelling(pneumaticIsolation({ payload: { mass: 1000 }, mount: spring, count: 4, levelling }), {
          rate: most,
        })
      },
      '',
    ],
    [
      'a deviation',
      () =>
        compareToModel(
          { ...estimate, re: estimate.re.map(() => 1e-300) },
          {
            ...passive,
            closed: {
              ...passive.closed,
              C: [
                [1e300, 0],
                [0, 1],
                [0, 0],
              ],
            },
          },
        ),
      'model',
    ],
    [
      'a motion in the unit of its axis',
      () => {
        const profile = motionProfile({ distance: 0.3, maxVelocity: 1, maxAcceleration: 10 })
        const settled = moveAndSettle(passive, { move: { profile, movingMass: 1 }, band: 1e-6, sampleTime: 0.01 })
        return plotSettling({ ...settled, displacement: settled.displacement.map(() => 1e305) })
      },
      '',
    ],
    [
      'a coefficient of sections',
      () =>
        sectionsSystem(
          [1, 2].map(() => ({ b: [1e200, 0, 0], a: [1, 0, 0] })),
          { sampleTime: 1 },
        ),
      '',
    ],
  ])('%s', (_, call, path) => {
    const { code, details } = refusal(call)
    expect([code, details.path]).toEqual(['out-of-range', path])
  })

  it('squares of deviations that are numbers are not', () => {
    const weak = { ...estimate, re: estimate.re.map(() => 1e-30) }
    const [velocity, ...others] = passive.closed.C
    const strong = { ...passive, closed: { ...passive.closed, C: [velocity.map((entry) => 1e150 * entry), ...others] } }
    const { deviations, scatter } = compareToModel(weak, strong)
    expect(Math.max(...deviations)).toBeGreaterThan(1e160)
    // Definition: root mean square of real and imaginary parts, √(Σ d²/2n).
    expect(scatter / (Math.hypot(...deviations) / Math.sqrt(2 * deviations.length))).toBeCloseTo(1, 12)
  })
})

describe('the largest numbers themselves', () => {
  it('are poles', () => {
    // A system of one state, whose pole is its matrix.
    expect(poles(stateSpace({ A: [[-most]], B: [[1]], C: [[1]] }))[0].re).toBe(-most)
  })

  it('have no sum: a pole beyond them is not found', () => {
    const both = [-most, -most]
    expect(refusal(() => poles(stateSpace({ A: [both, both], B: [[1], [1]], C: [[1, 0]] }))).code).toBe(
      'no-convergence',
    )
  })

  it('are whole numbers of periods', () => {
    const profile = motionProfile({ distance: 0.3, maxVelocity: 1, maxAcceleration: 10 })
    // sinc of a whole number, exactly.
    expect(residualAmplitude(profile, { naturalFrequency: most, movingMass: 1, totalMass: 2 })).toBe(0)
  })
})

describe('what follows from numbers at the end of their range is refused', () => {
  it.each<[string, () => unknown, string]>([
    ['a frequency of almost no mass', () => naturalFrequency({ mass: least, stiffness: most }), 'out-of-range'],
    [
      'the current of a piezo stack at the largest frequency',
      () => {
        const stack = piezoStack({ stiffness: 3e7, stroke: 6e-5, drive: { capacitance: 6e-6, voltage: 100 } })
        return piezoCurrent(stack, { frequency: most, travel: 6e-5 })
      },
      'out-of-range',
    ],
    [
      'a motion with the largest acceleration',
      () => {
        const profile = motionProfile({ distance: 0.3, maxVelocity: 1, maxAcceleration: 10, maxJerk: 500 })
        return sampleProfile({ ...profile, peakAcceleration: most }, { sampleTime: 0.01 })
      },
      'out-of-range',
    ],
    [
      'what a stage leaves that takes for ever, at no frequency',
      () => {
        const profile = motionProfile({ distance: 0.3, maxVelocity: 1, maxAcceleration: 10, maxJerk: 500 })
        const options = { naturalFrequency: 0, movingMass: 20, totalMass: 1000 }
        return residualAmplitude({ ...profile, jerkTime: most }, options)
      },
      'out-of-range',
    ],
    [
      'an air spring under the largest pressure',
      () => airSpring({ area: 0.01, volume: 1e-3, load: 3000, ambientPressure: most }),
      'out-of-range',
    ],
    [
      'limits of lines for the largest displacement',
      () => lineCriterion({ frequency: [10, 100], displacement: [1e-8, most], lineWidth: 1 }),
      'out-of-range',
    ],
    [
      'a spectrogram of blocks without end',
      () => {
        const samples = Float64Array.from({ length: 256 }, (_, k) => Math.sin(k))
        const found = spectrogram({ samples, sampleRate: 64, segmentLength: 64 })
        return spectrogramBands({ ...found, blockDuration: Infinity }, { from: 16, to: 16 })
      },
      'not-finite',
    ],
    [
      'zeros beside the largest direct gain',
      () => zeros(stateSpace({ A: [[-2]], B: [[2]], C: [[0.5]], D: [[most]] })),
      'no-convergence',
    ],
    [
      'a continuous force that is no number',
      () => {
        const coil = voiceCoil({ forceConstant: 20, resistance: 5, maxHeat: 20 })
        const wrong = { ...coil, limits: { continuousForce: 1n } } as never
        const floor = spectrum({ quantity: 'velocity', frequency: [1, 10], density: [1e-12, 1e-12] })
        const damping = { gain: 300, actuator: coil }
        const damped = activelyDampedIsolation({ payload: { mass: 100 }, mount: { stiffness: 16e3 }, damping })
        return actuatorEffort(damped, { floor, actuators: { actuatorForce: wrong } })
      },
      'invalid-option',
    ],
  ])('%s', (_, call, code) => {
    expect(refusal(call).code).toBe(code)
  })
})

describe('a list that is too long', () => {
  it('is told with what is allowed', () => {
    const denominator = Array.from({ length: 502 }, () => 1)
    expect(refusal(() => transferFunction({ numerator: [1], denominator })).details).toMatchObject({
      value: 501,
      allowed: '0 to 500',
    })
  })
})
