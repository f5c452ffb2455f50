import { describe, expect, it } from 'vitest'
import {
  bandHistory,
  bandStream,
  differentiate,
  integrate,
  type RemoveResponseOptions,
  removeResponse,
} from '../../../src/vibration/index.js'

const plain = { sampleRate: 1, detrend: 'none' } as const
const impulse = (length: number) => Array.from({ length }, (_, n) => (n === 0 ? 1 : 0))
const wave = (length: number, turns: number, phase = 0) =>
  Array.from({ length }, (_, n) => Math.cos((2 * Math.PI * turns * n) / length + phase))
const expectClose = (found: ArrayLike<number>, expected: readonly number[], digits = 12) => {
  expect(found.length).toBe(expected.length)
  expected.forEach((value, n) => {
    expect(found[n], `sample ${n}`).toBeCloseTo(value, digits)
  })
}

describe('a record of an even and of an odd number of samples', () => {
  const lines = (length: number) => Array.from({ length: Math.floor(length / 2) }, (_, k) => k + 1)

  it.each([8, 9, 2, 3])('%i long has all of its lines weighed alike, the last one too', (length) => {
    // An impulse is (1/L)·Σ cos(2πkn/L) over all lines; each is divided by −4 and weighed with 1/(1 + (corner/f)⁴)
    const motion = removeResponse({
      ...plain,
      samples: impulse(length),
      zeros: [],
      poles: [],
      gain: -4,
      lowerCorner: 0.2,
    })
    const expected = Array.from({ length }, (_, n) =>
      lines(length).reduce((sum, k) => {
        const size = (2 * k === length ? 1 : 2) / length / (-4 * (1 + ((0.2 * length) / k) ** 4))
        return sum + size * Math.cos((2 * Math.PI * k * n) / length)
      }, 0),
    )
    expectClose(motion.samples, expected)
  })

  it.each([8, 9])('%i long differentiates and integrates each line, and drops the one at half the rate', (length) => {
    const options = { ...plain, samples: impulse(length), method: 'frequency', band: [1e-6, 0.5] } as const
    const inner = lines(length).filter((k) => 2 * k < length)
    const sum = (n: number, factor: (omega: number) => number) =>
      inner.reduce((total, k) => {
        const omega = (2 * Math.PI * k) / length
        return total + (2 / length) * factor(omega) * Math.sin(omega * n)
      }, 0)
    const all = Array.from({ length }, (_, n) => n)
    // d/dt cos ωt = −ω·sin ωt, ∫ cos ωt = sin ωt/ω
    expectClose(
      differentiate(options).samples,
      all.map((n) => sum(n, (omega) => -omega)),
    )
    expectClose(
      integrate(options).samples,
      all.map((n) => sum(n, (omega) => 1 / omega)),
    )
  })

  it('keeps what lies on the ends of its band and nothing beyond', () => {
    const left = (turns: number) => {
      const options = { samples: wave(32, turns), sampleRate: 32, method: 'frequency', band: [4, 8] } as const
      return Math.max(...differentiate(options).samples) / (2 * Math.PI * turns)
    }
    expect([3, 4, 6, 8, 9].map((turns) => Math.round(1e6 * left(turns)))).toEqual([0, 1e6, 1e6, 1e6, 0])
  })
})

describe('integration behind a high-pass', () => {
  it('is that of the record without its mean, as long as the filter does not see it', () => {
    // Far above the corner what is left of sin ωt is (1 − cos ωt)/ω: 4 Hz behind 0.001 Hz, read over one second
    const samples = wave(1000, 4, -Math.PI / 2).map((value) => value + 7)
    const { samples: motion, removed } = integrate({ samples, sampleRate: 1000, highPass: 0.001 })
    expect(removed?.constant).toBeCloseTo(7, 12)
    motion.forEach((value, n) => {
      expect(value).toBeCloseTo((1 - Math.cos((8 * Math.PI * n) / 1000)) / (8 * Math.PI), 3)
    })
  })
})

