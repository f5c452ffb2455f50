import { describe, expect, it } from 'vitest'
import { randomNumbers } from '../../../src/internal/random-numbers.js'
import { simultaneousMargin, transferFunction } from '../../../src/systems/index.js'
import { bestScales, scaledGain, structuredBound } from '../../../src/systems/structured-bound.js'

describe('structuredBound', () => {
  it('does not see the units of the channels', () => {
    // D M D⁻¹ has the same structured singular value for every diagonal D; A. Packard, J. Doyle, Automatica 29 (1993) 71 (from
    // memory). Thirty rounds of balancing leave 2e-9 of it here.
    const random = randomNumbers(3)
    for (let trial = 0; trial < 20; trial++) {
      const re = Float64Array.from({ length: 9 }, () => 2 * random() - 1)
      const im = Float64Array.from({ length: 9 }, () => 2 * random() - 1)
      const units = [1, 10 ** (4 * random() - 2), 10 ** (4 * random() - 2)]
      const scaled = (part: Float64Array) => part.map((value, k) => (value * units[Math.floor(k / 3)]) / units[k % 3])
      const plain = structuredBound({ rows: 3, columns: 3, re, im })
      const turned = structuredBound({ rows: 3, columns: 3, re: scaled(re), im: scaled(im) })
      expect(Math.abs(turned / plain - 1)).toBeLessThan(1e-7)
    }
  })

  it('of a ring is the root of the gain around it, whatever its parts', () => {
    // w₁ = a w₃, w₂ = b w₁, w₃ = c w₂: (a b c)^(1/3), by hand
    const re = Float64Array.of(0, 0, 200, 0.01, 0, 0, 0, 4, 0)
    expect(structuredBound({ rows: 3, columns: 3, re, im: new Float64Array(9) })).toBeCloseTo(2, 9)
  })
})

describe('bestScales', () => {
  const matrix = (re: number[], im: number[] = re.map(() => 0)) => {
    const rows = Math.sqrt(re.length)
    return { rows, columns: rows, re: Float64Array.from(re), im: Float64Array.from(im) }
  }
  const worst = (samples: ReturnType<typeof matrix>[], scales: number[]) =>
    Math.max(...samples.map((sample) => scaledGain(sample, scales)))

  it('of one ring are those of the ring', () => {
    // by hand: a = 200, b = 0.01, c = 4 around the ring become 2, 2, 2
    const ring = matrix([0, 0, 200, 0.01, 0, 0, 0, 4, 0])
    expect(worst([ring], bestScales([ring]))).toBeCloseTo(2, 6)
  })

  it('are a compromise between two samples that want opposite ones', () => {
    // by hand: [0 a; 1/a 0] and its transpose under D = diag(d, 1): max(a d, 1/(a d), d/a, a/d) is least at d = 1, where it is a
    const pair = [matrix([0, 100, 0.01, 0]), matrix([0, 0.01, 100, 0])]
    expect(worst(pair, bestScales(pair))).toBeCloseTo(100, 4)
    const skewed = [matrix([0, 100, 0.01, 0]), matrix([0, 1e4, 1e-4, 0])]
    // a₁ = 100, a₂ = 1e4: max(a/d, d/a) is least at d = √(a₁ a₂) = 1000, where it is 10
    expect(worst(skewed, bestScales(skewed))).toBeCloseTo(10, 4)
  })

  it('leave nothing to gain by scaling any one channel more or less', () => {
    const random = randomNumbers(7)
    for (let trial = 0; trial < 5; trial++) {
      const samples = Array.from({ length: 4 }, () =>
        matrix(Array.from({ length: 9 }, () => 10 ** (3 * random() - 1.5))),
      )
      const scales = bestScales(samples)
      const least = worst(samples, scales)
      for (const k of [0, 1, 2]) {
        for (const factor of [0.9, 1.1]) {
          expect(worst(samples, scales.map((value, i) => (i === k ? factor * value : value)))).toBeGreaterThan(0.99 * least) // biome-ignore format: one line
        }
      }
      // Better than those of each sample by itself are for all of them
      for (const sample of samples) expect(least).toBeLessThanOrEqual(worst(samples, bestScales([sample])) * (1 + 1e-9))
    }
  })

  it('of a single channel are one', () => {
    expect(bestScales([matrix([3], [4])])).toEqual([1])
    expect(scaledGain(matrix([3], [4]), [1])).toBe(5)
  })
})

it('the gain of two channels is the largest singular value', () => {
  // by hand: diag(5, 13) times the unitary [3 4j; 4j 3]/5
  const [re, im] = [Float64Array.of(3, 0, 0, 7.8), Float64Array.of(0, 4, 10.4, 0)]
  expect(scaledGain({ rows: 2, columns: 2, re, im }, [1, 1])).toBeCloseTo(13, 12)
})

it('a loop that never comes nearer to −1 than at infinity bears any gain, and turns by 90°', () => {
  // L = 1/(s + 1): S − ½ = ½·s/(s + 2), of modulus below ½ and tending to it: the disk is 2
  const lag = transferFunction({ numerator: [1], denominator: [1, 1] })
  const loop = { blocks: { lag }, inputs: ['u'], outputs: { y: 'lag.y1' }, wires: { 'lag.u1': ['u', '-lag.y1'] } }
  const found = simultaneousMargin(loop as never, ['lag.y1'] as never)
  expect(found.diskMargin).toBeCloseTo(2, 4)
  expect([found.gainMargin, found.gainReductionMargin]).toEqual([null, 0])
  expect(found.phaseMarginDegrees).toBeCloseTo(90, 2)
})
