import fc from 'fast-check'
import { describe, it } from 'vitest'
import { connect, frequencyResponse, stateSpace } from '../../src/systems/index.js'
import { expectPassive, expectReciprocal } from './mobility.js'

// Networks of masses, springs, dashpots and relaxing springs, wired up one by one. Their laws: reciprocity and passivity,
// P. M. Morse and K. U. Ingard, Theoretical Acoustics, 1968, and H. W. Bode, Network Analysis and Feedback
// Amplifier Design, 1945, by the analogy of force and current; both from memory.

const decades = (low: number, high: number) =>
  fc.double({ min: low, max: high, noNaN: true }).map((power) => 10 ** power)

/** Between two of the nodes or, end 0, the ground: K(s) = k + c s + b s/(s + 1/τ). */
const branch = (nodes: number) =>
  fc.record({
    ends: fc.uniqueArray(fc.nat(nodes), { minLength: 2, maxLength: 2 }),
    stiffness: decades(3, 6),
    damping: fc.oneof(fc.constant(0), decades(0, 3)),
    relaxation: fc.option(fc.record({ stiffness: decades(3, 6), time: decades(-3, 0) })),
  })

const network = fc.array(decades(0, 3), { minLength: 1, maxLength: 4 }).chain((masses) =>
  fc
    .record({ masses: fc.constant(masses), branches: fc.array(branch(masses.length), { maxLength: 6 }) })
    .map((given) => {
      // Every node hangs on the ground by a spring of its own, so that none drifts away.
      const grounding = masses.map((mass, k) => ({
        ends: [k + 1, 0],
        stiffness: 1e3 * mass,
        damping: mass,
        relaxation: null,
      }))
      return { masses, branches: [...grounding, ...given.branches] }
    }),
)
type Network = typeof network extends fc.Arbitrary<infer T> ? T : never

/** Closed by the diagram: a force in and a velocity out at every mass. */
function closed({ masses, branches }: Network) {
  const blocks = Object.fromEntries([
    ...masses.map((mass, k) => [
      `m${k + 1}`,
      stateSpace({ A: [[0]], B: [[1 / mass]], C: [[1]], inputs: ['force'], outputs: ['velocity'] }),
    ]),
    ...branches.map((each, k) => [`b${k}`, impedance(each)]),
  ])
  const wires = Object.fromEntries([
    ...masses.map((_, k) => [`m${k + 1}.force`, [`force${k + 1}`, ...pulls(branches, k + 1)]]),
    ...branches.map(({ ends: [a, b] }, k) => [`b${k}.rate`, [velocity(a, ''), velocity(b, '-')].flat()]),
  ])
  return connect({
    blocks,
    inputs: masses.map((_, k) => `force${k + 1}`),
    outputs: Object.fromEntries(masses.map((_, k) => [`velocity${k + 1}`, `m${k + 1}.velocity`])),
    wires,
  })
}

const velocity = (node: number, sign: string) => (node === 0 ? [] : [`${sign}m${node}.velocity`])
const pulls = (branches: Network['branches'], node: number) =>
  branches.flatMap(({ ends }, k) => (ends[0] === node ? [`-b${k}.tension`] : ends[1] === node ? [`b${k}.tension`] : []))

function impedance({ stiffness, damping, relaxation }: Network['branches'][number]) {
  const rate = relaxation === null ? 1 : 1 / relaxation.time
  return stateSpace({
    A: [
      [0, 0],
      [0, -rate],
    ],
    B: [[1], [1]],
    C: [[stiffness, relaxation?.stiffness ?? 0]],
    D: [[damping]],
    inputs: ['rate'],
    outputs: ['tension'],
  })
}

/** Mobility from each force to each velocity. */
function mobility(system: ReturnType<typeof closed>, frequency: number) {
  const n = system.inputs.length
  const { re, im, inputs, outputs } = frequencyResponse(system, [frequency])
  const place = (o: number, i: number) =>
    outputs.indexOf(`velocity${o + 1}`) * inputs.length + inputs.indexOf(`force${i + 1}`)
  return Array.from({ length: n }, (_, o) =>
    Array.from({ length: n }, (_, i) => ({ re: re[place(o, i)], im: im[place(o, i)] })),
  )
}

// Rows of a response are right to some 1e-11 of their largest entry; masses and stiffnesses here differ by 1e6.
const accuracy = 1e-9

describe('any network of masses, springs, dashpots and relaxing springs', () => {
  it('is reciprocal: a force here moves a place there as a force there moves this place', () => {
    fc.assert(
      fc.property(network, decades(-1, 3), (given, frequency) => {
        expectReciprocal(mobility(closed(given), frequency), accuracy)
      }),
    )
  })

  it('is passive: whatever forces act at once, on average they do no negative work', () => {
    const force = fc.tuple(fc.double({ min: -1, max: 1, noNaN: true }), fc.double({ min: -1, max: 1, noNaN: true }))
    fc.assert(
      fc.property(network, decades(-1, 3), fc.array(force, { minLength: 4, maxLength: 4 }), (given, frequency, all) => {
        expectPassive(mobility(closed(given), frequency), all, accuracy)
      }),
    )
  })
})
