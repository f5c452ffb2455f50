import { describe, expect, it } from 'vitest'
import {
  bestCriterion,
  type Criterion,
  type CriterionName,
  compareToCriterion,
  criterion,
  customCriterion,
} from '../../../src/vibration/index.js'
import { refusal } from '../refusal.js'

const limitAt = ({ frequency, velocity }: Criterion, nominal: number) => velocity[frequency.indexOf(nominal)] as number
const range = ({ frequency }: Criterion) => [frequency[0], frequency[frequency.length - 1]]

describe('criterion', () => {
  // C. G. Gordon, Proc. SPIE 1619 (1991) 71-85; H. Amick et al., Proc. SPIE 5933 (2005); µm/s rms in the flat part
  it.each([
    ['workshop', 800],
    ['office', 400],
    ['residential-day', 200],
    ['operating-theatre', 100],
    ['VC-A', 50],
    ['VC-B', 25],
    ['VC-C', 12.5],
    ['VC-D', 6.25],
    ['VC-E', 3.125],
    ['VC-F', 1.5625],
    ['VC-G', 0.78125],
    ['VC-H', 0.390625],
    ['VC-M', 0.01220703125],
  ] as const)('%s allows %f µm/s from 8 to 80 Hz in both editions', (name, microns) => {
    for (const edition of ['2005', '1991'] as const) {
      const curve = criterion(name, { edition })
      for (const nominal of [8, 10, 31.5, 80]) expect(limitAt(curve, nominal)).toBeCloseTo(microns * 1e-6, 18)
    }
  })

  it('of 2005 is flat from 1 Hz for VC-C and tighter, and starts at 4 Hz for the others', () => {
    // H. Amick et al., Proc. SPIE 5933 (2005) (ranges from memory)
    expect(range(criterion('VC-C'))).toEqual([1, 80])
    expect(limitAt(criterion('VC-G'), 1)).toBe(0.78125e-6)
    for (const name of ['VC-A', 'VC-B', 'office'] as const) expect(range(criterion(name))).toEqual([4, 80])
  })

  it('of 2005 holds VC-A at 260 µg and VC-B at 130 µg below 8 Hz', () => {
    // from memory; velocities computed from the closed form a/(2πf) at the nominal frequency
    const A = criterion('VC-A')
    expect(limitAt(A, 4)).toBeCloseTo(101.4505e-6, 10)
    expect(limitAt(A, 5)).toBeCloseTo(81.1604e-6, 10)
    expect(limitAt(A, 6.3)).toBeCloseTo(64.413e-6, 10)
    expect(limitAt(criterion('VC-B'), 4)).toBeCloseTo(50.72525e-6, 10)
    expect(limitAt(criterion('VC-B'), 5)).toBeCloseTo(40.5802e-6, 10)
    expect(limitAt(criterion('VC-B'), 6.3)).toBeCloseTo(32.2065e-6, 10)
  })

  it('of 1991 has constant acceleration from 4 to 8 Hz for every VC curve: twice the velocity at 4 Hz', () => {
    // C. G. Gordon, Proc. SPIE 1619 (1991) 71-85
    const flat = { 'VC-A': 50, 'VC-C': 12.5, 'VC-E': 3.125 } as const
    for (const [name, microns] of Object.entries(flat)) {
      const curve = criterion(name as CriterionName, { edition: '1991' })
      expect(range(curve)).toEqual([4, 80])
      expect(limitAt(curve, 4)).toBeCloseTo(2e-6 * microns, 15)
      expect(limitAt(curve, 5)).toBeCloseTo(1.6e-6 * microns, 15)
    }
  })

  // The nine curves of C. G. Gordon, Proc. SPIE 1619 (1991) 71-85, as public implementations have them: corners at 4, 8 and
  // 80 Hz, twice the velocity at the first
  it.each([
    ['workshop', 800],
    ['office', 400],
    ['residential-day', 200],
    ['operating-theatre', 100],
    ['VC-A', 50],
    ['VC-B', 25],
    ['VC-C', 12.5],
    ['VC-D', 6.25],
    ['VC-E', 3.125],
  ] as const)('of 1991 has %s at twice %f, and that value at 8 and 80 Hz', (name, microns) => {
    const curve = criterion(name, { edition: '1991' })
    expect(limitAt(curve, 4) * 1e6).toBeCloseTo(2 * microns, 9)
    for (const nominal of [8, 80]) expect(limitAt(curve, nominal) * 1e6).toBeCloseTo(microns, 9)
  })

  it('halves from VC-A to VC-M', () => {
    // 0.390625 … 0.01220703 µm/s; H. Amick et al., Proc. SPIE 5933 (2005): for evaluation only below VC-E
    const flat = [0.390625, 0.1953125, 0.09765625, 0.048828125, 0.0244140625, 0.01220703125]
    const names = ['VC-H', 'VC-I', 'VC-J', 'VC-K', 'VC-L', 'VC-M'] as const
    names.forEach((name, k) => {
      expect(limitAt(criterion(name), 1) * 1e6).toBeCloseTo(flat[k] as number, 12)
      expect(range(criterion(name))).toEqual([1, 80])
    })
  })

  it('has that form for people in both editions', () => {
    // ISO curves as cited by C. G. Gordon, Proc. SPIE 1619 (1991) 71-85
    expect(limitAt(criterion('office'), 4)).toBeCloseTo(800e-6, 15)
    expect(limitAt(criterion('workshop', { edition: '1991' }), 4)).toBeCloseTo(1600e-6, 15)
  })

  it('has the NIST curves', () => {
    // A. Soueid, H. Amick, T. Zsirai, Proc. SPIE 5933 (2005): 25 nm rms to 20 Hz, then 3.1 µm/s; 3 and 0.75 µm/s
    const A = criterion('NIST-A')
    expect(range(A)).toEqual([1, 100])
    expect(limitAt(A, 1)).toBeCloseTo(0.15708e-6, 11)
    expect(limitAt(A, 16)).toBeCloseTo(2.51327e-6, 11)
    expect([20, 25, 100].map((f) => limitAt(A, f))).toEqual([3.1e-6, 3.1e-6, 3.1e-6])
    const A1 = criterion('NIST-A1')
    expect([1, 3.15, 4, 100].map((f) => limitAt(A1, f))).toEqual([3e-6, 3e-6, 0.75e-6, 0.75e-6])
  })

  it('refuses unknown names and editions', () => {
    expect(refusal(() => criterion('VC-Z' as never)).details.path).toBe('name')
    expect(refusal(() => criterion('vc-a' as never)).code).toBe('invalid-option')
    expect(refusal(() => criterion('VC-A', { edition: '2010' } as never)).details.path).toBe('edition')
    expect(refusal(() => criterion('NIST-A', { edition: '1991' })).details.path).toBe('edition')
    expect(refusal(() => criterion('VC-A', { year: 1991 } as never)).details.path).toBe('year')
  })
})

