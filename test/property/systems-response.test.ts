import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  frequencyResponse,
  logFrequencies,
  parallel,
  poles,
  type StateSpace,
  series,
  stability,
  stateSpace,
} from '../../src/systems/index.js'

const between = (low: number, high: number) =>
  fc.double({ min: Math.log10(low), max: Math.log10(high), noNaN: true }).map((exponent) => 10 ** exponent)

/** Masses in a chain to the ground, damped in proportion to the stiffness and by a dashpot each; force on the first, all
 * displacements out. Stiffnesses differ by up to 1e4 and quality factors reach 100. */
const chain = fc
  .array(fc.record({ mass: between(0.1, 1e3), stiffness: between(1e3, 1e7), loss: between(1e-2, 1) }), {
    minLength: 1,
    maxLength: 5,
  })
  .map((links): StateSpace => {
    const n = links.length
    const A = Array.from({ length: 2 * n }, (_, i) =>
      Array.from({ length: 2 * n }, (_, j) => (i < n && j === n + i ? 1 : 0)),
    )
    links.forEach(({ stiffness, loss }, k) => {
      const damping = loss * Math.sqrt(stiffness * links[k].mass)
      for (const [at, other] of [
        [k, k - 1],
        [k - 1, k],
      ]) {
        if (at < 0) continue
        A[n + at][at] -= stiffness / links[at].mass
        A[n + at][n + at] -= damping / links[at].mass
        if (other < 0) continue
        A[n + at][other] += stiffness / links[at].mass
        A[n + at][n + other] += damping / links[at].mass
      }
    })
    return stateSpace({
      A,
      B: A.map((_, i) => [i === n ? 1 / links[0].mass : 0]),
      C: links.map((_, k) => A.map((_, j) => (j === k ? 1 : 0))),
    })
  })
const grid = logFrequencies({ from: 1e-2, to: 1e3, count: 60 })

/** Largest difference, relative to the modulus of the same output at the same frequency. */
function difference(a: StateSpace, b: StateSpace): number {
  const [x, y] = [frequencyResponse(a, grid), frequencyResponse(b, grid)]
  let worst = 0
  for (let p = 0; p < x.re.length; p++) {
    const size = Math.hypot(x.re[p], x.im[p])
    worst = Math.max(worst, Math.hypot(x.re[p] - y.re[p], x.im[p] - y.im[p]) / size)
  }
  return worst
}

describe('the states of a system are its own affair', () => {
  it('their order changes no response beyond rounding', () => {
    fc.assert(
      fc.property(chain, fc.infiniteStream(fc.nat()), (system, stream) => {
        const keys = system.A.map(() => stream.next().value as number)
        const order = keys.map((_, k) => k).sort((a, b) => keys[a] - keys[b] || a - b)
        const permuted = stateSpace({
          A: order.map((i) => order.map((j) => system.A[i][j])),
          B: order.map((i) => [system.B[i][0]]),
          C: system.C.map((row) => order.map((j) => row[j])),
        })
        // The numbers are the same, so only the solver rounds: refined to a few ε times the condition of the chain, 1e6.
        expect(difference(system, permuted)).toBeLessThan(1e-9)
      }),
      { numRuns: 150 },
    )
  })

  it('their units change no response beyond rounding', () => {
    fc.assert(
      fc.property(chain, fc.array(between(1e-9, 1e9), { minLength: 10, maxLength: 10 }), (system, units) => {
        const scaled = stateSpace({
          A: system.A.map((row, i) => row.map((value, j) => (value * units[j]) / units[i])),
          B: system.B.map(([value], i) => [value / units[i]]),
          C: system.C.map((row) => row.map((value, j) => value * units[j])),
        })
        // Each entry is rounded by 2ε. A stiffness that stands beside one 1e4 times softer, at a quality factor of 100,
        // multiplies that by 1e6; the rest is the number of states and the room between typical and worst.
        expect(difference(system, scaled)).toBeLessThan(1e-8)
      }),
      { numRuns: 150 },
    )
  })

  it('units by powers of two change no pole and no verdict', () => {
    fc.assert(
      fc.property(
        chain,
        fc.array(fc.integer({ min: -30, max: 30 }), { minLength: 10, maxLength: 10 }),
        (system, powers) => {
          const units = powers.map((power) => 2 ** power)
          const scaled = stateSpace({
            A: system.A.map((row, i) => row.map((value, j) => (value * units[j]) / units[i])),
            B: system.B.map(([value], i) => [value / units[i]]),
            C: system.C.map((row) => row.map((value, j) => value * units[j])),
          })
          expect(stability(scaled).verdict).toBe(stability(system).verdict)
          const [x, y] = [poles(system), poles(scaled)]
          const fastest = Math.hypot(x[x.length - 1].re, x[x.length - 1].im)
          // QR is backward stable: ε times the fastest pole, a few states, and the condition of an eigenvalue of the chain.
          for (const pole of x) {
            const distance = Math.min(...y.map(({ re, im }) => Math.hypot(re - pole.re, im - pole.im)))
            expect(distance).toBeLessThan(1e-9 * fastest)
          }
        },
      ),
      { numRuns: 100 },
    )
  })
})

