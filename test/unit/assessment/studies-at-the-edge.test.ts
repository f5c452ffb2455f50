import { describe, expect, it } from 'vitest'
import {
  assess,
  mergeSweeps,
  rigidBodyMotion,
  sideBySideNoise,
  sweep,
  toleranceStudy,
  tuneActiveDamping,
  tuneSeriesStage,
} from '../../../src/assessment/index.js'
import { springMount } from '../../../src/elements/index.js'
import { spectrum } from '../../../src/vibration/index.js'
import { refusal } from '../refusal.js'
import { flatFloor, voigt } from './sites.js'

const reason = (call: () => unknown) => {
  const { code, details } = refusal(call)
  return [code, details.path]
}

describe('a sweep', () => {
  it('keeps what was thrown where that is no error', () => {
    const { rows } = sweep({
      parameters: { x: [1] },
      evaluate: (): { y: number } => {
        throw 'out of luck'
      },
    })
    expect(rows[0].error).toEqual({ code: null, message: "'out of luck'" })
  })

  it('without parameters, and merging nothing or something else, are refused', () => {
    const evaluate = () => ({ y: 1 })
    expect(reason(() => sweep({ evaluate } as never))).toEqual(['invalid-option', 'parameters'])
    for (const shards of [undefined, []])
      expect(reason(() => mergeSweeps(shards as never))).toEqual(['invalid-option', ''])
    const half = sweep({ parameters: { x: [1, 2] }, evaluate, shard: { index: 0, count: 2 } })
    expect(reason(() => mergeSweeps([half, { total: 2, rows: [] }] as never))).toEqual(['invalid-option', '[1]'])
  })
})

describe('a tolerance study', () => {
  const study = (options: object) =>
    toleranceStudy({ tolerances: { x: { nominal: 1, absolute: 0.5 } }, samples: 20, seed: 1, ...options } as never)

  it('of more than six parameters goes to the ends of one at a time', () => {
    const tolerances = Object.fromEntries('abcdefg'.split('').map((name) => [name, { nominal: 1, relative: 0.1 }]))
    const { corners } = study({ tolerances, evaluate: () => true })
    expect(corners.tried).toBe(14)
  })

  it('of which no trial comes to an end has no values and no influence', () => {
    const {
      values,
      influence,
      yield: share,
    } = study({
      evaluate: () => {
        return springMount({ stiffness: -1 }) as never
      },
    })
    expect([values, influence, share.passed]).toEqual([{}, { pass: [] }, 0])
  })

  it('leaves trials without end out of the envelope', () => {
    // |T| = x of the trials that end, those with x at most 1; a mount of negative stiffness ends the others
    const frequency = Float64Array.of(1, 2)
    const { envelope } = study({
      evaluate: ({ x }: { x: number }) => {
        springMount({ stiffness: 1.0001 - x })
        const level = Float64Array.of(x, x)
        return {
          pass: true,
          transmissibility: { kind: 'ComplexSeries', frequency, re: level, im: Float64Array.of(0, 0) },
        }
      },
    })
    expect(Math.max(...(envelope?.high ?? []))).toBeLessThanOrEqual(1.0001)
    expect(Math.min(...(envelope?.low ?? []))).toBeGreaterThanOrEqual(0.5)
  })

  it('is refused without parameters, and with a value called pass', () => {
    expect(reason(() => study({ tolerances: undefined, evaluate: () => true }))).toEqual([
      'invalid-option',
      'tolerances',
    ])
    expect(reason(() => study({ evaluate: () => ({ pass: true, values: { pass: 1 } }) }))).toEqual([
      'invalid-option',
      'evaluate',
    ])
  })
})

describe('a tool that averages for a short time', () => {
  it('sees the way that the payload goes in that time', () => {
    // Within a short exposure T the payload goes v·T, about whose mean it moves by v·T/√12 (closed form); v² = ∫ S df.
    const rigid = voigt(1e5, 0.1)
    const band = spectrum({ quantity: 'velocity', frequency: [1, 100], density: [1e-12, 1e-12] })
    const { tolerance } = assess(rigid, { floor: band, criterion: 'VC-A', tolerance: { limit: 1e-8, exposure: 1e-5 } })
    // √(1e-12·99)·1e-5/√12 = 2.87228e-11 m; density and |T| are drawn to 1e-4
    expect((tolerance?.motion[0]?.value as number) / 2.8722813e-11).toBeCloseTo(1, 3)
  })
})

describe('records of sensors', () => {
  it('one of several that stayed silent does not fit, and the silent line of another has no ratio', () => {
    const at = (x: number, samples: number[]) => ({ position: [x, 0, 0], direction: [0, 0, 1], samples }) as const
    const { misfit } = rigidBodyMotion({
      sensors: [at(-1, [1, 1]), at(0, [0, 0]), at(1, [1, 1])],
      axes: ['z', 'rotationY'],
    })
    expect(misfit[1]).toBe(0)
    // the others read 1 where the plane through all three is 2/3: (1 − 2/3)/1, by hand
    expect(misfit[0]).toBeCloseTo(1 / 3, 12)
  })

  it('of one segment have no coherence to tell noise by', () => {
    const first = Array.from({ length: 64 }, (_, n) => Math.sin(n))
    const second = Array.from({ length: 64 }, (_, n) => Math.cos(3 * n))
    const options = { first, second, sampleRate: 64, segmentLength: 64 } as const
    const error = refusal(() => sideBySideNoise(options))
    expect(error.code).toBe('out-of-range')
  })
})

describe('tuning', () => {
  const payload = { mass: 1000 }
  const omega = 2 * Math.PI * 4
  const mount = { stiffness: 1000 * omega ** 2, damping: 0.04 * 1000 * omega }

  it('names the floor mode that is in the way', () => {
    const modes = [{ modalMass: 2000, naturalFrequency: 11, dampingRatio: 0.005 }]
    const damping = { sensor: { naturalFrequency: 1, dampingRatio: 0.7 }, delay: 8e-3 }
    const white = flatFloor(1, 0.1, 100)
    const found = tuneActiveDamping({ payload, mount, damping, floor: { modes } }, { floor: white })
    expect(found.parameters).not.toBeNull()
    expect(found.limitedBy).toMatch(/^(floor\.modes\[0\]|modulusMargin)$/)
  })

  it('refuses a band that is none', () => {
    const stage = { mass: 60, actuator: { stiffness: 2e9, damping: 1.5e5 } }
    const design = { payload, mount, count: 4, activeStage: stage }
    for (const band of [3, [1], [1, 2, 3]]) {
      expect(reason(() => tuneSeriesStage(design as never, { band } as never))).toEqual(['invalid-option', 'band'])
    }
  })
})