describe('the lower corner of a response', () => {
  const size = (zeros: RemoveResponseOptions['zeros'], corner: number) => {
    // unity at the tone itself: only the weight is left
    const options = { samples: wave(64, 8), sampleRate: 64, zeros, poles: [{ re: -50 }], unityAt: 8 }
    const { samples } = removeResponse({ ...options, lowerCorner: corner })
    return 1 / Math.sqrt((2 * samples.reduce((sum, value) => sum + value * value, 0)) / 64)
  }

  // An octave below the corner is 1 + 2^(2m), an octave above 1 + 2^(−2m): m = 1 + zeros at 0, at least 2
  it.each([
    ['no zeros', [], 4],
    ['a zero at 0', [{ re: 0 }], 4],
    ['two zeros at 0', [{ re: 0 }, { re: 0, im: 0 }], 6],
    ['three zeros at 0', [{ re: 0 }, { re: 0 }, { re: 0 }], 8],
    ['zeros elsewhere', [{ re: -1 }, { re: -2 }, { re: -3 }], 4],
    ['zeros on the axis', [3, -3, 4, -4].map((im) => ({ re: 0, im })), 4],
  ])('of %s', (_, zeros, power) => {
    expect(size(zeros, 16)).toBeCloseTo(1 + 2 ** power, 8)
    expect(size(zeros, 4)).toBeCloseTo(1 + 2 ** -power, 8)
  })
})

describe('a response divided out', () => {
  const options = { samples: wave(1024, 128), sampleRate: 1024, gain: 1, lowerCorner: 0.001 }
  const omega = 256 * Math.PI

  // H = 1/(s + a) takes a to be multiplied by (iω + a), and so on (closed forms), for the tone of 128 Hz
  it.each([
    ['of a pole', [], [{ re: -500 }], [500, omega]],
    ['of a zero', [{ re: -500 }], [], [500 / (500 ** 2 + omega ** 2), -omega / (500 ** 2 + omega ** 2)]],
    ['of a zero in the right half-plane', [{ re: 500 }], [{ re: -500 }, { re: -1 }], null],
    [
      'of a pair of poles',
      [],
      [1, -1].map((sign) => ({ re: -300, im: 400 * sign })),
      [500 ** 2 - omega ** 2, 600 * omega],
    ],
  ] as const)('%s', (_, zeros, poles, factor) => {
    const { samples } = removeResponse({ ...options, zeros, poles })
    // (iω + 500)(iω + 1)/(iω − 500): of size |iω + 1|, turned by 2·atan(ω/500) − π more than iω + 1
    const turn = Math.atan(omega) + 2 * Math.atan(omega / 500) - Math.PI
    const size = Math.hypot(omega, 1)
    const [re, im] = factor ?? [size * Math.cos(turn), size * Math.sin(turn)]
    const scale = Math.hypot(re, im)
    expectClose(
      samples.map((value) => value / scale),
      options.samples.map((_, n) => (re * Math.cos(omega * (n / 1024)) - im * Math.sin(omega * (n / 1024))) / scale),
      9,
    )
  })

  it('may have the same pair of roots twice, conjugates to within a millionth', () => {
    const pair = (off = 0) => [
      { re: -300, im: 400 },
      { re: -300, im: -400 + off },
    ]
    const gains = (poles: RemoveResponseOptions['poles']) => () => removeResponse({ ...options, zeros: [], poles })
    expect(gains([...pair(), ...pair()])).not.toThrow()
    expect(gains(pair(4e-4))).not.toThrow()
    expect(gains(pair(6e-4))).toThrow('poles[0] must come with its conjugate')
    expect(gains([...pair(), pair()[0]])).toThrow('poles[0] must come with its conjugate')
    expect(gains([{ re: -1 }, ...pair(), pair()[1]])).toThrow('poles[1] must come with its conjugate')
  })
})

