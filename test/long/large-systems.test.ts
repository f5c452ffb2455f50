import { describe, expect, it, vi } from 'vitest'
import {
  absolutePhaseDegrees,
  adaptiveFrequencies,
  connect,
  delay,
  discretize,
  frequencyResponse,
  h2Norm,
  hInfinityNorm,
  logFrequencies,
  margins,
  minimalForm,
  poles,
  series,
  settlingTime,
  simulate,
  stability,
  stateSpace,
  stationaryCovariance,
  zeros,
} from '../../src/systems/index.js'

// A chain of a hundred equal masses and springs between two walls, each with its own dashpot to ground; force on the first,
// displacement of the first. Modes ω_i = 2 √k sin(iπ/202), all with the damping rate 1/4 (closed form of the chain).
const count = 100
const [stiffness, damping] = [1000, 0.5]
const A = Array.from({ length: 2 * count }, (_, i) =>
  Array.from({ length: 2 * count }, (_, j) => {
    if (i < count) return j === count + i ? 1 : 0
    const [row, column] = [i - count, j < count ? j : j - count]
    if (j >= count) return row === column ? -damping : 0
    return row === column ? -2 * stiffness : Math.abs(row - column) === 1 ? stiffness : 0
  }),
)
const chain = stateSpace({
  A,
  B: A.map((_, i) => [i === count ? 1 : 0]),
  C: [A.map((_, j) => (j === 0 ? 1 : 0))],
})

vi.setConfig({ testTimeout: 120_000 })

/** What a call gives, within so many seconds: 1 s for what is asked all the time, 10 s for norms, zeros and margins. */
const within = <T>(seconds: number, call: () => T): T => {
  const start = performance.now()
  const result = call()
  expect(performance.now() - start).toBeLessThan(1000 * seconds)
  return result
}

describe('two hundred states', () => {
  it('have their poles and their verdict', () => {
    const found = within(1, () => poles(chain))
    expect(found.length).toBe(200)
    // computed from the closed form 2 √1000 sin(π/202)/2π for the slowest mode
    expect(found[0].naturalFrequency).toBeCloseTo(0.1565420881496858, 9)
    for (const { re } of found) expect(Math.abs(re + 0.25)).toBeLessThan(1e-9)
    expect(within(1, () => stability(chain))).toMatchObject({ verdict: 'stable', unstablePoles: 0 })
  })

  it('have their response at a hundred frequencies', () => {
    const grid = logFrequencies({ from: 0.01, to: 100, count: 100 })
    const { re } = within(1, () => frequencyResponse(chain, grid))
    expect(re.every(Number.isFinite)).toBe(true)
    // computed from the closed form count/(count + 1)/k of the chain pushed at its first mass
    const [still] = frequencyResponse(chain, [0]).re
    expect(Math.abs(still - 9.900990099009901e-4)).toBeLessThan(1e-15)
  })

  it('have their zeros and their phase', () => {
    // The collocated chain has the zeros of the chain of one mass less: 2 √k sin(iπ/200), rate 1/4.
    const found = within(10, () => zeros(chain))
    expect(found.length).toBe(198)
    expect(Math.hypot(found[0].re, found[0].im)).toBeCloseTo(0.9934179727269312, 6)
    const phase = within(10, () => absolutePhaseDegrees(chain, [0, 1e4]))
    expect(phase[0]).toBe(0)
    expect(phase[1]).toBeCloseTo(-180, 2)
  })

  it('have their norms and their covariance', () => {
    const rms = within(10, () => h2Norm(chain))
    expect(stationaryCovariance(chain)[0][0] / rms ** 2).toBeCloseTo(1, 10)
    const { norm } = within(10, () => hInfinityNorm(chain))
    // Above the static flexibility, below the sum of the peaks of all modes
    expect(norm).toBeGreaterThan(9.900990099009901e-4)
    expect(norm).toBeLessThan(0.02)
  })

  it('have their margins', () => {
    const { closedLoop, gainCrossovers } = within(10, () => margins(chain))
    expect(closedLoop).toBe('stable')
    expect(gainCrossovers).toEqual([])
    // Behind 10 ms the same
    const late = within(10, () => margins(series(chain, delay({ seconds: 0.01 }))))
    expect(late).toMatchObject({ closedLoop: 'stable', gainCrossovers: [] })
  })

  it('are connected', () => {
    const closed = within(1, () =>
      connect({
        blocks: { chain },
        inputs: ['u'],
        outputs: { y: 'chain.y1' },
        wires: { 'chain.u1': ['u', '-chain.y1'] },
      }),
    )
    expect(closed.A.length).toBe(200)
  })

  it('are simulated, discretised and settle', () => {
    within(5, () => simulate(chain, { inputs: { u1: new Float64Array(1000).fill(1) }, sampleTime: 0.01 }))
    expect(within(5, () => discretize(chain, { sampleTime: 0.01, method: 'bilinear' })).A.length).toBe(200)
    const time = within(20, () => settlingTime(chain, { band: 0.02, relative: 'of-final' }))
    // Every mode decays with e^(−t/4).
    expect(time).toBeGreaterThan(5)
    expect(time).toBeLessThan(60)
  })

  it('are minimal, and found so', () => {
    expect(within(10, () => minimalForm(chain)).removed).toEqual({ uncontrollable: 0, unobservable: 0 })
  })

  it('have a grid on which their response can be read', () => {
    const grid = within(20, () => adaptiveFrequencies(chain, { from: 0.1, to: 2, tolerance: 0.05 }))
    expect(grid.length).toBeLessThan(1000)
  })
})
