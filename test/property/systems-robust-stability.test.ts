import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { robustStability, type StateSpace, stability, stateSpace } from '../../src/systems/index.js'

/** A mass on a spring, a dashpot and a delayed velocity feedback through a lag, or without a delay where that is 0. */
interface Point {
  readonly stiffness: number
  readonly damping: number
  readonly gain: number
  readonly seconds: number
}

function late({ stiffness, damping, gain, seconds }: Point): StateSpace {
  const A = [
    [0, 1, 0],
    [-stiffness, -damping, 0],
    [0, 8, -8],
  ]
  return {
    ...stateSpace({ A, B: [[0], [0], [0]], C: [[0, 0, 0]] }),
    delays: { seconds: [seconds], B: [[0], [-gain], [0]], C: [[0, 0, 1]], D12: [[0]], D21: [[0]], D22: [[0]] },
  }
}

const span = (low: number, high: number) =>
  fc
    .tuple(fc.double({ min: low, max: high, noNaN: true }), fc.double({ min: 0.05, max: 0.6, noNaN: true }))
    .map(([from, width]): [number, number] => [from, from * (1 + width)])

describe('a box of mounts with a delayed feedback', () => {
  const boxes = fc.record({
    stiffness: span(0.5, 4),
    damping: span(0.01, 0.4),
    gain: span(0.05, 1.5),
    seconds: span(0.05, 3),
  })
  const shares = fc.array(fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 4, maxLength: 4 }), {
    minLength: 25,
    maxLength: 25,
  })

  it('holds only stable ones where they are proven, and the counterexample is one', () => {
    const seen = { proven: 0, counterexample: 0, undecided: 0 }
    fc.assert(
      fc.property(boxes, shares, (box, samples) => {
        const found = robustStability({ box, system: late, parts: 30 })
        seen[found.verdict]++
        if (found.counterexample !== null) {
          expect(stability(late(found.counterexample as unknown as Point)).verdict).not.toBe('stable')
        }
        if (found.verdict !== 'proven') return
        for (const share of samples) {
          const at = ([low, high]: readonly [number, number], k: number) => low + share[k] * (high - low)
          const { stiffness, damping, gain, seconds } = box
          const point = {
            stiffness: at(stiffness, 0),
            damping: at(damping, 1),
            gain: at(gain, 2),
            seconds: at(seconds, 3),
          }
          expect(stability(late(point)).verdict).toBe('stable')
        }
      }),
      { numRuns: 25 },
    )
    // Neither answer is given always.
    expect(seen.proven).toBeGreaterThan(2)
    expect(seen.counterexample).toBeGreaterThan(2)
  })
})
