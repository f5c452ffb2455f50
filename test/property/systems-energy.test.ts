import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { mechanicalSystem, simulate } from '../../src/systems/index.js'

// Balance of energy: the work of the forces is what the masses and springs hold and the dashpots have taken. A force that is
// constant over a sample does the work F·(x₊ − x), exactly. L. Meirovitch, Fundamentals of Vibrations, 2001, from memory.

const decades = (low: number, high: number) =>
  fc.double({ min: low, max: high, noNaN: true }).map((power) => 10 ** power)

/** A row of masses, each on a spring and dashpot to the one before; the first to the ground. */
const row = fc.array(fc.record({ mass: decades(0, 2), stiffness: decades(2, 5), loss: decades(-3, -1) }), {
  minLength: 1,
  maxLength: 4,
})
/** [mN], so that no product is subnormal. */
const forces = fc.array(fc.integer({ min: -10_000, max: 10_000 }), { minLength: 200, maxLength: 200 })

type Row = readonly { readonly mass: number; readonly stiffness: number; readonly loss: number }[]

/** Tridiagonal matrix of elements between neighbours. */
const joined = (values: readonly number[]) =>
  values.map((_, i) =>
    values.map((_, j) => {
      if (i === j) return values[i] + (values[i + 1] ?? 0)
      return Math.abs(i - j) === 1 ? -values[Math.max(i, j)] : 0
    }),
  )

function motion(links: Row, share: number, force: readonly number[], sampleTime: number) {
  const unit = links.map((_, k) => links.map((_, j) => (j === k ? 1 : 0)))
  const dashpots = links.map(({ mass, stiffness, loss }) => share * loss * Math.sqrt(mass * stiffness))
  const springs = links.map(({ stiffness }) => stiffness)
  const system = mechanicalSystem({
    mass: unit.map((line, k) => line.map((one) => one * links[k].mass)),
    damping: joined(dashpots),
    stiffness: joined(springs),
    inputs: { force: unit[links.length - 1] },
    outputs: Object.fromEntries(
      unit.flatMap((line, k) => [
        [`x${k}`, { displacement: line }],
        [`v${k}`, { velocity: line }],
      ]),
    ),
  })
  const { outputs } = simulate(system, { inputs: { force }, sampleTime, hold: 'zero-order-hold' })
  const at = (k: number, kind: 'x' | 'v') => links.map((_, i) => outputs[`${kind}${i}`][k])
  const stretch = (values: readonly number[]) => values.map((value, i) => value - (values[i - 1] ?? 0))
  const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0)
  return {
    held: force.map(
      (_, k) =>
        sum(at(k, 'v').map((v, i) => 0.5 * links[i].mass * v * v)) +
        sum(stretch(at(k, 'x')).map((x, i) => 0.5 * springs[i] * x * x)),
    ),
    work: force.map((_, k) => {
      const x = outputs[`x${links.length - 1}`]
      return sum(force.slice(0, k).map((f, i) => f * (x[i + 1] - x[i])))
    }),
    /** [W] taken by the dashpots */
    taken: force.map((_, k) => sum(stretch(at(k, 'v')).map((v, i) => dashpots[i] * v * v))),
  }
}

/** Rate of the fastest oscillation, no more than: Gershgorin's bound on ω². */
const fastest = (links: Row) =>
  Math.sqrt(
    Math.max(...links.map(({ mass, stiffness }, k) => (2 * (stiffness + (links[k + 1]?.stiffness ?? 0))) / mass)),
  )

describe('a simulated row of masses', () => {
  it('without dashpots holds the work of the force, to the last sample', () => {
    fc.assert(
      fc.property(row, forces, decades(-2, 1), (links, force, pace) => {
        const { held, work } = motion(links, 0, force, pace / fastest(links))
        const scale = Math.max(...held)
        // 200 steps that round by a few ε each, times the ratio of the largest to the smallest energy in one sum, 1e3.
        for (const [k, energy] of held.entries()) expect(Math.abs(energy - work[k])).toBeLessThanOrEqual(1e-9 * scale)
      }),
    )
  })

  it('with dashpots never holds more than the work, and lacks what they took', () => {
    fc.assert(
      fc.property(row, forces, (links, values) => {
        const step = 0.02 / fastest(links)
        // Every force acts over two samples, so that Simpson's rule meets no kink of the velocity.
        const force = values.flatMap((value) => [value, value])
        const { held, work, taken } = motion(links, 1, force, step)
        let [lost, scale] = [0, 0]
        for (let k = 2; k < force.length; k += 2) {
          lost += (step / 3) * (taken[k - 2] + 4 * taken[k - 1] + taken[k])
          scale += Math.abs(work[k] - work[k - 2])
          expect(held[k]).toBeLessThanOrEqual(work[k] + 1e-9 * scale)
          // Simpson's rule on the square of a motion of 0.02 rad a sample: (2 · 0.02)⁴/180 of what is taken, and
          // room for the decays.
          expect(Math.abs(work[k] - held[k] - lost)).toBeLessThanOrEqual(1e-6 * scale)
        }
      }),
    )
  })
})
