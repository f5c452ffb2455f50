import { describe, expect, it } from 'vitest'
import { type RecordOptions, record, units } from '../../../src/vibration/index.js'
import { refusal } from '../refusal.js'

/** Whole numbers in −half..half, repeatable. */
function counts(length: number, half: number): number[] {
  let state = 7
  return Array.from({ length }, () => {
    state = (1664525 * state + 1013904223) % 2 ** 32
    return Math.round((state / 2 ** 31 - 1) * half)
  })
}
const at = (samples: readonly number[], more: Partial<RecordOptions> = {}) =>
  record({ samples, sampleRate: 100, quantity: 'velocity', unit: 1e-9, ...more })
const found = (samples: readonly number[], more: Partial<RecordOptions> = {}) =>
  at(samples, more).findings.map(({ check, count, first }) => [check, count, first])
const slowSine = Array.from({ length: 2000 }, (_, n) => Math.round(100 * Math.sin((2 * Math.PI * n) / 1000)))

describe('record', () => {
  it('is in SI units, by a unit or by a sensitivity, and a copy', () => {
    const samples = [1, -2, 4]
    const floor = at(samples, { unit: units.microgravity, quantity: 'acceleration' })
    // Standard gravity 9.80665 m/s² (BIPM, The International System of Units, 9th edition).
    expect(Array.from(floor.samples)).toEqual([9.80665e-6, -1.96133e-5, 3.92266e-5])
    expect([floor.kind, floor.sampleRate, floor.quantity]).toEqual(['VibrationRecord', 100, 'acceleration'])
    const geophone = record({ samples, sampleRate: 100, quantity: 'velocity', sensitivity: -4 })
    expect(Array.from(geophone.samples)).toEqual([-0.25, 0.5, -1])
    expect(samples).toEqual([1, -2, 4])
  })

  it('finds nothing in a healthy record', () => {
    expect(found(counts(1000, 500))).toEqual([])
    expect(found([5])).toEqual([])
  })

  it('finds clipping at a known full scale, also of single samples', () => {
    expect(found([0, 7, 8, -8, 3, 9], { fullScale: 8 })).toEqual([['clipping', 3, 2]])
  })

  it('finds clipping by plateaus at the extremes', () => {
    const clipped = counts(4000, 1000).map((value) => Math.max(-300, Math.min(300, value)))
    expect(found(clipped)[0]?.[0]).toBe('clipping')
    const wave = Array.from({ length: 1000 }, (_, n) => Math.min(0.8, Math.sin(n / 3) + 0.01 * Math.sin(n * n)))
    expect(found(wave).map(([check]) => check)).toEqual(['clipping'])
  })

  it('takes the flat crest of a slow, coarsely resolved wave for what it is', () => {
    expect(found(slowSine)).toEqual([])
  })

  it('finds a dead channel, wholly or for more than 1 % of the record', () => {
    expect(found([0, 0, 0, 0])).toEqual([['dead', 4, 0]])
    const paused = counts(2000, 500).fill(17, 1000, 1030)
    expect(found(paused)).toEqual([['dead', 30, 1000]])
    expect(found(counts(2000, 500).fill(17, 1000, 1015))).toEqual([])
  })

  it('finds bits that never change', () => {
    const numbers = counts(1000, 500)
    const stuck = at(numbers.map((value) => (value | 4) & ~1))
    expect(stuck.findings.map(({ check, count }) => [check, count])).toEqual([['stuck-bit', 2]])
    expect(stuck.findings[0]?.says).toContain('0, 2')
    // Two's complement: also below zero only.
    expect(found(numbers.map((value) => (value - 2000) & ~2))).toEqual([['stuck-bit', 1, 0]])
  })

  it('finds values that no floor has: counts taken for m/s', () => {
    expect(found([12, -3, 4], { unit: 1 })).toEqual([['impossible', 1, 0]])
    expect(found([12, -3, 4], { unit: 1, plausible: 3.5 })).toEqual([['impossible', 2, 0]])
    expect(found([12, -3, 4], { unit: 1, quantity: 'acceleration' })).toEqual([])
  })

  it('finds gaps between instants and refuses instants of another rate', () => {
    const times = [0, 0.01, 0.02, 0.05, 0.06]
    expect(found([1, 2, 3, 5, 4], { times })).toEqual([['gap', 2, 3]])
    // one sample after the third and two after the sixth: counted together, found where the first one is
    const twice = [0, 0.01, 0.02, 0.04, 0.05, 0.06, 0.09]
    expect(found([1, 2, 3, 5, 4, 6, 2], { times: twice })).toEqual([['gap', 3, 3]])
    expect(found([1, 2, 3], { times: [5, 5.0101, 5.02] })).toEqual([])
    const error = refusal(() => at([1, 2, 3], { times: [0, 0.011, 0.022] }))
    expect([error.code, error.details.path]).toEqual(['invalid-option', 'times'])
    expect(error.message).toContain('90.9091 Hz')
  })

  it('bridges missing samples where asked to, and says so', () => {
    const gone = Number.NaN
    const floor = at([gone, 2, gone, gone, 8, gone], { unit: 1e-3, missing: 'bridge' })
    expect(Array.from(floor.samples, (value) => Math.round(value * 1e6) / 1e3)).toEqual([2, 2, 4, 6, 8, 8])
    expect(floor.findings.map(({ check, count, first }) => [check, count, first])).toEqual([['missing', 4, 0]])
    expect(found([1, 5], { missing: 'bridge' })).toEqual([])
  })

  it.each([
    ['NaN', { samples: [1, Number.NaN] }, 'not-finite', 'samples[1]'],
    ['nothing but NaN', { samples: [Number.NaN], missing: 'bridge' }, 'not-finite', 'samples'],
    ['an infinite sample in a bridge', { samples: [1, 1 / 0], missing: 'bridge' }, 'not-finite', 'samples[1]'],
    ['no samples', { samples: [] }, 'out-of-range', 'samples'],
    ['samples that are no list', { samples: 'x', missing: 'bridge' }, 'invalid-option', 'samples'],
    ['a unit and a sensitivity', { unit: 1, sensitivity: 1 }, 'invalid-option', ''],
    ['a sensitivity of 0', { unit: undefined, sensitivity: 0 }, 'out-of-range', 'sensitivity'],
    ['an overflow', { samples: [1e300], unit: 1e300 }, 'out-of-range', 'samples'],
    ['times of another length', { times: [0] }, 'dimension-mismatch', 'times'],
    ['times that do not ascend', { times: [0, 0] }, 'invalid-option', 'times[1]'],
    ['a full scale of 0', { fullScale: 0 }, 'out-of-range', 'fullScale'],
    ['an unknown key', { gain: 2 }, 'invalid-option', 'gain'],
  ])('refuses %s', (_, options, code, path) => {
    const error = refusal(() => at([1, 2], options as never))
    expect([error.code, error.details.path]).toEqual([code, path])
  })
})