describe('customCriterion', () => {
  it('joins its corners log-log and reads them at nominal bands', () => {
    const curve = customCriterion({ frequency: [1, 10, 100], velocity: [1e-6, 1e-5, 1e-5], name: 'scanner' })
    expect([curve.name, curve.edition, curve.frequency.length]).toEqual(['scanner', null, 21])
    // slope +1 up to 10 Hz: 1 µm/s per hertz
    expect(limitAt(curve, 2)).toBeCloseTo(2e-6, 18)
    expect(limitAt(curve, 6.3)).toBeCloseTo(6.3e-6, 18)
    expect(limitAt(curve, 40)).toBeCloseTo(1e-5, 18)
  })

  it.each([
    ['a velocity of 0', { velocity: [1e-6, 0] }, 'out-of-range', 'velocity[1]'],
    ['a corner without velocity', { velocity: [1e-6] }, 'dimension-mismatch', 'velocity'],
    ['corners out of order', { frequency: [10, 1] }, 'invalid-option', 'frequency[1]'],
    ['corners between two bands', { frequency: [1.1, 1.2] }, 'invalid-option', 'frequency'],
    ['a corner at 0 Hz', { frequency: [0, 10] }, 'out-of-range', 'frequency[0]'],
    ['an empty name', { name: '' }, 'invalid-option', 'name'],
  ])('refuses %s', (_, change, code, path) => {
    const error = refusal(() => customCriterion({ frequency: [1, 10], velocity: [1e-6, 1e-6], ...change } as never))
    expect([error.code, error.details.path]).toEqual([code, path])
  })
})

