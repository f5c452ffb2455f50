import { describe, expect, it } from 'vitest'
import { type RemoveResponseOptions, removeResponse, welch } from '../../../src/vibration/index.js'
import { readRecord } from '../../data/read-record.js'
import { refusal } from '../refusal.js'

// Short-period seismograph of the suburban record: three zeros at 0, poles at −1, −3.03, −3.03, −666.67 rad/s, right at 5 Hz
// (README of the record, from the metadata of the station).
const seismograph = {
  zeros: [{ re: 0 }, { re: 0 }, { re: 0 }],
  poles: [{ re: -1 }, { re: -3.03 }, { re: -3.03 }, { re: -666.67 }],
  unityAt: 5,
} as const
const suburban = readRecord('suburban-microtremor', 'suburban_microtremor').channels.get('vel_N') as Float64Array

const conjugates = (im: number) => [
  { re: 0, im },
  { re: 0, im: -im },
]

describe('removeResponse', () => {
  it('divides by the response of the suburban record', () => {
    const motion = removeResponse({
      samples: suburban,
      sampleRate: 100,
      ...seismograph,
      lowerCorner: 0.05,
      quantity: 'velocity',
    })
    expect([motion.kind, motion.quantity]).toEqual(['VibrationRecord', 'velocity'])
    const [before, after] = [suburban, motion.samples].map(
      (samples) => welch({ samples, sampleRate: 100, segmentLength: 4000 }).density,
    )
    // README of the record: response relative to 5 Hz
    for (const [frequency, response] of [
      [0.5, 0.499],
      [1, 0.81],
      [1.5, 0.911],
      [2, 0.952],
      [10, 1.004],
      [40, 0.946],
    ]) {
      const line = Math.round(frequency * 40)
      // The response is printed with three digits; it bends within the main lobe of the window.
      expect(Math.sqrt(before[line] / after[line]), `${frequency} Hz`).toBeCloseTo(response, 2)
    }
  })

  it('at 0.2 Hz divides by 0.116', () => {
    // One tone on a line of the record: no window in between.
    const samples = Array.from({ length: 5000 }, (_, n) => Math.sin((2 * Math.PI * 0.2 * n) / 100))
    const motion = removeResponse({ samples, sampleRate: 100, ...seismograph, lowerCorner: 0.01 })
    const amplitude = Math.sqrt((2 * motion.samples.reduce((sum, value) => sum + value * value, 0)) / 5000)
    expect(1 / amplitude).toBeCloseTo(0.116, 3)
  })

  it('leaves half the amplitude at the lower corner, without a change of phase', () => {
    const samples = Array.from({ length: 1000 }, (_, n) => Math.sin((2 * Math.PI * 3 * n) / 100))
    const motion = removeResponse({ samples, sampleRate: 100, zeros: [], poles: [], gain: -4, lowerCorner: 3 })
    motion.samples.forEach((value, n) => {
      expect(value).toBeCloseTo((samples[n] as number) / -8, 12)
    })
  })

  it('takes a straight line away before it divides, and tells which', () => {
    // 3 + 2 t of a record at 50 Hz, a tone of 5 Hz on top; computed from the closed form: least squares of the line itself
    const samples = Array.from({ length: 1000 }, (_, n) => 3 + 0.04 * n + 1e-3 * Math.cos(0.2 * Math.PI * (n - 499.5)))
    const options = { sampleRate: 50, zeros: [], poles: [], gain: 1, lowerCorner: 0.1 } as const
    const { removed } = removeResponse({ samples, ...options, detrend: 'linear' })
    expect(removed?.constant).toBeCloseTo(3, 5)
    expect(removed?.slope).toBeCloseTo(2, 6)
  })

  it('brings back a motion that went through a resonant instrument', () => {
    // s²/(s² + 2·0.3·ω s + ω²) at 2 Hz, in a record that is periodic; computed from the closed form at 3 Hz
    const omega = 4 * Math.PI
    const s = 6 * Math.PI
    const [re, im] = [omega ** 2 - s ** 2, 0.6 * omega * s]
    const size = s ** 2 / Math.hypot(re, im)
    const phase = Math.PI - Math.atan2(im, re)
    const samples = Array.from({ length: 500 }, (_, n) => size * Math.cos(s * (n / 50) + phase))
    const root = omega * Math.sqrt(1 - 0.09)
    const poles = [
      { re: -0.3 * omega, im: root },
      { re: -0.3 * omega, im: -root },
    ]
    const motion = removeResponse({
      samples,
      sampleRate: 50,
      zeros: [{ re: 0 }, { re: 0 }],
      poles,
      gain: 1,
      lowerCorner: 0.05,
    })
    motion.samples.forEach((value, n) => {
      // The corner takes (0.05/3)^6 = 2e-11 away.
      expect(value).toBeCloseTo(Math.cos(s * (n / 50)), 9)
    })
  })

  it.each([
    ['an unstable pole', { poles: [{ re: 1 }] }, 'unstable', 'poles[0]'],
    ['a complex root alone', { zeros: [{ re: -1, im: 2 }] }, 'invalid-option', 'zeros[0]'],
    ['both gain and unityAt', { unityAt: 5 }, 'invalid-option', ''],
    ['neither', { gain: undefined }, 'invalid-option', ''],
    ['a gain of 0', { gain: 0 }, 'out-of-range', 'gain'],
    ['no corner', { lowerCorner: undefined }, 'invalid-option', 'lowerCorner'],
    ['a corner of 0', { lowerCorner: 0 }, 'out-of-range', 'lowerCorner'],
    ['a zero on a line of the record', { zeros: conjugates(5 * Math.PI) }, 'singular', ''],
    [
      'a zero where the response is to be 1',
      { gain: undefined, unityAt: 1, zeros: conjugates(2 * Math.PI) },
      'singular',
      'unityAt',
    ],
    ['one sample', { samples: [1] }, 'out-of-range', 'samples'],
    ['an unknown key of a root', { zeros: [{ re: 0, order: 2 }] }, 'invalid-option', 'zeros[0].order'],
    ['roots that are no list', { poles: {} }, 'invalid-option', 'poles'],
  ])('refuses %s', (_, more, code, path) => {
    const options: RemoveResponseOptions = {
      samples: [1, 2, 3, 4],
      sampleRate: 10,
      zeros: [],
      poles: [],
      gain: 1,
      lowerCorner: 1,
    }
    const error = refusal(() => removeResponse({ ...options, ...more } as never))
    expect([error.code, error.details.path]).toEqual([code, path])
  })
})
