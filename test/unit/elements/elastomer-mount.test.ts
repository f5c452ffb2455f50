import { describe, expect, it } from 'vitest'
import { dynamicStiffness, elastomerMount, naturalFrequency, standardGravity } from '../../../src/elements/index.js'
import { refusal } from '../refusal.js'

// What the fit is meant to reach, well above what it does reach (under 1 % and 1.5 %).
const stiffnessTolerance = 0.02
const lossFactorTolerance = 0.05

describe('elastomerMount', () => {
  // K = k·(jω/ω_r)^α/cos(πα/2): R. L. Bagley, P. J. Torvik, Journal of Rheology 27, 1983. At the ends of three decades
  // Re K/k = 10^(±1.5·α), α = (2/π)·atan(lossFactor); computed from this closed form with mpmath.
  it.each([
    [0.05, 0.8959695418, 1.116109369],
    [0.1, 0.8031995338, 1.245020643],
    [0.3, 0.5268406329, 1.898107203],
    [0.5, 0.3607855599, 2.771729556],
    [1, 0.177827941, 5.623413252],
  ])('of loss factor %d follows the fractional law over three decades', (lossFactor, low, high) => {
    const mount = elastomerMount({ stiffness: 1e6, lossFactor, band: [1, 1000] })
    const grid = Array.from({ length: 301 }, (_, k) => (k === 300 ? 1000 : 10 ** (k / 100)))
    const K = dynamicStiffness(mount, grid)
    grid.forEach((_, k) => {
      const loss = (K.im[k] as number) / (K.re[k] as number)
      expect(Math.abs(loss / lossFactor - 1)).toBeLessThan(lossFactorTolerance)
    })
    expect(Math.abs((K.re[0] as number) / 1e6 / low - 1)).toBeLessThan(stiffnessTolerance)
    expect(Math.abs((K.re[300] as number) / 1e6 / high - 1)).toBeLessThan(stiffnessTolerance)
  })

  it('has the stiffness asked for at the middle of the band', () => {
    const mount = elastomerMount({ stiffness: 7e5, lossFactor: 0.2, band: [2, 50] })
    // Held by a final scaling, so to rounding.
    expect((dynamicStiffness(mount, [10]).re[0] as number) / 7e5).toBeCloseTo(1, 13)
  })

  it('records the worst deviations, which a finer grid confirms', () => {
    const mount = elastomerMount({ stiffness: 1, lossFactor: 0.3, band: [1, 1000] })
    expect(mount.fit.stiffnessDeviation).toBeLessThan(0.01)
    expect(mount.fit.lossFactorDeviation).toBeLessThan(0.015)
    const grid = Array.from({ length: 20001 }, (_, k) => (k === 20000 ? 1000 : 10 ** ((k / 20000) * 3)))
    const K = dynamicStiffness(mount, grid)
    const worst = Math.max(...grid.map((_, k) => Math.abs((K.im[k] as number) / (K.re[k] as number) / 0.3 - 1)))
    expect(worst).toBeLessThan(mount.fit.lossFactorDeviation * 1.01)
    expect(worst).toBeGreaterThan(mount.fit.lossFactorDeviation * 0.99)
  })

  it('gives passive branches only', () => {
    const mount = elastomerMount({ stiffness: 1e6, lossFactor: 0.1, band: [1, 1000], staticRatio: 2 })
    expect(mount.relaxations.every(({ stiffness, time }) => stiffness > 0 && time > 0)).toBe(true)
    expect(mount.stiffness).toBe(5e5)
    expect(mount.staticRatio).toBe(2)
  })

  it('that sags 5 mm with a ratio of 1.4 rings at 8.34 Hz', () => {
    // Computed from the closed form √(g·ratio/d)/2π.
    const mass = 100
    const stiffness = (1.4 * mass * standardGravity) / 5e-3
    const mount = elastomerMount({ stiffness, lossFactor: 0.1, band: [1, 100], staticRatio: 1.4 })
    expect((mass * standardGravity) / mount.stiffness).toBeCloseTo(5e-3, 12)
    expect(naturalFrequency({ mass, stiffness })).toBeCloseTo(8.339874, 6)
  })

  it('leaves by itself the spring that the law keeps below a tenth of the band', () => {
    // K(0)/k = (sin(πα)/(πα))/cos(πα/2)·(10·√(f₂/f₁))^(−α), computed with mpmath.
    const mount = elastomerMount({ stiffness: 1, lossFactor: 0.1, band: [1, 1000] })
    expect(mount.staticRatio).toBeCloseTo(1.443267595, 9)
  })

  it('reaches any ratio above the least, however large', () => {
    for (const lossFactor of [0.001, 0.05, 1]) {
      const mount = elastomerMount({ stiffness: 1, lossFactor, band: [1, 1000], staticRatio: 1e6 })
      expect(mount.fit.stiffnessDeviation).toBeLessThan(stiffnessTolerance)
      expect(mount.fit.lossFactorDeviation).toBeLessThan(lossFactorTolerance)
    }
  })

  it('refuses a ratio that the loss factor does not allow, and names the least', () => {
    const ratio = (staticRatio: number) => () =>
      elastomerMount({ stiffness: 1, lossFactor: 0.3, band: [1, 1000], staticRatio })
    expect(ratio(1.4)).toThrow(/staticRatio must be at least about 1 \+ 1\.5\d for a loss factor of 0\.3/)
    expect(ratio(2.6)).not.toThrow()
    // The law itself rises by 1.8981 from the lower end to the middle, so no fit to 2 % can have less.
    expect(ratio(1.85)).toThrow(expect.objectContaining({ code: 'out-of-range' }))
  })

  it.each([
    ['a loss too small for any branch', { lossFactor: 1e-300 }],
    ['a softness at rest that no branch of such a small loss explains', { lossFactor: 1e-8, staticRatio: 1e6 }],
  ])('says that it found no branches for %s', (_, change) => {
    const error = refusal(() => elastomerMount({ stiffness: 1e6, band: [1, 100], ...change }))
    expect([error.code, error.details.function]).toEqual(['no-convergence', 'elastomerMount'])
  })

  it.each([
    [{ stiffness: 0 }, 'stiffness'],
    [{ lossFactor: 0 }, 'lossFactor'],
    [{ lossFactor: 5 }, 'lossFactor'],
    [{ band: [1] }, 'band'],
    [{ band: [10, 1] }, 'band[1]'],
    [{ band: [1, 1e7] }, 'band[1]'],
    [{ band: [0, 1] }, 'band[0]'],
    [{ band: '1..10' }, 'band'],
    [{ staticRatio: 1 }, 'staticRatio'],
    [{ damping: 1 }, 'damping'],
  ])('refuses %o at %s', (change, path) => {
    const options = { stiffness: 1e6, lossFactor: 0.1, band: [1, 100], ...change }
    expect(() => elastomerMount(options as never)).toThrow(
      expect.objectContaining({ name: 'IsolationError', details: expect.objectContaining({ path }) }),
    )
  })
})
