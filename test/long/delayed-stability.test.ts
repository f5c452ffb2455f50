import { expect, it } from 'vitest'
import { connect, delay, pade, poles, type StateSpace, stability, stateSpace } from '../../src/systems/index.js'

// Independent count: poles of the same loop with each delay as a Padé all-pass of order 12 and of order 16, accepted where
// both agree on the number of unstable poles and no pole of either lies within 1e-3 of its modulus from the imaginary axis.
// common practice, no source: beyond ωτ ≈ 12 an order of 12 no longer follows the delay, which is why both must agree.
const loops = 10_000
const distance = 1e-3

it(`counts the unstable poles of ${loops} random loops with delay as Padé models do where those can`, () => {
  const random = generator(20261125)
  let compared = 0
  const disagreements: number[] = []
  for (let k = 0; k < loops; k++) {
    const closed = randomLoop(random)
    const expected = padeCount(closed)
    const { unstablePoles } = stability(closed)
    if (expected === null) continue
    compared += 1
    if (unstablePoles !== expected) disagreements.push(k)
  }
  expect(disagreements).toEqual([])
  // Most loops must have been compared, or the test would say little.
  expect(compared).toBeGreaterThan(0.8 * loops)
})

function padeCount(closed: StateSpace): number | null {
  const counts = [12, 16].map((order) => {
    const found = poles(pade(closed, { order }))
    const near = found.some(({ re, im }) => Math.abs(re) < distance * Math.hypot(re, im))
    return near ? null : found.filter(({ re }) => re > 0).length
  })
  return counts[0] === counts[1] ? counts[0] : null
}

/** A plant of one to five states, stable or not, in a loop with a gain and one or two delays. */
function randomLoop(random: () => number): StateSpace {
  const n = 1 + Math.floor(5 * random())
  const rate = 10 ** (2 * random())
  const A = Array.from({ length: n }, (_, i) =>
    Array.from({ length: n }, (_, j) => rate * (2 * random() - 1 - (i === j ? 1.5 * random() : 0))),
  )
  const B = Array.from({ length: n }, () => [rate * (2 * random() - 1)])
  const C = [Array.from({ length: n }, () => 2 * random() - 1)]
  const plant = stateSpace({ A, B, C })
  const seconds = () => (0.02 + 2 * random() ** 2) / rate
  if (random() < 0.5) {
    return connect({
      blocks: { plant, path: delay({ seconds: seconds() }) },
      inputs: ['r'],
      outputs: { y: 'plant.y1' },
      wires: { 'plant.u1': ['r', '-path.y1'], 'path.u1': 'plant.y1' },
    })
  }
  return connect({
    blocks: { plant, path: delay({ seconds: seconds() }), other: delay({ seconds: seconds() }) },
    inputs: ['r'],
    outputs: { y: 'plant.y1' },
    wires: { 'plant.u1': ['r', '-path.y1', 'other.y1'], 'path.u1': 'plant.y1', 'other.u1': 'plant.y1' },
  })
}

/** Park and Miller's generator. */
function generator(seed: number): () => number {
  let state = seed % 2147483647
  return () => {
    state = (state * 48271) % 2147483647
    return state / 2147483647
  }
}
