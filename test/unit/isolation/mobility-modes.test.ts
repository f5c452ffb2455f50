import { describe, expect, it } from 'vitest'
import { type FloorMode, mobilityModes, passiveIsolation, transmissibility } from '../../../src/isolation/index.js'
import { magnitude } from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

/** Mobility of modes, by the formula written out here once more: s/(m (s² + 2ζω s + ω²)). */
function mobilityOf(modes: readonly FloorMode[], frequency: readonly number[]) {
  const sums = frequency.map((f) => {
    const w = 2 * Math.PI * f
    let [re, im] = [0, 0]
    for (const { modalMass, naturalFrequency, dampingRatio } of modes) {
      const w0 = 2 * Math.PI * naturalFrequency
      const [a, b] = [w0 * w0 - w * w, 2 * dampingRatio * w0 * w]
      re += (w * b) / (modalMass * (a * a + b * b))
      im += (w * a) / (modalMass * (a * a + b * b))
    }
    return [re, im] as const
  })
  return { frequency, re: sums.map(([re]) => re), im: sums.map(([, im]) => im) }
}

const grid = Array.from({ length: 200 }, (_, k) => 2 + 0.25 * k)
const truth: FloorMode[] = [
  { modalMass: 8000, naturalFrequency: 7.3, dampingRatio: 0.03 },
  { modalMass: 12000, naturalFrequency: 18.1, dampingRatio: 0.02 },
  { modalMass: 6000, naturalFrequency: 21.4, dampingRatio: 0.04 },
]

describe('mobilityModes', () => {
  const exactFit = mobilityModes(mobilityOf(truth, grid), { count: 3 })

  it('finds the modes that a mobility was made of', () => {
    const { modes, residual } = exactFit
    expect(residual).toBeLessThan(1e-4)
    truth.forEach((mode, i) => {
      expect((modes[i]?.naturalFrequency as number) / mode.naturalFrequency).toBeCloseTo(1, 4)
      expect((modes[i]?.modalMass as number) / mode.modalMass).toBeCloseTo(1, 2)
      expect((modes[i]?.dampingRatio as number) / mode.dampingRatio).toBeCloseTo(1, 2)
    })
  })

  it('finds them through 5 % of noise to about that', () => {
    const clean = mobilityOf(truth, grid)
    let seed = 7
    // A Lehmer generator: 1 ± 5 %, uniform.
    const noisy = (value: number) => {
      seed = (seed * 48271) % 2147483647
      return value * (0.95 + (0.1 * seed) / 2147483647)
    }
    const { modes, residual } = mobilityModes(
      { ...clean, re: clean.re.map(noisy), im: clean.im.map(noisy) },
      { count: 3 },
    )
    expect(residual).toBeLessThan(0.05)
    truth.forEach((mode, i) => {
      expect(Math.abs((modes[i]?.naturalFrequency as number) / mode.naturalFrequency - 1)).toBeLessThan(0.01)
      expect(Math.abs((modes[i]?.modalMass as number) / mode.modalMass - 1)).toBeLessThan(0.1)
    })
  })

  it('takes up what lies above the band in one mode far away', () => {
    const stiff = { modalMass: 100, naturalFrequency: 400, dampingRatio: 0.02 }
    const { modes, residual } = mobilityModes(mobilityOf([...truth, stiff], grid), { count: 3 })
    expect(residual).toBeLessThan(0.01)
    expect(modes.at(-1)?.naturalFrequency as number).toBeGreaterThan(100)
  })

  it('makes a floor that carries a payload as the true one does', () => {
    const { modes } = exactFit
    const on = (floor: readonly FloorMode[]) =>
      magnitude(
        transmissibility(
          passiveIsolation({
            payload: { mass: 2000 },
            mount: { stiffness: 1e6, damping: 4000 },
            floor: { modes: floor },
          }),
          [3, 7.3, 18, 21, 40],
        ),
      )
    const [fitted, exact] = [on(modes), on(truth)]
    fitted.forEach((value, k) => {
      expect(value / (exact[k] as number)).toBeCloseTo(1, 3)
    })
  })

  it('refuses a mobility of the wrong sign, of no size, of uneven lists', () => {
    const { frequency, re, im } = mobilityOf(truth, grid)
    const negative = { frequency, re: re.map((value) => -value), im: im.map((value) => -value) }
    expect(refusal(() => mobilityModes(negative, { count: 2 })).code).toBe('no-convergence')
    const zero = { frequency: [1, 2], re: [0, 0], im: [0, 0] }
    expect(refusal(() => mobilityModes(zero, { count: 1 })).code).toBe('out-of-range')
    expect(refusal(() => mobilityModes({ frequency, re, im: [1] }, { count: 1 })).details.path).toBe('mobility.im')
    expect(refusal(() => mobilityModes({ frequency, re, im }, { count: 0 })).details.path).toBe('count')
  })
})
