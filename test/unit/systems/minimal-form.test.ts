import { describe, expect, it } from 'vitest'
import {
  connect,
  delay,
  discretize,
  frequencyResponse,
  integrator,
  type LinearSystem,
  logFrequencies,
  lowPass,
  mechanicalSystem,
  minimalForm,
  parallel,
  poles,
  series,
  stability,
  stateSpace,
  transferFunction,
} from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

const rational = (numerator: number[], denominator: number[]) => transferFunction({ numerator, denominator })
const grid = logFrequencies({ from: 1e-3, to: 40, count: 30 })
/** Largest difference of two responses, relative to the largest value of the first. */
const difference = (a: LinearSystem, b: LinearSystem): number => {
  const [first, second] = [frequencyResponse(a, grid), frequencyResponse(b, grid)]
  const modulus = first.re.map((re, k) => Math.hypot(re, first.im[k]))
  const off = first.re.map((re, k) => Math.hypot(re - second.re[k], first.im[k] - second.im[k]))
  return Math.max(...off) / Math.max(...modulus)
}
// Orthogonal transformations of a few states.
const rounding = 1e-13

// Modes at −1, −2, −3, −4: the input reaches the first three, the output shows the first, second and fourth; mixed by an
// integer matrix of determinant 1, so that no entry tells.
const mixed = stateSpace({
  A: [
    [174, -80, 26, 11],
    [241, -111, 35, 14],
    [-490, 224, -76, -33],
    [112, -50, 16, 3],
  ],
  B: [[2], [6], [5], [0]],
  C: [[108, -49, 16, 7]],
})

