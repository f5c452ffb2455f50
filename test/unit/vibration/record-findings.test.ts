import { describe, expect, it } from 'vitest'
import { type RecordOptions, record } from '../../../src/vibration/index.js'

const found = (samples: readonly number[], more: Partial<RecordOptions> = {}) =>
  record({ samples, sampleRate: 1, quantity: 'unspecified', ...more }).findings
const places = (samples: readonly number[], more: Partial<RecordOptions> = {}) =>
  found(samples, more).map(({ check, count, first }) => [check, count, first])
/** Whole numbers without a pattern, −half to half. */
const ragged = (length: number, half = 500) => Array.from({ length }, (_, n) => Math.round(half * Math.sin(n * n)))

describe('a plateau at an extreme', () => {
  // Three equal readings at the least or the largest value, entered or left by four quanta or more: what `record` says of itself.
  it.each([
    ['entered by four quanta', [0, 1, 5, 5, 5, 4, 2, 0, -1], [['clipping', 3, 2]]],
    ['left by four quanta', [0, 1, 2, 3, 4, 5, 5, 5, 1, 0], [['clipping', 3, 5]]],
    ['entered and left by three', [0, 1, 4, 4, 4, 1, 0, -1], []],
    ['of two readings', [0, 1, 5, 5, 1, 0], []],
    ['at the lowest value', [0, -1, -5, -5, -5, -5, -1, 0], [['clipping', 4, 2]]],
    ['at both ends of the range', [0, 1, 5, 5, 5, 1, 0, -1, -5, -5, -5, -1], [['clipping', 6, 2]]],
    ['in the middle of the range', [0, 1, 5, 5, 5, 1, 9, 0], []],
    ['at the start of the record', [5, 5, 5, 1, 0, 2], [['clipping', 3, 0]]],
    ['at the end of the record', [2, 0, 1, 5, 5, 5], [['clipping', 3, 3]]],
  ] as const)('%s', (_, samples, expected) => {
    expect(places(samples)).toEqual(expected)
    // The other way round in time and sign it is the same plateau.
    const mirrored = [...samples].reverse().map((value) => -value)
    const first = (place: readonly [string, number, number]) => samples.length - place[2] - place[1]
    if (expected.length === 1 && expected[0][1] < 6) {
      expect(places(mirrored)).toEqual([['clipping', expected[0][1], first(expected[0])]])
    }
  })
})

describe('a channel that stands still', () => {
  const paused = (length: number, still: number) => ragged(length).fill(40, 100, 100 + still)

  it.each([
    [1000, 15, []],
    [1000, 16, [['dead', 16, 100]]],
    [1600, 16, [['dead', 16, 100]]],
    [3200, 31, []],
    [3200, 32, [['dead', 32, 100]]],
  ] as const)('of %i readings for %i', (length, still, expected) => {
    expect(places(paused(length, still))).toEqual(expected)
  })

  it('from its first reading to its last, however short, from three on', () => {
    expect(places([4, 4, 4])).toEqual([['dead', 3, 0]])
    expect(places([4, 4])).toEqual([])
  })

  it('longest where it stands still more than once', () => {
    const twice = ragged(1000).fill(40, 100, 120).fill(7, 300, 330)
    expect(places(twice)).toEqual([['dead', 30, 300]])
    expect(places([...twice].reverse())).toEqual([['dead', 30, 670]])
    // of two that are as long, the first
    expect(places(ragged(1000).fill(40, 100, 120).fill(7, 300, 320))).toEqual([['dead', 20, 100]])
  })

  it('is not called stuck as well', () => {
    const even = ragged(1000).map((value) => 2 * value)
    expect(places(even)).toEqual([['stuck-bit', 1, 0]])
    expect(places(even.fill(40, 100, 130))).toEqual([['dead', 30, 100]])
  })
})