describe('compareToCriterion', () => {
  const bands = (levels: Record<number, number>, quantity = 'velocity') =>
    ({ quantity, bands: Object.entries(levels).map(([nominal, rms]) => ({ nominal: Number(nominal), rms })) }) as never

  it('names the worst band, the ratios, the range judged and what is missing', () => {
    const result = compareToCriterion(bands({ 4: 3e-6, 5: 5e-6, 8: 1e-6, 100: 1 }), 'VC-D')
    expect(result.verdict).toBe('pass')
    expect(result.worst).toEqual({ nominal: 5, rms: 5e-6, limit: 6.25e-6, ratio: 0.8 })
    expect(result.ratios.map((entry) => entry.nominal)).toEqual([4, 5, 8])
    expect(result.judged).toEqual([4, 8])
    expect(result.missing).toEqual([1, 1.25, 1.6, 2, 2.5, 3.15, 6.3, 10, 12.5, 16, 20, 25, 31.5, 40, 50, 63, 80])
  })

  it('passes on the limit and fails just above it', () => {
    expect(compareToCriterion(bands({ 10: 12.5e-6 }), 'VC-C').verdict).toBe('pass')
    expect(compareToCriterion(bands({ 10: 12.5e-6 * (1 + 1e-12) }), 'VC-C').verdict).toBe('fail')
  })

  it('takes a record as well as a name', () => {
    const levels = bands({ 4: 90e-6, 8: 40e-6 })
    expect(compareToCriterion(levels, criterion('VC-A', { edition: '1991' }))).toEqual(
      compareToCriterion(levels, 'VC-A', { edition: '1991' }),
    )
    const custom = customCriterion({ frequency: [4, 8], velocity: [1e-5, 1e-5], name: 'scanner' })
    expect(compareToCriterion(levels, custom)).toMatchObject({
      criterion: 'scanner',
      verdict: 'fail',
      missing: [5, 6.3],
    })
  })

  it.each([
    ['acceleration bands', bands({ 10: 1 }, 'acceleration'), 'VC-A', 'unsupported', 'bands.quantity'],
    ['bands of nothing in particular', bands({ 10: 1 }, 'unspecified'), 'VC-A', 'unsupported', 'bands.quantity'],
    ['bands outside of the criterion', bands({ 1: 1, 2: 1 }), 'VC-A', 'invalid-option', 'bands'],
    ['no bands', bands({}), 'VC-A', 'invalid-option', 'bands.bands'],
    ['a label that is none', bands({ 3.2: 1 }), 'VC-A', 'invalid-option', 'bands.bands[0].nominal'],
    ['a negative level', bands({ 10: -1 }), 'VC-A', 'out-of-range', 'bands.bands[0].rms'],
    [
      'a centre that is no number',
      { quantity: 'velocity', bands: [{ nominal: 10, rms: 1, centre: '10' }] } as never,
      'VC-A',
      'invalid-option',
      'bands.bands[0].centre',
    ],
    ['an unknown criterion', bands({ 10: 1 }), 'VC-N', 'invalid-option', 'criterion'],
    ['a criterion without limits', bands({ 10: 1 }), { kind: 'Criterion' }, 'invalid-option', 'criterion.name'],
  ])('refuses %s', (_, levels, name, code, path) => {
    const error = refusal(() => compareToCriterion(levels, name as never))
    expect([error.code, error.details.path, error.details.function]).toEqual([code, path, 'compareToCriterion'])
  })

  it('refuses an edition beside a record, which has its own', () => {
    const error = refusal(() => compareToCriterion(bands({ 10: 1 }), criterion('VC-A'), { edition: '1991' }))
    expect([error.code, error.details.path]).toEqual(['invalid-option', 'edition'])
  })

  it('refuses the same band twice', () => {
    const twice = {
      quantity: 'velocity',
      bands: [
        { nominal: 10, rms: 1 },
        { nominal: 10, rms: 2 },
      ],
    } as const
    expect(refusal(() => compareToCriterion(twice, 'VC-A')).details.path).toBe('bands.bands[1].nominal')
  })
})

describe('bestCriterion', () => {
  const flat = (rms: number, labels: number[]) =>
    ({ quantity: 'velocity', bands: labels.map((nominal) => ({ nominal, rms })) }) as const

  it('is the tightest curve met, on the limit included', () => {
    expect(bestCriterion(flat(12.5e-6, [8, 10, 80]))).toBe('VC-C')
    expect(bestCriterion(flat(12.6e-6, [8, 10, 80]))).toBe('VC-B')
    expect(bestCriterion(flat(0, [8]))).toBe('VC-M')
  })

  it('is null if not even VC-A is met', () => {
    expect(bestCriterion(flat(51e-6, [10]))).toBeNull()
  })

  it('depends on the edition below 8 Hz', () => {
    // 20 µm/s at 4 Hz: within twice VC-C in 1991, above VC-C in 2005, within VC-B in both
    expect(bestCriterion(flat(20e-6, [4]))).toBe('VC-B')
    expect(bestCriterion(flat(20e-6, [4]), { edition: '1991' })).toBe('VC-C')
  })

  it('judges bands below 4 Hz by VC-C and tighter only', () => {
    expect(bestCriterion(flat(20e-6, [2, 10]))).toBe('VC-B')
    expect(bestCriterion(flat(10e-6, [2]))).toBe('VC-C')
    expect(bestCriterion(flat(20e-6, [2]))).toBeNull()
  })

  it('refuses bands that no curve limits', () => {
    expect(refusal(() => bestCriterion(flat(1e-6, [100]))).code).toBe('invalid-option')
    expect(refusal(() => bestCriterion({ ...flat(1e-6, [10]), quantity: 'displacement' })).code).toBe('unsupported')
  })
})