describe('minimalForm', () => {
  it('counts a cancelled factor, on whichever side it hides', () => {
    const cancelling = rational([1, 3], [1, 5, 6])
    const { system, removed } = minimalForm(cancelling)
    expect(removed).toEqual({ uncontrollable: 0, unobservable: 1 })
    expect(poles(system).map(({ re }) => re)[0]).toBeCloseTo(-2, 12)
    expect(difference(cancelling, system)).toBeLessThan(rounding)
    const dual = stateSpace({
      A: [
        [0, -6],
        [1, -5],
      ],
      B: [[3], [1]],
      C: [[0, 1]],
    })
    expect(minimalForm(dual).removed).toEqual({ uncontrollable: 1, unobservable: 0 })
  })

  it('takes out an unstable mode that nothing reaches', () => {
    const hidden = stateSpace({
      A: [
        [-1, 0],
        [0, 2],
      ],
      B: [[1], [0]],
      C: [[1, 1]],
    })
    expect(stability(hidden).verdict).toBe('unstable')
    const { system, removed } = minimalForm(hidden)
    expect(removed).toEqual({ uncontrollable: 1, unobservable: 0 })
    expect(stability(system).verdict).toBe('stable')
  })

  it('returns a system with nothing hidden as it is', () => {
    const plant = series(lowPass({ cutoff: 1, order: 4 }), integrator({ input: 'y1' }))
    expect(minimalForm(plant)).toEqual({
      kind: 'MinimalForm',
      system: plant,
      removed: { uncontrollable: 0, unobservable: 0 },
    })
    const gainOnly = stateSpace({ A: [], B: [], C: [[]], D: [[2]] })
    expect(minimalForm(gainOnly).system).toEqual(gainOnly)
  })

  it('leaves a gain where nothing is connected', () => {
    const apart = stateSpace({
      A: [
        [-1, 2],
        [0, -3],
      ],
      B: [[0], [0]],
      C: [[1, 1]],
      D: [[5]],
      inputs: ['u'],
      outputs: ['y'],
    })
    const { system, removed } = minimalForm(apart)
    expect(removed).toEqual({ uncontrollable: 2, unobservable: 0 })
    expect(system).toMatchObject({ A: [], B: [], C: [[]], D: [[5]], inputs: ['u'], outputs: ['y'], states: [] })
  })

  it('leaves one of two equal systems side by side', () => {
    const one = lowPass({ cutoff: 3, order: 5 })
    const { system, removed } = minimalForm(parallel(one, one))
    expect(removed.uncontrollable + removed.unobservable).toBe(5)
    expect(difference(parallel(one, one), system)).toBeLessThan(rounding)
  })

  it('does not depend on the units of states, inputs and outputs', () => {
    const [p, q, r] = [1e6, 1e-9, 1e12]
    const scaled = stateSpace({
      A: [
        [-2, 3 * p],
        [0, -1],
      ],
      B: [[q], [0]],
      C: [[r, r * p]],
    })
    expect(minimalForm(scaled).removed).toEqual({ uncontrollable: 1, unobservable: 0 })
    const weakPort = stateSpace({
      A: [
        [-1, 0],
        [0, -2],
      ],
      B: [
        [1, 0],
        [0, 1e-20],
      ],
      C: [[1, 1]],
    })
    expect(minimalForm(weakPort).removed).toEqual({ uncontrollable: 0, unobservable: 0 })
  })

  it('keeps a weakly coupled mode by default, and drops it at a tolerance that says so', () => {
    const weak = stateSpace({
      A: [
        [-1, 1e-8],
        [1e-8, -2],
      ],
      B: [[1], [0]],
      C: [[1, 0]],
    })
    expect(minimalForm(weak).removed).toEqual({ uncontrollable: 0, unobservable: 0 })
    expect(minimalForm(weak, { tolerance: 1e-6 }).removed).toEqual({ uncontrollable: 1, unobservable: 0 })
  })

  it('leaves after feedback what the loop still moves', () => {
    // by hand: around G = 1/(s + 1) with the controller (s + 1)/(s + 5), from the reference: G(s + 1) cancels, so the loop
    // 1/(s + 5) closes to the pole −6, and the pole −1 is hidden
    const closed = connect({
      blocks: { plant: rational([1], [1, 1]), controller: rational([1, 1], [1, 5]) },
      inputs: ['r'],
      outputs: { y: 'plant.y1' },
      wires: { 'controller.u1': ['r', '-plant.y1'], 'plant.u1': 'controller.y1' },
    })
    const { system, removed } = minimalForm(closed)
    expect(removed.uncontrollable + removed.unobservable).toBe(1)
    expect(poles(system)[0].re).toBeCloseTo(-6, 12)
    expect(difference(closed, system)).toBeLessThan(rounding)
    // by hand: of two equal plants in one loop, driven by its error, only their sum is moved; of two different ones both are
    const twoPlants = (other: number) =>
      connect({
        blocks: { a: rational([1], [1, 1]), b: rational([1], [1, other]) },
        inputs: ['r'],
        outputs: { y: ['a.y1', 'b.y1'] },
        wires: { 'a.u1': ['r', '-a.y1', '-b.y1'], 'b.u1': ['r', '-a.y1', '-b.y1'] },
      })
    const equal = minimalForm(twoPlants(1))
    expect(equal.removed.uncontrollable + equal.removed.unobservable).toBe(1)
    expect(poles(equal.system)[0].re).toBeCloseTo(-3, 12)
    expect(minimalForm(twoPlants(2)).removed).toEqual({ uncontrollable: 0, unobservable: 0 })
  })

  it('treats a discrete system alike, and keeps its sample time', () => {
    const digital = discretize(rational([1, 3], [1, 5, 6]), { sampleTime: 0.01, method: 'bilinear' })
    const { system, removed } = minimalForm(digital)
    expect(removed.uncontrollable + removed.unobservable).toBe(1)
    expect(system.sampleTime).toBe(0.01)
    expect(difference(digital, system)).toBeLessThan(rounding)
  })

  it('finds the hidden modes of a mixed system', () => {
    const { system, removed } = minimalForm(mixed)
    expect(removed).toEqual({ uncontrollable: 1, unobservable: 1 })
    // Entries of some hundreds cancel to poles of some units.
    expect(difference(mixed, system)).toBeLessThan(100 * rounding)
    const found = poles(system).map(({ re }) => re)
    expect(found[0]).toBeCloseTo(-1, 9)
    expect(found[1]).toBeCloseTo(-2, 9)
  })

  it('keeps what a mechanical system stands for, or that it stands for nothing', () => {
    const body = {
      mass: [[1]],
      damping: [[1]],
      stiffness: [[1]],
      inputs: { f: [1] },
      outputs: { y: { velocity: [1] } },
    }
    const { system } = minimalForm(mechanicalSystem({ ...body, role: 'actuator' }))
    expect([system.kind, (system as { role?: string }).role]).toEqual(['StateSpace', 'actuator'])
    expect('role' in minimalForm(mechanicalSystem(body)).system).toBe(false)
  })

  it('refuses delays and malformed options', () => {
    expect(refusal(() => minimalForm(delay({ seconds: 1 }))).code).toBe('unsupported')
    expect(refusal(() => minimalForm(integrator(), { tolerance: 1 })).code).toBe('out-of-range')
    expect(refusal(() => minimalForm(integrator(), { epsilon: 1 } as never)).details.path).toBe('epsilon')
  })
})