describe('bits that never change', () => {
  const multiples = (of: number, steps: number, length = 64) =>
    Array.from({ length }, (_, n) => of * ((11 * n) % steps))

  it('are looked for in 64 readings or more', () => {
    expect(places(multiples(2, 64, 63))).toEqual([])
    expect(places(multiples(2, 64, 64))).toEqual([['stuck-bit', 1, 0]])
  })

  it('are looked for where the range is eight times their weight', () => {
    // 0 to 8 in steps of two: bit 0; 0 to 6: none; 0 to 36 in steps of four: bits 0 and 1
    expect(places(multiples(2, 5, 65))).toEqual([['stuck-bit', 1, 0]])
    expect(places(multiples(2, 4, 65))).toEqual([])
    expect(found(multiples(4, 10, 70)).map(({ says }) => says)).toEqual([
      '2 bits never change (0, 1, from the lowest as 0)',
    ])
  })

  it('may be ones, and are those of the readings, not of the result', () => {
    const odd = multiples(2, 64).map((value) => value + 1)
    expect(places(odd, { unit: 1e-9 })).toEqual([['stuck-bit', 1, 0]])
    expect(places(odd.map((value) => -value))).toEqual([['stuck-bit', 1, 0]])
  })

  it('are those of whole numbers of 32 bits', () => {
    expect(places(multiples(2, 64).map((value) => value + 0.5))).toEqual([])
    expect(places(multiples(2, 64).map((value) => value + 2 ** 31))).toEqual([])
    expect(places(multiples(2, 64).map((value) => value - 2 ** 31))).toEqual([])
    // −3 to 3 times 2^29: bits 0 to 28 are 0, and the range is eight times the weight of the last
    const wide = multiples(2 ** 29, 7).map((value) => value - 3 * 2 ** 29)
    expect(places(wide, { plausible: 1e12 })).toEqual([['stuck-bit', 29, 0]])
  })
})

describe('values that no floor has', () => {
  it('are those above the bound', () => {
    const floor = { quantity: 'velocity' } as const
    expect(places([1, 10, -10, 2], floor)).toEqual([])
    expect(places([1, 10, -10.001, 2, 11], floor)).toEqual([['impossible', 2, 2]])
  })
})

describe('a known full scale', () => {
  it('is reached by what is at or beyond it, of either sign, and by nothing else', () => {
    expect(places([0, 7.9, 3, -8, 9, 2], { fullScale: 8 })).toEqual([['clipping', 2, 3]])
    expect(places([0, 7.9, 3, 7.9, 7.9, 7.9, 2], { fullScale: 8 })).toEqual([])
  })
})

describe('instants', () => {
  const gaps = (times: readonly number[]) =>
    places(
      times.map((_, n) => n % 3),
      { times },
    )

  it.each([
    ['half a sample late or early', [0, 1, 2.5, 3, 4], []],
    ['more than half a sample late', [0, 1, 2.6, 3.6, 4.6], [['gap', 1, 2]]],
    ['more than half a sample early', [0, 1, 1.4, 2.4, 3.4], [['gap', 1, 2]]],
    ['three samples late', [0, 4, 5, 6], [['gap', 3, 1]]],
    ['late twice', [0, 3, 4, 9], [['gap', 6, 1]]],
    ['slow by less than a thousandth', [0, 1.0009, 2.0018, 3.0027], []],
    ['alone', [5], []],
  ] as const)('%s', (_, times, expected) => {
    expect(gaps(times)).toEqual(expected)
  })

  it.each([
    ['slow', 1.0011, '0.998901'],
    ['fast', 0.9989, '1.00110'],
  ])('too %s by more than a thousandth are those of another rate', (_, step, rate) => {
    expect(() => gaps([0, step, 2 * step, 3 * step])).toThrow(`they are ${rate} Hz apart, not 1 Hz`)
  })
})

describe('missing readings', () => {
  const gone = Number.NaN
  const bridged = (samples: readonly number[]) => {
    const floor = record({ samples, sampleRate: 1, quantity: 'unspecified', missing: 'bridge' })
    return [
      Array.from(floor.samples),
      floor.findings.filter(({ check }) => check === 'missing').map(({ count, first }) => [count, first]),
    ]
  }

  it('are put on the straight line between their neighbours', () => {
    expect(bridged([0, gone, gone, gone, 8, 5])).toEqual([[0, 2, 4, 6, 8, 5], [[3, 1]]])
    expect(bridged([3, gone, gone])).toEqual([[3, 3, 3], [[2, 1]]])
    expect(bridged([gone, gone, 3])).toEqual([[3, 3, 3], [[2, 0]]])
    expect(bridged([1, gone, 3, 7, gone, 3])).toEqual([[1, 2, 3, 7, 5, 3], [[2, 1]]])
  })
})

describe('a finding', () => {
  it('says in words what it is', () => {
    const says = (samples: readonly number[], more: Partial<RecordOptions> = {}) =>
      found(samples, more).map((finding) => finding.says)
    expect(says([0, 1, 5, 5, 5, 1], { plausible: 4 })).toEqual([
      '3 samples are at the end of the range',
      '3 samples exceed 4 in SI units; is the scale right?',
    ])
    expect(says([4, 4, 4])).toEqual(['3 samples in a row are all the same'])
    expect(says([0, Number.NaN, 3], { missing: 'bridge', times: [0, 1, 4] })).toEqual([
      'about 2 samples are missing between instants; cut the record there',
      '1 missing samples were bridged by straight lines',
    ])
  })
})
