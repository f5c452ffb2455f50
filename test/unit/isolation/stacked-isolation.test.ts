import { describe, expect, it } from 'vitest'
import { airSpring, standardGravity } from '../../../src/elements/index.js'
import {
  type IsolationOptions,
  isolation,
  isolationSummary,
  loopMargins,
  passiveIsolation,
  stackedIsolation,
} from '../../../src/isolation/index.js'
import { poles, stability } from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'
import { channelAt, degreesAt, modulusAt } from './read-off.js'

const square = (frequency: number) => (2 * Math.PI * frequency) ** 2

/** 1000 kg at 1.5 Hz on 200 kg, both together at 3 Hz, with dashpots of the given damping ratio. */
function twoStages(dampingRatio: number) {
  const lowerStiffness = square(3) * 1200
  const upperStiffness = square(1.5) * 1000
  return stackedIsolation({
    lower: {
      concept: 'passive',
      payload: { mass: 200 },
      mount: { stiffness: lowerStiffness, damping: 2 * dampingRatio * Math.sqrt(lowerStiffness * 1200) },
    },
    upper: {
      concept: 'passive',
      payload: { mass: 1000 },
      mount: { stiffness: upperStiffness, damping: 2 * dampingRatio * Math.sqrt(upperStiffness * 1000) },
    },
  })
}