describe('the filters of a band at 400 Hz', () => {
  // The 10 Hz band is 2.307675 Hz wide (IEC 61260-1:2014) and filtered at 400/2³ Hz. Band-pass of order 6 on either side, drawn in
  // by sin(π/12)/(π/12): 1/(12·width·sin²(π/12)) = 0.539078 s late at its centre. Low-passes of order 10 at 70, 35 and 17.5 Hz:
  // 0.091276 s in all at 0 Hz (SciPy 1.17, phase of the digital filters).
  const delay = 0.630354
  const settling = 10 / 2.307675162
  const width = 2.307675162
  const options = { sampleRate: 400, from: 10, to: 10 } as const
  const samples = new Float64Array(2600).fill(1)

  it('are late by what closed forms say, and left out while they settle', () => {
    const history = bandHistory({ samples, ...options, blockDuration: 0.5, quantity: 'force' })
    expect(history.skipped).toBeCloseTo(settling - delay, 5)
    expect(history.bands[0]).toEqual({
      nominal: 10,
      centre: 10,
      lower: expect.closeTo(8.912509381, 9),
      upper: expect.closeTo(11.220184543, 9),
      lines: null,
      delay: expect.closeTo(delay, 5),
      // 2·width·block
      degreesOfFreedom: expect.closeTo(width, 8),
      medianBias: expect.closeTo(0.73042931, 7),
    })
    expect([history.kind, history.quantity, history.timeConstant]).toEqual(['BandHistory', 'force', null])
    expect(history.blockDuration).toBe(0.5)
    // 2600 − 1733 samples are four blocks of 200, read at their middle
    expect(Array.from(history.time)).toEqual(
      [0.25, 0.75, 1.25, 1.75].map((middle) => expect.closeTo(settling - delay + middle, 5)),
    )
  })

  it('take seven time constants more to forget with an average, which knows twice its time constant', () => {
    const history = bandHistory({ samples, ...options, blockDuration: 0.5, timeConstant: 0.1 })
    expect(history.skipped).toBeCloseTo(settling - delay + 0.7, 5)
    expect(history.bands[0].degreesOfFreedom).toBeCloseTo(2 * width * 0.2, 8)
    expect(history.timeConstant).toBe(0.1)
    // read at the end of a block
    expect(Array.from(history.time)).toEqual([0.5, 1].map((end) => expect.closeTo(settling - delay + 0.7 + end, 5)))
  })

  it('leave one block of all that is left, of a period at least', () => {
    const whole = bandHistory({ samples, ...options })
    expect(whole.blockDuration).toBe(867 / 400)
    expect(whole.time.length).toBe(1)
    expect(whole.bands[0].degreesOfFreedom).toBeCloseTo((2 * width * 867) / 400, 8)
    // 1733 samples to settle and 45 of 1/8.9125 s
    expect(() => bandHistory({ samples: samples.slice(0, 1777), ...options })).toThrow('at least 1778 samples, 4.445 s')
    expect(bandHistory({ samples: samples.slice(0, 1778), ...options }).blockDuration).toBe(45 / 400)
    const blocks = { ...options, blockDuration: 0.5 }
    expect(() => bandHistory({ samples: samples.slice(0, 1932), ...blocks })).toThrow('at least 1933 samples')
    expect(bandHistory({ samples: samples.slice(0, 1933), ...blocks }).time.length).toBe(1)
    expect(bandHistory({ samples: samples.slice(0, 2132), ...blocks }).time.length).toBe(1)
    expect(bandHistory({ samples: samples.slice(0, 2133), ...blocks }).time.length).toBe(2)
  })

  it('see nothing of what has always stood still', () => {
    expect(bandHistory({ samples, ...options }).rms[0]).toBeLessThan(1e-12)
  })

  it('lose no sample between blocks and count none twice', () => {
    // at 32 Hz nothing is halved, so that blocks hold whole numbers of samples: the mean of their squares is that of all
    const random = Float64Array.from({ length: 2000 }, (_, n) => Math.sin(n * n))
    const chosen = { samples: random, sampleRate: 32, from: 10, to: 10 } as const
    const squares = bandHistory({ ...chosen, blockDuration: 100 / 32 }).rms.map((level) => level * level)
    expect(squares.length).toBe(18)
    const whole = bandHistory({ ...chosen, blockDuration: 1800 / 32 }).rms[0] ** 2
    expect(squares.reduce((sum, value) => sum + value, 0) / 18 / whole).toBeCloseTo(1, 12)
    const halves = bandHistory({ ...chosen, blockDuration: 900 / 32 }).rms.map((level) => level * level)
    expect((halves[0] + halves[1]) / 2 / whole).toBeCloseTo(1, 12)
  })

  it('reach up to 0.45 of the rate', () => {
    const reach = (sampleRate: number) => () => bandStream({ sampleRate, from: 10, to: 10 })
    expect(reach(11.220184544 / 0.45)).not.toThrow()
    expect(reach(11.220184542 / 0.45)).toThrow('at most 0.45 of the sample rate')
  })
})
