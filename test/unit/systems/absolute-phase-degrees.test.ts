import { describe, expect, it } from 'vitest'
import {
  absolutePhaseDegrees,
  channel,
  connect,
  delay,
  discretize,
  frequencyResponse,
  gain,
  integrator,
  logFrequencies,
  lowPass,
  mechanicalSystem,
  parallel,
  phaseDegrees,
  prepare,
  series,
  stateSpace,
  transferFunction,
} from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

const rational = (numerator: number[], denominator: number[]) => transferFunction({ numerator, denominator })
const atRates = (system: Parameters<typeof absolutePhaseDegrees>[0], rates: number[]) =>
  Array.from(
    absolutePhaseDegrees(
      system,
      rates.map((omega) => omega / (2 * Math.PI)),
    ),
  )
// Degrees; the response is known to a few ε, an angle of some hundred degrees to a few hundred ε.
const rounding = 1e-10
const expectPhases = (found: readonly number[], expected: readonly number[], off = rounding) => {
  expect(found.length).toBe(expected.length)
  expected.forEach((value, k) => {
    expect(Math.abs(found[k] - value)).toBeLessThanOrEqual(off)
  })
}

describe('absolutePhaseDegrees', () => {
  // Expected values by hand: angles of jω − root at ω = 1 are multiples of 45°.
  it('starts at −90° per integrator, at 0 Hz too', () => {
    for (const count of [1, 2, 3, 4]) {
      const chain = rational([5], [1, ...new Array<number>(count).fill(0)])
      expectPhases(atRates(chain, [0, 1e-3, 1, 1e3]), new Array(4).fill(-90 * count))
    }
    const blocks = series(integrator(), integrator(), integrator())
    expectPhases(atRates(blocks, [0, 1]), [-270, -270])
  })

  it('takes −180° for a gain below 0', () => {
    expectPhases(atRates(gain(-3), [0, 1]), [-180, -180])
    expectPhases(atRates(rational([-1], [1, 1]), [0, 1]), [-180, -225])
    expectPhases(atRates(rational([-1], [1, 0]), [0, 1]), [-270, -270])
    expectPhases(atRates(gain(3), [0, 1]), [0, 0])
  })

  it('turns down at a pole and up at a zero on the left, and the other way on the right', () => {
    expectPhases(atRates(rational([1], [1, 1]), [0, 1]), [0, -45])
    expectPhases(atRates(rational([1, 1], [1, 1000]), [1]), [45 - 0.057295760414500616]) // atan 1e-3
    expectPhases(atRates(rational([-1, 1], [1, 1]), [0, 1, 1e9]), [0, -90, -180], 1e-6)
    // The gain of (s − 1)/(s + 1) at 0 Hz is −1.
    expectPhases(atRates(rational([1, -1], [1, 1]), [0, 1]), [-180, -270])
    expectPhases(atRates(rational([1], [1, -1]), [0, 1]), [-180, -135])
    // A conjugate pair on the right: (s² − 2s + 2)/(s² + 2s + 2) turns by −360° in all and passes −180° at √2.
    expectPhases(atRates(rational([1, -2, 2], [1, 2, 2]), [0, Math.SQRT2, 1e9]), [0, -180, -360], 1e-6)
  })

  it('jumps up at an undamped zero and down at an undamped pole', () => {
    const undamped = rational([1, 0, 4], [1, 0, 1, 0])
    expectPhases(atRates(undamped, [0, 0.5, 1.5, 3]), [-90, -90, -270, -90])
    // Right at the zero the middle of the jump
    expectPhases(atRates(undamped, [2]), [-180])
    expect(refusal(() => atRates(undamped, [1]))).toMatchObject({ code: 'singular', details: { unit: 'Hz' } })
  })

  it('goes on through orders without wrapping', () => {
    const steep = series(lowPass({ cutoff: 1, order: 8 }), lowPass({ cutoff: 1, order: 8 }))
    expectPhases(Array.from(absolutePhaseDegrees(steep, [0, 1, 1e9])), [0, -720, -1440], 1e-5)
  })

  it('counts from low frequency what a sensor turns there', () => {
    const corner = rational([1, 0, 0], [1, 1, 1])
    const three = series(corner, corner, corner)
    expectPhases(atRates(three, [0, 1]), [540, 270])
    // Here the response itself is lost in rounding: computed from the closed form 3 (180° − atan(ω/(1 − ω²))), ω = 1e-4
    expectPhases(atRates(three, [1e-4]), [540 - 0.017188733968516258], 1e-6)
    // … and so it is for corners at 1e6 rad/s up to 1e2 rad/s, the same in other units
    const fast = rational([1, 0, 0], [1, 1e6, 1e12])
    expectPhases(atRates(series(fast, fast, fast), [1e2, 1e6]), [540 - 0.017188733968516258, 270], 1e-6)
    const slow = rational([1, 0, 0], [1, 1e-6, 1e-12])
    expectPhases(atRates(series(slow, slow, slow), [1e-10, 1e-6]), [540 - 0.017188733968516258, 270], 1e-6)
  })

  it('puts an integrator chain at the origin in whatever coordinates it comes', () => {
    // (s + 3)(s + 50)/(s³ (s + 1)) after a transformation of determinant 1, exact in integers
    const scrambled = stateSpace({
      A: [
        [-34, 16, -5, -3],
        [-61, 29, -9, -6],
        [94, -43, 14, 6],
        [-125, 58, -19, -10],
      ],
      B: [[1], [5], [6], [6]],
      C: [[21461, -9763, 3172, 1387]],
    })
    // computed from the closed form −270° + atan(ω/3) + atan(ω/50) − atan ω
    const expected = [-270, -273.6868492982655, -295.4192883389029, -207.71047048104998]
    // Entries of 2e4 that cancel to a few tens cost three digits, and a triple pole more of them at low frequency.
    expectPhases(atRates(scrambled, [0, 0.1, 1, 100]), expected, 1e-5)
    // Below ε^(1/3) of the size of A the integrators cannot be told from their rounding, but there is nothing else there.
    expectPhases(atRates(scrambled, [1e-7]), [-270], 1e-4)
  })

  it('pulls out delays in series, and ways of equal delay side by side', () => {
    const lag = rational([1], [1, 1])
    const late = delay({ seconds: 1, input: 'y1', output: 'y1' })
    const oneRadian = 57.29577951308232
    expectPhases(atRates(series(lag, late, late), [0, 1]), [0, -45 - 2 * oneRadian])
    const two = parallel(series(lag, late), series(rational([2], [1, 1]), late))
    expectPhases(atRates(two, [1, 1000]), [-45 - oneRadian, -89.9427042395855 - 1000 * oneRadian], 1e-9)
  })

  it('refuses a delay beside another way and one inside a loop, and says what to do', () => {
    const beside = parallel(gain(1), delay({ seconds: 1 }))
    const around = connect({
      blocks: { lag: rational([1], [1, 1]), late: delay({ seconds: 1 }) },
      inputs: ['u'],
      outputs: { y: 'lag.y1' },
      wires: { 'lag.u1': ['u', '-late.y1'], 'late.u1': 'lag.y1' },
    })
    for (const system of [beside, around]) {
      const error = refusal(() => absolutePhaseDegrees(system, [1]))
      expect(error.code).toBe('unsupported')
      expect(error.message).toContain('pade')
    }
  })

  it('agrees with the unwrapped phase of a fine grid', () => {
    const plant = series(
      rational([1, 0.1, 3], [1, 0.02, 1]),
      rational([1, 5], [1, 0.3, 25, 0]),
      lowPass({ cutoff: 20 }),
    )
    const grid = logFrequencies({ from: 1e-3, to: 100, count: 4000 })
    const response = frequencyResponse(plant, grid)
    const unwrapped = phaseDegrees(channel(response, { input: plant.inputs[0], output: plant.outputs[0] }))
    expectPhases([...absolutePhaseDegrees(plant, grid)], [...unwrapped])
  })

  it('takes one channel of many, a mechanical and a prepared system', () => {
    const two = mechanicalSystem({
      mass: [
        [1, 0],
        [0, 1],
      ],
      damping: [
        [0.02, -0.01],
        [-0.01, 0.01],
      ],
      stiffness: [
        [2, -1],
        [-1, 1],
      ],
      inputs: { force: [0, 1] },
      outputs: { near: { displacement: [0, 1] }, far: { displacement: [1, 0] } },
    })
    // Collocated: zeros between the poles; the other way: −360° in all, one zero at −100 apart.
    const [near, far] = ['near', 'far'] as const
    expectPhases([absolutePhaseDegrees(two, [1e6], { input: 'force', output: near })[0]], [-180], 1e-4)
    expectPhases([absolutePhaseDegrees(prepare(two), [1e6], { input: 'force', output: far })[0]], [-270], 1e-2)
    expect(refusal(() => absolutePhaseDegrees(two, [1])).details.path).toBe('channel')
    expect(refusal(() => absolutePhaseDegrees(two, [1], { input: 'force', output: 'up' as never }))).toMatchObject({
      code: 'unknown-port',
      details: { path: 'channel.output' },
    })
  })

  describe('of a discrete system', () => {
    const sampleTime = 0.001
    it('is −360° f T per sample of delay', () => {
      const late = {
        ...discretize(gain(1), { sampleTime, method: 'bilinear' }),
        A: [[0]],
        B: [[1]],
        C: [[1]],
        D: [[0]],
        states: ['x1'],
      }
      expectPhases([...absolutePhaseDegrees(late, [0, 100, 500])], [0, -36, -180])
    })

    it('has the half sample of delay of a held double integrator', () => {
      // computed from the closed form T²(z + 1)/(2(z − 1)²): −180° − 180° f T
      const held = discretize(rational([1], [1, 0, 0]), { sampleTime, method: 'zero-order-hold' })
      // Near z = 1 a double pole loses ε/(2πfT)².
      expectPhases([...absolutePhaseDegrees(held, [0, 1, 100, 499])], [-180, -180.18, -198, -269.82], 1e-8)
    })

    it('ends at half the sample rate', () => {
      const held = discretize(lowPass({ cutoff: 10 }), { sampleTime, method: 'bilinear' })
      expect(refusal(() => absolutePhaseDegrees(held, [501])).code).toBe('out-of-range')
    })
  })

  it('refuses a channel that is zero, and malformed input', () => {
    const nothing = stateSpace({ A: [[-1]], B: [[0]], C: [[1]] })
    expect(refusal(() => absolutePhaseDegrees(nothing, [1])).code).toBe('ill-conditioned')
    expect(refusal(() => absolutePhaseDegrees(integrator(), [-1])).code).toBe('out-of-range')
    expect(refusal(() => absolutePhaseDegrees(integrator(), [])).code).toBe('invalid-option')
    expect(refusal(() => absolutePhaseDegrees(integrator(), [1], { input: 'u1' } as never)).code).toBe('unknown-port')
  })
})