describe('two passive stages', () => {
  it('resonate at 1.36042072 and 8.10242282 Hz', () => {
    // Computed from the closed form m₁m₂ω⁴ − (k₁m₂ + k₂m₁ + k₂m₂)ω² + k₁k₂ = 0.
    const found = poles(twoStages(0).closed).flatMap(({ im, naturalFrequency }) => (im > 0 ? [naturalFrequency] : []))
    expect(found.length).toBe(2)
    expect(Math.min(...found)).toBeCloseTo(1.36042072, 8)
    expect(Math.max(...found)).toBeCloseTo(8.10242282, 8)
  })

  it('without damping have an infinite peak at each of them', () => {
    // Same source; frequencies of the poles.
    const { resonances, peak, isolationFrom } = isolationSummary(twoStages(0))
    expect(peak).toBe(Number.POSITIVE_INFINITY)
    expect(resonances.map(({ frequency }) => Number(frequency.toFixed(8)))).toEqual([1.36042072, 8.10242282])
    expect(resonances.map(({ amplification }) => amplification)).toEqual([peak, peak])
    expect(isolationFrom).toBeGreaterThan(8.1)
  })

  it('isolate at 30 Hz by 1.6213587e-4 undamped and by 5.1049748e-4 with dashpots of 5 %', () => {
    // Computed from the closed form of the force balance; printed to eight digits and three decimals of a degree.
    expect(Math.abs(modulusAt(twoStages(0), 30) / 1.6213587e-4 - 1)).toBeLessThan(1e-7)
    expect(Math.abs(modulusAt(twoStages(0.05), 30) / 5.1049748e-4 - 1)).toBeLessThan(1e-7)
    expect(degreesAt(twoStages(0.05), 30)).toBeCloseTo(113.965, 3)
  })

  it('fall with the fourth power of frequency', () => {
    // Computed from the asymptote k₁k₂/(m₁m₂ω⁴) = 1.5e-4 at 30 Hz, thus 1.5e-8 at 300 Hz; the next term is of order
    // (8.1/300)² = 7e-4.
    expect(modulusAt(twoStages(0), 300) / 1.5e-8).toBeCloseTo(1, 2)
  })

  it('of equal frequency are worse than one near resonance', () => {
    // Computed from the force balance: 800 kg at 1.8 Hz (880 kg on it), damping 0.08; 80 kg at 1.8 Hz, damping 0.10.
    const storey = (mass: number, carried: number, dampingRatio: number): IsolationOptions => ({
      concept: 'passive',
      payload: { mass },
      mount: { stiffness: square(1.8) * carried, damping: 2 * dampingRatio * Math.sqrt(square(1.8)) * carried },
    })
    const model = stackedIsolation({ lower: storey(800, 880, 0.08), upper: storey(80, 80, 0.1) })
    const summary = isolationSummary(model)
    expect(summary.peak).toBeCloseTo(13.34, 2)
    expect(summary.peakFrequency).toBeCloseTo(1.589, 3)
    expect(modulusAt(model, 1.5)).toBeCloseTo(10.69, 2)
    expect(modulusAt(model, 2.5)).toBeCloseTo(1.62, 2)
    expect(modulusAt(model, 5)).toBeCloseTo(0.0313, 4)
    expect(modulusAt(model, 10)).toBeCloseTo(0.00248, 5)
    // Better than one stage only from 2.75 Hz on: the single stage of 880 kg has 1.07 at 2.5 Hz, 0.163 at 5, 0.0448 at 10.
    const single = isolation(storey(880, 880, 0.08))
    expect(isolationSummary(single).peak).toBeCloseTo(6.35, 2)
    expect(modulusAt(single, 2.5)).toBeCloseTo(1.07, 2)
    expect(modulusAt(single, 5)).toBeCloseTo(0.163, 3)
    // Multiplied curves would give 8.81 at 1.5 Hz.
    expect(modulusAt(single, 1.5) * modulusAt(isolation(storey(80, 80, 0.1)), 1.5)).toBeCloseTo(8.81, 2)
    expect(modulusAt(single, 10)).toBeCloseTo(0.0448, 4)
    expect(modulusAt(model, 2.74) / modulusAt(single, 2.74)).toBeGreaterThan(1)
    expect(modulusAt(model, 2.76) / modulusAt(single, 2.76)).toBeLessThan(1)
    // An upper unit of 6 Hz instead leaves a peak of 6.97.
    const apart = stackedIsolation({
      lower: storey(800, 880, 0.08),
      upper: {
        concept: 'passive',
        payload: { mass: 80 },
        mount: { stiffness: square(6) * 80, damping: 2 * 0.1 * Math.sqrt(square(6)) * 80 },
      },
    })
    expect(isolationSummary(apart).peak).toBeCloseTo(6.97, 2)
    // Undamped modes 1.578 and 2.154 Hz.
    const bare = (options: IsolationOptions) => ({ ...options, mount: { stiffness: mountOf(options).stiffness } })
    const undamped = stackedIsolation({
      lower: bare(storey(800, 880, 0)) as IsolationOptions,
      upper: bare(storey(80, 80, 0)) as IsolationOptions,
    })
    const modes = poles(undamped.closed).flatMap(({ im, naturalFrequency }) => (im > 0 ? [naturalFrequency] : []))
    expect(Math.min(...modes)).toBeCloseTo(1.578, 3)
    expect(Math.max(...modes)).toBeCloseTo(2.154, 3)
  })

  it('deflect statically as two springs in a row', () => {
    // Computed from the closed form 1/k_lower + 1/k_upper = 1/426366.910 + 1/88826.440 N/m.
    const { closed } = twoStages(0.05)
    expect(closed.outputs).toContain('lower_stretch')
    const model = twoStages(0.05)
    const upper = channelAt(model, 'payloadForce', 'stretch', 0).re
    const lower = channelAt(model, 'payloadForce', 'lower_stretch', 0).re
    expect((upper + lower) / 1.3603307e-5).toBeCloseTo(1, 7)
    expect(channelAt(model, 'lower_payloadForce', 'stretch', 0).re).toBeCloseTo(0, 15)
    // All of it stands on the floor.
    expect(channelAt(model, 'payloadForce', 'floorForce', 0).re).toBeCloseTo(1, 12)
    expect(channelAt(model, 'lower_payloadForce', 'floorForce', 0).re).toBeCloseTo(1, 12)
  })

  it('have unprefixed ports above and prefixed ports below', () => {
    const { closed, diagram, concept } = twoStages(0.05)
    expect(concept).toBe('stacked')
    expect([...closed.inputs].sort()).toEqual([
      'floorVelocity',
      'lower_payloadForce',
      'lower_reactionForce',
      'payloadForce',
      'reactionForce',
    ])
    expect([...closed.outputs].sort()).toEqual([
      'floorForce',
      'lower_payloadVelocity',
      'lower_stretch',
      'payloadVelocity',
      'stretch',
    ])
    expect(Object.keys(diagram.blocks).sort()).toEqual(['lower_mount', 'lower_payload', 'upper_mount', 'upper_payload'])
  })
})

/** Air spring for what `mass` kilograms weigh on four of them. */
const airFor = (mass: number) =>
  airSpring({ area: 0.01, volume: 2e-3, load: (mass * standardGravity) / 4, diaphragmDamping: 400 })