describe('poles', () => {
  it('come in conjugate pairs, side by side, and are as many as the states', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 9 }).chain((n) =>
          fc.array(fc.array(fc.double({ min: -10, max: 10, noNaN: true }), { minLength: n, maxLength: n }), {
            minLength: n,
            maxLength: n,
          }),
        ),
        (A) => {
          const found = poles(stateSpace({ A, B: A.map(() => [1]), C: [A.map(() => 1)] }))
          expect(found.length).toBe(A.length)
          for (let k = 0; k < found.length; k++) {
            if (found[k].im === 0) continue
            expect(found[k].im).toBeGreaterThan(0)
            expect([found[k + 1].re, found[k + 1].im]).toEqual([found[k].re, -found[k].im])
            k += 1
          }
        },
      ),
    )
  })

  it('of a passive chain are all on the left', () => {
    fc.assert(
      fc.property(chain, (system) => {
        for (const { re } of poles(system)) expect(re).toBeLessThan(0)
        expect(stability(system)).toMatchObject({ verdict: 'stable', unstablePoles: 0 })
      }),
    )
  })
})

describe('joined systems', () => {
  const single = chain.map((system): StateSpace => stateSpace({ A: system.A, B: system.B, C: [system.C[0]] }))

  it('in series respond with the product', () => {
    fc.assert(
      fc.property(single, single, (a, b) => {
        const [x, y, both] = [a, b, series(a, b)].map((system) => frequencyResponse(system, grid))
        for (let k = 0; k < grid.length; k++) {
          const re = x.re[k] * y.re[k] - x.im[k] * y.im[k]
          const im = x.re[k] * y.im[k] + x.im[k] * y.re[k]
          // each factor is good to 1e-9 as above
          expect(Math.hypot(both.re[k] - re, both.im[k] - im) / Math.hypot(re, im)).toBeLessThan(2e-9)
        }
      }),
      { numRuns: 100 },
    )
  })

  it('in parallel respond with the sum', () => {
    fc.assert(
      fc.property(single, single, (a, b) => {
        const [x, y, both] = [a, b, parallel(a, b)].map((system) => frequencyResponse(system, grid))
        for (let k = 0; k < grid.length; k++) {
          // relative to the terms: the sum itself may cancel
          const size = Math.hypot(x.re[k], x.im[k]) + Math.hypot(y.re[k], y.im[k])
          const off = Math.hypot(both.re[k] - x.re[k] - y.re[k], both.im[k] - x.im[k] - y.im[k])
          expect(off / size).toBeLessThan(2e-9)
        }
      }),
      { numRuns: 100 },
    )
  })

  it('have the poles of both, exactly', () => {
    fc.assert(
      fc.property(single, single, (a, b) => {
        const key = ({ re, im }: { re: number; im: number }) => `${re} ${im}`
        const apart = [...poles(a), ...poles(b)].map(key).sort()
        expect(poles(series(a, b)).map(key).sort()).toEqual(apart)
        expect(poles(parallel(a, b)).map(key).sort()).toEqual(apart)
      }),
      { numRuns: 50 },
    )
  })
})
