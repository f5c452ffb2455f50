import { describe, expect, it } from 'vitest'
import { mountsInSeries, relaxationMount } from '../../../src/elements/index.js'

describe('mountsInSeries', () => {
  it('of springs and of dashpots is the harmonic sum', () => {
    // Common practice, no source: 1/(1/30 + 1/60) = 20.
    expect(mountsInSeries({ stiffness: 30 }, { stiffness: 60 })).toEqual({
      kind: 'Mount',
      stiffness: 20,
      damping: 0,
      relaxations: [],
    })
    expect(mountsInSeries({ stiffness: 0, damping: 30 }, { stiffness: 0, damping: 60 }).damping).toBeCloseTo(20, 14)
  })

  it('of a spring and a dashpot is a Maxwell branch', () => {
    const series = mountsInSeries({ stiffness: 400 }, { stiffness: 0, damping: 20 })
    // Computed from the closed form k·τ·s/(1 + τ·s), τ = c/k.
    expect(series).toMatchObject({ stiffness: 0, damping: 0 })
    expect(series.relaxations).toHaveLength(1)
    expect(series.relaxations[0]?.stiffness).toBeCloseTo(400, 11)
    expect(series.relaxations[0]?.time).toBeCloseTo(0.05, 15)
  })

  it('of a spring and a Voigt mount is the standard linear solid', () => {
    // Computed by hand: 1/K = 1/100 + 1/(50 + 3s) gives K = (5000 + 300s)/(150 + 3s): K(0) = 100/3, K(∞) = 100, τ = 0.02.
    const { stiffness, damping, relaxations } = mountsInSeries({ stiffness: 100 }, { stiffness: 50, damping: 3 })
    expect(stiffness).toBeCloseTo(100 / 3, 12)
    expect(damping).toBe(0)
    expect(relaxations).toHaveLength(1)
    expect(relaxations[0]?.stiffness).toBeCloseTo(200 / 3, 12)
    expect(relaxations[0]?.time).toBeCloseTo(0.02, 15)
  })

  it('of a spring and a lone branch is a softer and slower branch', () => {
    // Computed from the closed form k·k₁·τs/(k + (k + k₁)·τs): stiffness k·k₁/(k + k₁) = 75, time τ·(k + k₁)/k = 0.08; the
    // branch without stiffness does nothing.
    const relaxations = [
      { stiffness: 300, time: 0.02 },
      { stiffness: 0, time: 5 },
    ]
    const series = mountsInSeries({ stiffness: 100 }, { stiffness: 0, relaxations })
    expect(series).toMatchObject({ stiffness: 0, damping: 0 })
    expect(series.relaxations).toHaveLength(1)
    expect(series.relaxations[0]?.stiffness).toBeCloseTo(75, 11)
    expect(series.relaxations[0]?.time).toBeCloseTo(0.08, 14)
  })

  it('of two equal mounts is half of one', () => {
    const mount = relaxationMount({ stiffness: 1e4, stiffnessRatio: 3, damping: 600 })
    const series = mountsInSeries(mount, mount)
    expect(series.stiffness).toBeCloseTo(5e3, 10)
    // The zero that both share cancels its pole: only the shared branch carries stiffness.
    const branches = series.relaxations.filter(({ stiffness }) => stiffness > 1e-9)
    expect(branches).toHaveLength(1)
    expect(branches[0]?.stiffness).toBeCloseTo(15e3, 9)
    expect(branches[0]?.time).toBeCloseTo(0.02, 15)
  })

  it.each([
    [{ stiffness: -1 }, 'unsupported', 'first'],
    [{ stiffness: 0 }, 'invalid-option', 'first'],
    [{ stiffness: 1, lateral: { stiffness: 1 } }, 'unsupported', 'first.lateral'],
    [
      { stiffness: 1, surge: [{ mass: 1, naturalFrequency: 50, dampingRatio: 0.01, modes: 3 }] },
      'unsupported',
      'first.surge',
    ],
    [{ stiffness: Number.NaN }, 'not-finite', 'first.stiffness'],
  ])('refuses %o as %s at %s', (first, code, path) => {
    expect(() => mountsInSeries(first, { stiffness: 1 })).toThrow(
      expect.objectContaining({ code, details: expect.objectContaining({ path }) }),
    )
  })
})