const sensor = { naturalFrequency: 0.5, dampingRatio: 0.7 }
const levelled = (mass: number, carried: number): IsolationOptions => ({
  concept: 'activelyDamped',
  payload: { mass },
  mount: airFor(carried),
  count: 4,
  levelling: { flowGain: 1e-3 },
  damping: { dampingRatio: 0.3, sensor, actuator: { bandwidth: 200 } },
})
const motors = (mass: number): IsolationOptions => ({
  concept: 'parallelActive',
  payload: { mass },
  mount: { stiffness: square(4) * mass, damping: 0.1 * Math.sqrt(square(4)) * mass },
  feedback: { velocityGain: 20 * mass, sensor, actuator: { bandwidth: 300 } },
})

describe('a stack with loops', () => {
  it('names the main loops first, the upper one leading, and levelling last', () => {
    const model = stackedIsolation({ lower: levelled(600, 1000), upper: motors(400) })
    expect(model.loops).toEqual([
      { name: 'feedback', port: 'upper_actuator.force' },
      { name: 'lower_damping', port: 'lower_actuator.force' },
      { name: 'lower_levelling', port: 'lower_valve.velocity' },
    ])
    const both = stackedIsolation({ lower: levelled(600, 1000), upper: levelled(400, 400) })
    expect(both.loops.map(({ name }) => name)).toEqual(['damping', 'lower_damping', 'levelling', 'lower_levelling'])
    expect(loopMargins(both).map(({ name }) => name)).toEqual(both.loops.map(({ name }) => name))
  })

  it('keeps noise inputs and bounds apart', () => {
    const model = stackedIsolation({ lower: levelled(600, 1000), upper: motors(400) })
    expect(model.noiseSources.map(({ input }) => input)).toEqual([
      'sensorNoise',
      'actuatorNoise',
      'lower_sensorNoise',
      'lower_actuatorNoise',
    ])
    for (const { input } of model.noiseSources) expect(model.closed.inputs).toContain(input)
    expect(model.closed.outputs).toEqual(expect.arrayContaining(['actuatorForce', 'lower_actuatorForce']))
  })

  it('lets the upper motor react on the lower payload, in balance', () => {
    // Derived: forces between the two bodies cancel, so a motor force alone moves their common momentum only through the
    // lower mounts. Free of the lower mounts (far above their resonance) m_u v_u + m_l v_l = 0; at 2 kHz what the mounts
    // add is of order (6/2000)².
    const model = stackedIsolation({ lower: levelled(600, 1000), upper: motors(400) })
    const upper = channelAt(model, 'actuatorNoise', 'payloadVelocity', 2000)
    const lower = channelAt(model, 'actuatorNoise', 'lower_payloadVelocity', 2000)
    expect((600 * lower.im) / (400 * upper.im)).toBeCloseTo(-1, 3)
  })

  it('lets the upper active stage stand on the lower payload', () => {
    const series: IsolationOptions = {
      concept: 'seriesActive',
      payload: { mass: 400 },
      mount: { stiffness: 4e6, damping: 8e3 },
      activeStage: {
        mass: 50,
        actuator: { stiffness: 1e9, damping: 1e5, stroke: 2e-5 },
        sensorLocation: 'floor',
        controller: { gain: 1, highPass: 0.02, lowPass: 1000 },
      },
    }
    const lower: IsolationOptions = {
      concept: 'passive',
      payload: { mass: 600 },
      mount: { stiffness: square(2) * 1050, damping: 0.2 * Math.sqrt(square(2)) * 1050 },
    }
    const model = stackedIsolation({ lower, upper: series })
    // Its "floor" sensor sits on the lower payload: a force there is seen and cancelled at the upper one, far better than
    // with the controller off.
    const off = stackedIsolation({
      lower,
      upper: {
        ...series,
        activeStage: { ...series.activeStage, controller: { gain: 0, highPass: 0.02, lowPass: 1000 } },
      },
    })
    const ratio = (m: typeof model) => {
      const a = channelAt(m, 'lower_payloadForce', 'payloadVelocity', 10)
      const b = channelAt(m, 'lower_payloadForce', 'lower_payloadVelocity', 10)
      return Math.hypot(a.re, a.im) / Math.hypot(b.re, b.im)
    }
    expect(ratio(off)).toBeGreaterThan(0.9)
    // 1 − M·k_a/(k_a + c_a·s) with M = 1/((1 + 0.02/10j)(1 + 10j/1000)): computed from the closed form, |…| = 0.01428232; the
    // mounts above it, resonant at 16 Hz, magnify it by T_mechanical as they do with the controller off.
    expect(ratio(model) / ratio(off)).toBeCloseTo(0.01428232, 8)
    expect(stability(model.closed).verdict).toBe('stable')
  })
})

