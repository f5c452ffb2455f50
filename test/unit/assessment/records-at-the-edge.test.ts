import { describe, expect, it } from 'vitest'
import { compareToModel, fitIsolator, predictPayload, sideBySideNoise } from '../../../src/assessment/index.js'
import { searched } from '../../../src/assessment/series-stage-search.js'
import { filteredSensor, geophone, mountsInSeries, springMount } from '../../../src/elements/index.js'
import { passiveIsolation } from '../../../src/isolation/index.js'
import { channel, frequencyResponse, gain, lowPass } from '../../../src/systems/index.js'
import { rms, spectrum, transferEstimate } from '../../../src/vibration/index.js'
import { inventedRecords, viscous } from './invented-records.js'
import { voigt } from './sites.js'

describe('fitIsolator with a model given as a function', () => {
  const estimate = transferEstimate({
    ...inventedRecords(viscous(2, 0.1), { count: 8192, sampleRate: 50, seed: 4, outputNoise: 0.02 }),
    segmentLength: 512,
  })
  const build = ({ frequency = 0, ratio = 0 }) =>
    passiveIsolation({
      payload: { mass: 1 },
      mount: springMount({ mass: 1, naturalFrequency: frequency, dampingRatio: ratio }),
    })
  const start = { frequency: 2.2, ratio: 0.5 }

  it('turns back from parameters of which no model can be built, and still finds those that fit', () => {
    let refused = 0
    const picky = (parameters: { frequency?: number; ratio?: number }) => {
      // Without it the first step goes to 1.3 Hz.
      if ((parameters.frequency ?? 0) > 1.5) return build(parameters)
      refused++
      return passiveIsolation({ payload: { mass: -1 }, mount: { stiffness: 1 } })
    }
    const { confidence } = fitIsolator(estimate, { model: picky, start, from: 0.5, to: 12 })
    expect(refused).toBeGreaterThan(0)
    expect(Math.abs(confidence.frequency.value / 2 - 1)).toBeLessThan(0.02)
    expect(Math.abs(confidence.ratio.value / 0.1 - 1)).toBeLessThan(0.2)
  })

  it('lets through what is no refusal', () => {
    let calls = 0
    const broken = (parameters: { frequency?: number; ratio?: number }) => {
      if (++calls > 3) throw new TypeError('a fault in the model')
      return build(parameters)
    }
    expect(() => fitIsolator(estimate, { model: broken, start, from: 0.5, to: 12 })).toThrow(TypeError)
  })
})

describe('records without noise', () => {
  const silent = new Float64Array(1024)
  const motion = Float64Array.from({ length: 1024 }, (_, n) => Math.sin(n * n * 0.7))

  it('of a payload that is bolted down do not deviate from a transmissibility of 1', () => {
    const estimate = transferEstimate({ input: motion, output: motion, sampleRate: 100, segmentLength: 128 })
    const one = gain(1, { inputs: ['floor'], outputs: ['payload'] })
    const grid = estimate.frequency
    const model = channel(frequencyResponse(one, grid), { input: 'floor', output: 'payload' })
    const { verdict, deviations, scatter } = compareToModel(estimate, model)
    expect([verdict, scatter]).toEqual(['agrees', 0])
    expect(deviations.every((value) => value === 0)).toBe(true)
  })

  it('of a sensor that is dead have no ratio, and all that the other one reads is noise', () => {
    const { ratio, first, second, coherence } = sideBySideNoise({
      first: silent,
      second: motion,
      sampleRate: 100,
      segmentLength: 128,
    })
    expect(ratio.every((value) => value === 0)).toBe(true)
    expect(coherence.every((value) => value === 0)).toBe(true)
    expect(rms(first)).toBe(0)
    expect(rms(second)).toBeGreaterThan(0.5)
  })
})

it('a floor given by points from 0 Hz on counts from the second one, since a logarithmic axis has no 0', () => {
  const at = (frequency: number[]) =>
    predictPayload(voigt(2.5, 0.1), {
      floor: spectrum({ quantity: 'velocity', frequency, density: frequency.map(() => 1e-12), support: 'points' }),
    })
  const [whole, without] = [at([0, 0.5, 100]), at([0.5, 100])]
  expect(whole.frequency[0]).toBe(0.5)
  expect(rms(whole) / rms(without)).toBeCloseTo(1, 9)
})

it('the search of a controller goes on from the second best start where that leads further', () => {
  // Two valleys over the low-pass corner: a wide one at 30 Hz, a start itself, and a deeper one at 240 Hz, between the starts at
  // 100 and 300 Hz. By hand: cost 0 at 30 Hz, −1 at 240 Hz, 0.1 at the start of 300 Hz.
  const valley = (corner: number, bottom: number, width: number) =>
    bottom + Math.min(10, (Math.log(corner) / width) ** 2)
  const cost = ({ lowPass: corner, highPass, leadCorner, lagCorner }: Record<string, number>) => {
    const others = [highPass / 0.5, leadCorner / 100, lagCorner / 100].reduce((sum, x) => sum + Math.log(x) ** 2, 0)
    const away = 1.1 / (Math.log(300 / 240) / 0.25) ** 2
    return others + Math.min(valley(corner / 30, 0, 0.25), -1 + away * (Math.log(corner / 240) / 0.25) ** 2)
  }
  const found = searched(cost as never, [0.01, 1e4], 1)
  expect(found.lowPass / 240).toBeCloseTo(1, 1)
  expect(found.highPass / 0.5).toBeCloseTo(1, 6)
})

it('a filter behind a sensor of which nobody knows what it is leaves it so', () => {
  const sensor = geophone({ naturalFrequency: 1, dampingRatio: 0.7 })
  const { role: _role, ...dynamics } = sensor.dynamics
  const filter = lowPass({ cutoff: 100 })
  expect(filteredSensor({ ...sensor, dynamics } as never, filter).dynamics.role).toBeUndefined()
  expect(filteredSensor(sensor, filter).dynamics.role).toBe('inertialSensor')
})

it('two relaxing mounts in series without a spring in either make one without', () => {
  // Springs and dashpots in a row: 1/(1/300 + 1/600) = 200 N/m, and with c = k τ of 30 N·s/m each 15 N·s/m, so 15/200 = 0.075 s;
  // by hand
  const found = mountsInSeries(
    { stiffness: 0, relaxations: [{ stiffness: 300, time: 0.1 }] },
    { stiffness: 0, relaxations: [{ stiffness: 600, time: 0.05 }] },
  )
  expect(found).toMatchObject({ stiffness: 0, damping: 0 })
  expect(found.relaxations).toHaveLength(1)
  expect(found.relaxations[0].stiffness).toBeCloseTo(200, 9)
  expect(found.relaxations[0].time).toBeCloseTo(0.075, 12)
})
