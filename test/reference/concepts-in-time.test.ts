import { describe, expect, it } from 'vitest'
import { assess } from '../../src/assessment/index.js'
import { type IsolationModel, isolation, loopMargins } from '../../src/isolation/index.js'
import {
  connect,
  frequencyResponse,
  gainLimits,
  openLoop,
  pade,
  type StateSpace,
  simulate,
  stability,
  stateSpace,
} from '../../src/systems/index.js'
import { spectrum } from '../../src/vibration/index.js'
import { type Case, type Complex, cases, modelOf } from './concept-cases.js'

// Source of every expected value: test/reference/data/concepts.json, computed with 40 digits from the force balances.

/** Of the modulus of T. Time steps by one matrix exponential keep about 1e-12 per step; the rest is the Padé form. */
const relative = 1e-6
/** Order of the Padé form of every delay; good to 1e-9 rad up to ωτ = 3, more than any case has at 200 Hz. */
const order = 10
const stepsPerPeriod = 20
const periods = 10

const isUnstable = (model: IsolationModel) => stability(model.closed).verdict === 'unstable'

describe.each(cases.filter((one) => !isUnstable(modelOf(one))))('$id in time', (one) => {
  const system = pade(modelOf(one).closed, { order })
  it(`follows a sine of the floor from steady state as its T says, at every frequency`, () => {
    one.frequencies.forEach((frequency, k) => {
      const [re, im] = (one.expected.T as Complex[])[k] as Complex
      const worst = errorInTime(system, frequency, re, im)
      expect(worst / Math.hypot(re, im), `at ${frequency} Hz`).toBeLessThan(relative)
    })
  })
})

it('covers every case but the one that is unstable', () => {
  const covered = cases.filter((one) => !isUnstable(modelOf(one))).map(({ id }) => id)
  expect(covered.length).toBe(cases.length - 1)
  // Springs, air, damping, a motor in parallel, a series stage sensed on either side, and stacks.
  for (const id of ['parallel-feedforward', 'series-activeStage', 'series-floor', 'stack-series-under-damped'])
    expect(covered).toContain(id)
})

describe('the case that is unstable', () => {
  const one = cases.find((each) => isUnstable(modelOf(each))) as (typeof cases)[number]
  const model = modelOf(one)

  it('is the geophone of 1 Hz on the spring of 2 Hz', () => {
    expect(one.id).toBe('damped-geophone-delay')
    expect(stability(model.closed).unstablePoles).toBe(2)
  })

  it('is diagnosed with the gain it bears and the frequency at which it would oscillate', () => {
    const found = gainLimits(openLoop(model.diagram, 'actuator.force'))
    expect(found.closedLoop).toBe('unstable')
    const [frequency, factor] = (one.margins as NonNullable<Case['margins']>).phaseCrossovers[0] as Complex
    expect(factor).toBeLessThan(1)
    expect(found.stable.length).toBe(1)
    expect((found.stable[0]?.to as number) / factor).toBeCloseTo(1, 6)
    expect((found.stable[0]?.toFrequency as number) / frequency).toBeCloseTo(1, 6)
    expect(found.diagnosis).toMatch(/^unstable; stable below 0\.\d+ times the gain, at \d\.\d+ Hz$/)
  })

  it('fails on any site, for that reason, and is told by how much', () => {
    const floor = spectrum({ quantity: 'velocity', frequency: [0.5, 100], amplitudeDensity: [1e-9, 1e-9] })
    const { verdict, reasons } = assess(model, { floor, criterion: 'workshop' })
    expect(verdict).toBe('fail')
    expect(reasons[0]).toBe('the closed system is unstable: 2 poles right of the imaginary axis')
    // The phase crossover of the reference: 0.98491 Hz at 0.72031 times the gain.
    expect(reasons[1]).toBe('loop damping is unstable; stable below 0.7203 times the gain, at 0.9849 Hz')
  })

  it('is stable just below that gain and oscillates just above', () => {
    const limit = gainLimits(openLoop(model.diagram, 'actuator.force')).stable[0]?.to as number
    const damping = one.options.damping as { gain: number }
    const at = (factor: number) =>
      isolation({ ...one.options, concept: one.concept, damping: { ...damping, gain: damping.gain * factor } } as never)
    expect(loopMargins(at(0.999 * limit))[0]?.margins.closedLoop).toBe('stable')
    expect(loopMargins(at(1.001 * limit))[0]?.margins.closedLoop).toBe('unstable')
  })
})

/** Largest distance of the simulated payload velocity from Re(T e^(jωt)), floor velocity cos ωt, over some periods. */
function errorInTime(system: StateSpace, frequency: number, re: number, im: number): number {
  const omega = 2 * Math.PI * frequency
  // The sine comes from an oscillator inside the simulated system, so that no hold takes part.
  const source = stateSpace({
    A: [
      [0, omega],
      [-omega, 0],
    ],
    B: [[0], [0]],
    C: [[1, 0]],
    inputs: ['none'],
    outputs: ['sine'],
  })
  const inputs = system.inputs.map((name): [string, string | null] => [
    `model.${name}`,
    name === 'floorVelocity' ? 'source.sine' : null,
  ])
  const joined = connect({
    blocks: { source, model: system },
    inputs: ['none'],
    outputs: { velocity: 'model.payloadVelocity' },
    wires: { 'source.none': 'none', ...Object.fromEntries(inputs) },
  } as never) as StateSpace
  const places = steadyState(system, frequency)
  const initialState = joined.states.map((name) => {
    const inModel = system.states.findIndex((state) => name === `model.${state}` || name === `model_${state}`)
    if (inModel >= 0) return places[inModel] as number
    return name === joined.states.find((state) => state.startsWith('source')) ? 1 : 0
  })
  const sampleTime = 1 / frequency / stepsPerPeriod
  const none = new Float64Array(periods * stepsPerPeriod + 1)
  const { outputs, time } = simulate(joined, { inputs: { none }, sampleTime, initialState })
  return Math.max(
    ...Array.from(outputs.velocity as Float64Array, (value, k) => {
      const angle = omega * (time[k] as number)
      return Math.abs(value - (re * Math.cos(angle) - im * Math.sin(angle)))
    }),
  )
}

/** Real part of the states under floor velocity e^(jωt) at t = 0. */
function steadyState(system: StateSpace, frequency: number): number[] {
  const n = system.A.length
  const column = system.inputs.indexOf('floorVelocity')
  const open = stateSpace({
    A: system.A,
    B: system.B.map((row) => [row[column] as number]),
    C: system.A.map((_, i) => system.A.map((_, j) => (i === j ? 1 : 0))),
  })
  return Array.from(frequencyResponse(open, [frequency]).re.subarray(0, n))
}
