import { describe, expect, it } from 'vitest'
import { scopeOf } from '../../../src/internal/check.js'
import { denseSystem } from '../../../src/systems/dense-system.js'
import { type StateSpace, stateSpace } from '../../../src/systems/index.js'
import { systemSeeds } from '../../../src/systems/system-seeds.js'

const scope = scopeOf('test')

/** Lags 1/(s + 1), of which each reads what `from` says of the delayed others, with gains: z_i = x_i, x_i' = −x_i + Σ gain_ij w_j. */
const ring = (gains: number[][], seconds: number[]): StateSpace => {
  const n = gains.length
  const unit = gains.map((_, i) => gains.map((__, j) => (i === j ? 1 : 0)))
  return {
    ...stateSpace({
      A: unit.map((row) => row.map((value) => -value)),
      B: unit.map((_, i) => [i === 0 ? 1 : 0]),
      C: [unit[n - 1]],
    }),
    delays: {
      seconds,
      B: gains,
      C: unit,
      D12: [new Array<number>(n).fill(0)],
      D21: unit.map(() => [0]),
      D22: unit.map((row) => row.map(() => 0)),
    },
  }
}
const seedsOf = (system: StateSpace, influence = 0.1) => systemSeeds(scope, denseSystem(system), influence)
const widest = (seeds: readonly number[], upTo: number) =>
  Math.max(...seeds.filter((seed) => seed <= upTo).map((seed, k, list) => seed - (list[k - 1] ?? 0)))

describe('where to look at a system first', () => {
  it('is three decades beyond its poles, a dozen places in each', () => {
    const seeds = seedsOf(stateSpace({ A: [[-2]], B: [[1]], C: [[1]] }))
    expect(seeds[0]).toBeCloseTo(2e-3, 12)
    expect(seeds[seeds.length - 1]).toBeCloseTo(2e3, 6)
    // six decades and both ends; the pole is one of them, or beside it by rounding
    expect([73, 74]).toContain(seeds.length)
  })

  it('goes with the turns of a delay as long as the gain around it matters', () => {
    // |5/(1 + jω)| is above 0.1 up to 50 rad/s, beyond which the next place in twelfths of a decade is within 61; twice that
    const seeds = seedsOf(ring([[5]], [2]))
    expect(widest(seeds, 100)).toBeLessThan(Math.PI / 16)
    // about 2·100/(π/8) turns of 22.5° up to there, and as many again at most
    expect(seeds.filter((seed) => seed > 10 && seed <= 100).length).toBeGreaterThan(180 / (Math.PI / 8))
    expect(seeds.filter((seed) => seed > 125).length).toBeLessThan(60)
    // below 0.1 nowhere: no turns
    expect(seedsOf(ring([[0.09]], [2])).length).toBeLessThan(200)
  })

  it('adds the turns of delays up, and goes by the gain around rings of them', () => {
    // 5·5/|1 + jω|² is above 0.1 up to 15.8 rad/s; the way back missing, there is no ring
    const both = seedsOf(ring([[0, 5], [5, 0]], [1, 2])) // biome-ignore format: matrix
    expect(widest(both, 31)).toBeLessThan(Math.PI / 8 / 3)
    expect(both.filter((seed) => seed > 45).length).toBeLessThan(60)
    expect(seedsOf(ring([[0, 0], [5, 0]], [1, 2])).length).toBeLessThan(200) // biome-ignore format: matrix
    // three in a ring: 5³/|1 + jω|³ above 0.1 up to 10.7 rad/s
    const three = seedsOf(ring([[0, 0, 5], [5, 0, 0], [0, 5, 0]], [1, 1, 1])) // biome-ignore format: matrix
    expect(widest(three, 21)).toBeLessThan(Math.PI / 8 / 3)
    expect(three.filter((seed) => seed > 32).length).toBeLessThan(80)
    // a weak ring beside a strong one goes by the strong one
    const beside = seedsOf(ring([[5, 0], [0, 0.01]], [1, 1])) // biome-ignore format: matrix
    expect(widest(beside, 100)).toBeLessThan(Math.PI / 8 / 2)
  })
})