describe('the load on air springs', () => {
  it('counts everything above, active stages included', () => {
    expect(() => stackedIsolation({ lower: levelled(600, 1000), upper: motors(400) })).not.toThrow()
    const error = refusal(() => stackedIsolation({ lower: levelled(600, 600), upper: motors(400) }))
    expect(error.code).toBe('invalid-option')
    expect(error.details.path).toBe('lower.mount')
    const stage = { mass: 100, actuator: { stiffness: 1e9, stroke: 2e-5 }, sensorLocation: 'floor' as const }
    const upper: IsolationOptions = {
      concept: 'seriesActive',
      payload: { mass: 400 },
      mount: { stiffness: 4e6 },
      activeStage: { ...stage, controller: { gain: 1, highPass: 0.02, lowPass: 100 } },
    }
    expect(() => stackedIsolation({ lower: levelled(600, 1100), upper })).not.toThrow()
    expect(refusal(() => stackedIsolation({ lower: levelled(600, 1000), upper })).details.path).toBe('lower.mount')
  })

  it('of an upper storey is its own payload', () => {
    const lower = motors(500)
    expect(() => stackedIsolation({ lower, upper: levelled(400, 400) })).not.toThrow()
    expect(refusal(() => stackedIsolation({ lower, upper: levelled(400, 900) })).details.path).toBe('upper.mount')
  })
})

describe('a stack on a stack', () => {
  const one: IsolationOptions = {
    concept: 'passive',
    payload: { mass: 100 },
    mount: { stiffness: 4e5, damping: 300 },
  }
  const two: IsolationOptions = { concept: 'stacked', lower: one, upper: one }

  it('is the same chain, whichever way it is put together', () => {
    const above = stackedIsolation({ lower: one, upper: two })
    const below = stackedIsolation({ lower: two, upper: one })
    // The same three bodies: only the order of summation differs.
    for (const frequency of [1, 8, 14, 50]) {
      expect(modulusAt(above, frequency) / modulusAt(below, frequency)).toBeCloseTo(1, 10)
    }
    expect(above.closed.states.length).toBe(6)
    // Computed from the closed form of three equal masses on three equal springs: ω = 2√(k/m)·sin(π/14 · {1, 3, 5}).
    const modes = poles(above.closed).flatMap(({ im, naturalFrequency }) => (im > 0 ? [naturalFrequency] : []))
    modes.sort((a, b) => a - b)
    expect(modes[0]).toBeCloseTo(4.479721, 6)
    expect(modes[1]).toBeCloseTo(12.5519, 6)
    expect(modes[2]).toBeCloseTo(18.138021, 6)
  })

  it('carries its weight down through every storey', () => {
    const pneumatic = (carried: number): IsolationOptions => ({
      concept: 'pneumatic',
      payload: { mass: 600 },
      mount: airFor(carried),
      count: 4,
    })
    expect(() => stackedIsolation({ lower: pneumatic(800), upper: two })).not.toThrow()
    const nested: IsolationOptions = { concept: 'stacked', lower: pneumatic(700), upper: one }
    expect(refusal(() => stackedIsolation({ lower: nested, upper: one })).details.path).toBe('lower.lower.mount')
  })

  it('names the ports of the storey at the bottom lower_ on lower_', () => {
    const { inputs, outputs } = stackedIsolation({ lower: two, upper: one }).closed
    expect(inputs).toContain('lower_lower_payloadForce')
    expect(outputs).toContain('lower_lower_payloadVelocity')
    expect(inputs.filter((input) => input.endsWith('floorVelocity'))).toEqual(['floorVelocity'])
  })
})

it('isolation builds the same stack from one object', () => {
  const one: IsolationOptions = { concept: 'passive', payload: { mass: 10 }, mount: { stiffness: 1e4 } }
  expect(isolation({ concept: 'stacked', lower: one, upper: one })).toEqual(
    stackedIsolation({ lower: one, upper: one }),
  )
  const { concept: _, ...rest } = one as IsolationOptions & { concept: 'passive' }
  expect(isolation(one)).toEqual(passiveIsolation(rest as Parameters<typeof passiveIsolation>[0]))
})

function mountOf(options: IsolationOptions): { stiffness: number } {
  return (options as { mount: { stiffness: number } }).mount
}
