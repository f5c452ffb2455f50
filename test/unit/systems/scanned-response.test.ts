import { describe, expect, it } from 'vitest'
import { scopeOf } from '../../../src/internal/check.js'
import { delay, parallel, type StateSpace, series, stateSpace, transferFunction } from '../../../src/systems/index.js'
import { refinedScan } from '../../../src/systems/refined-scan.js'
import { scannedResponse } from '../../../src/systems/scanned-response.js'

const ratio = (numerator: number[], denominator: number[]) => transferFunction({ numerator, denominator })
const scope = scopeOf('test')

/** The largest turn [rad] of f and of 1 + f from sample to sample, and the largest change of ln |f| and ln |1 + f|. */
function steps({ re, im }: { re: number[]; im: number[] }) {
  const found = { turn: 0, stretch: 0 }
  for (const shift of [0, 1]) {
    for (let k = 1; k < re.length; k++) {
      const [a, b] = [Math.atan2(im[k - 1], re[k - 1] + shift), Math.atan2(im[k], re[k] + shift)]
      const turn = Math.abs(a - b)
      found.turn = Math.max(found.turn, Math.min(turn, 2 * Math.PI - turn))
      const sizes = [k - 1, k].map((i) => Math.hypot(re[i] + shift, im[i]))
      found.stretch = Math.max(found.stretch, Math.abs(Math.log(sizes[1] / sizes[0])))
    }
  }
  return found
}

describe('a scanned response', () => {
  const resonance = ratio([1], [1, 2e-4, 1])

  it('turns by no more than 22.5° and stretches by no more than e^½ from sample to sample', () => {
    for (const system of [
      resonance,
      ratio([100, 3], [1, 2, 400, 0.1]),
      series(ratio([5], [1, 1]), delay({ seconds: 2 })),
    ]) {
      const { scan } = scannedResponse(scope, system as StateSpace, 'u1', 'y1', [0.01, 100])
      const { turn, stretch } = steps(scan)
      expect(turn).toBeLessThanOrEqual(Math.PI / 8)
      expect(stretch).toBeLessThanOrEqual(0.5)
      // Not by far less either: a scan of thousands of samples for nothing
      expect(turn).toBeGreaterThan(Math.PI / 64)
    }
  })

  it('holds what the system says at its samples, and everywhere', () => {
    // by hand: 1/(1 − ω² + 2e−4 jω)
    const { at, scan } = scannedResponse(scope, resonance, 'u1', 'y1')
    for (const omega of [0.5, 1, 2]) {
      const [a, b] = [1 - omega ** 2, 2e-4 * omega]
      const value = at(omega)
      expect((value?.re as number) * (a * a + b * b)).toBeCloseTo(a, 10)
      expect((value?.im as number) * (a * a + b * b)).toBeCloseTo(-b, 10)
    }
    // Its peak is 5000, and three decades beyond the pole are looked at on either side.
    expect(Math.max(...scan.re.map((re, k) => Math.hypot(re, scan.im[k])))).toBeGreaterThan(4900)
    expect(scan.omega[0]).toBeLessThan(1.001e-3)
    expect(scan.omega.filter((omega) => omega >= 1e3 && omega < 2e3).length).toBeGreaterThan(0)
  })

  it('begins and ends with the range that is asked for', () => {
    const { scan } = scannedResponse(scope, resonance, 'u1', 'y1', [0.3, 1.7])
    expect([scan.omega[0], scan.omega[scan.omega.length - 1]]).toEqual([0.3, 1.7])
    const upper = scannedResponse(scope, resonance, 'u1', 'y1', [0.3, Number.POSITIVE_INFINITY]).scan
    expect(upper.omega[0]).toBe(0.3)
    expect(upper.omega[upper.omega.length - 1]).toBeGreaterThanOrEqual(1e3)
    const lower = scannedResponse(scope, resonance, 'u1', 'y1', [0, 1.7]).scan
    expect(lower.omega[0]).toBeLessThan(1.001e-3)
    expect(lower.omega[lower.omega.length - 1]).toBe(1.7)
  })

  it('is that of one channel, with the poles of that channel alone', () => {
    const A = [[-1, 0], [0, -50]] // biome-ignore format: matrix
    const two = stateSpace({ A, B: [[1, 0], [0, 1]], C: [[1, 0], [0, 1]] }) // biome-ignore format: matrix
    const { at, scan } = scannedResponse(scope, two, 'u2', 'y2')
    expect(at(0)?.re).toBeCloseTo(0.02, 14)
    expect(scan.omega[0]).toBeCloseTo(0.05, 9)
  })

  it('is not refined where it is below what matters', () => {
    const late = parallel(ratio([1], [1, 1]), series(ratio([1e-6], [1, 1]), delay({ seconds: 2 })))
    const whole = scannedResponse(scope, late as StateSpace, 'u1', 'y1', [0.1, 1e3])
    const strong = scannedResponse(scope, late as StateSpace, 'u1', 'y1', [0.1, 1e3], 0.1)
    expect(strong.scan.omega.length).toBeLessThanOrEqual(whole.scan.omega.length)
    const last = (scan: { omega: number[] }) => scan.omega.filter((omega) => omega < 5).length
    expect(last(strong.scan)).toBe(last(whole.scan))
  })
})

describe('a refined scan', () => {
  it('leaves out seeds on a pole, and does not step over what lies between two seeds', () => {
    // 1/(1 − ω²), by hand: a pole at 1
    const f = (omega: number) => (omega === 1 ? null : { re: 1 / (1 - omega * omega), im: 0 })
    const scan = refinedScan(scope, f, [0.5, 1, 2], 0)
    expect(scan.omega).not.toContain(1)
    expect([scan.omega[0], scan.omega[scan.omega.length - 1]]).toEqual([0.5, 2])
  })

  it('says a sample once that says the same again', () => {
    const scan = refinedScan(scope, () => ({ re: 2, im: 1 }), [1, 1 + 1e-7, 1 + 1e-3, 2], 0)
    expect(scan.omega).toEqual([1, 1 + 1e-3, 2])
  })

  it('goes on where neither end matters but the turn does not end', () => {
    // Turns of a curve below 1e-3 are passed over, those above are not: e^(jω)/ω³
    const f = (omega: number) => ({ re: Math.cos(omega) / omega ** 3, im: Math.sin(omega) / omega ** 3 })
    const scan = refinedScan(scope, f, [1, 100], 1e-3)
    expect(scan.omega.filter((omega) => omega > 1 && omega < 10).length).toBeGreaterThan(9 / (Math.PI / 8))
    expect(scan.omega.filter((omega) => omega > 13 && omega < 100).length).toBeLessThan(20)
  })

  it('gives up on a curve that never comes to rest', () => {
    const f = (omega: number) => ({ re: Math.cos(1e6 * omega), im: Math.sin(1e6 * omega) })
    expect(() => refinedScan(scope, f, [1, 10], 0)).toThrow('test: needs more than 400000 samples of the loop')
  })
})
