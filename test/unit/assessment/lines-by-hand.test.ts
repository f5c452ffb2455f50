import { describe, expect, it } from 'vitest'
import { compareToModel, fitIsolator } from '../../../src/assessment/index.js'
import { formResponse, type IsolatorForm } from '../../../src/assessment/isolator-forms.js'
import { checkedLines, smearing, standardDeviations } from '../../../src/assessment/line-statistics.js'
import { scopeOf } from '../../../src/internal/check.js'
import type { TransferEstimate } from '../../../src/vibration/index.js'
import { refusal } from '../refusal.js'
import { voigt } from './sites.js'

const scope = scopeOf('test')
const all = (count: number, value: number) => new Float64Array(count).fill(value)

/** An estimate of lines 1 Hz apart with σ² = (1 − 0.5)·2/4/(2·(5 − 1)) = 1/32 on every line. */
const invented = (re: readonly number[], more: Partial<TransferEstimate> = {}): TransferEstimate => {
  const { length } = re
  return {
    kind: 'TransferEstimate',
    frequency: Float64Array.from({ length }, (_, k) => k),
    re: Float64Array.from(re),
    im: all(length, 0),
    coherence: all(length, 0.5),
    inputDensity: all(length, 4),
    outputDensity: all(length, 2),
    undefinedLines: [],
    segmentLength: 2 * (length - 1),
    overlap: 0,
    window: 'rectangular',
    averages: 5,
    effectiveAverages: 5,
    ...more,
  } as TransferEstimate
}
const sigma = Math.sqrt(1 / 32)
const series = (re: readonly number[]) => ({
  kind: 'ComplexSeries' as const,
  frequency: Float64Array.from(re, (_, k) => k),
  re: Float64Array.from(re),
  im: all(re.length, 0),
})
const one = series([1, 1, 1, 1, 1, 1])

describe('the standard deviation of a line', () => {
  it('is √((1 − γ²) S_yy/(2 (n − 1) S_xx)): J. S. Bendat, A. G. Piersol, Random Data, chapter 9', () => {
    expect(standardDeviations(invented([1, 1, 1]), [1, 2])).toEqual(Float64Array.of(sigma, sigma))
    const clear = invented([1, 1, 1], { coherence: Float64Array.of(0, 0.75, 1 + 1e-10) })
    // Half as much noise; and none, of which a millionth of |H1| is believed.
    expect(Array.from(standardDeviations(clear, [1, 2]))).toEqual([
      expect.closeTo(sigma / Math.SQRT2, 12),
      expect.closeTo(1e-6, 15),
    ])
  })

  it('of a single average is that of half a degree more, and of a weak line no less than 1e-9 of the largest', () => {
    // √(0.5·2/4/1) by hand
    expect(standardDeviations(invented([1, 1, 1], { effectiveAverages: 1 }), [1])[0]).toBeCloseTo(0.5, 12)
    const silent = invented([0, 1, 0], { coherence: all(3, 1) })
    expect(standardDeviations(silent, [1, 2])[1]).toBeCloseTo(1e-9, 15)
  })
})

describe('the lines that are judged', () => {
  const record = invented([1, 1, 1, 1, 1, 1])

  it('are those above 0 Hz with input power, both ends of the range included', () => {
    expect(checkedLines(scope, record, {})).toEqual([1, 2, 3, 4, 5])
    expect(checkedLines(scope, record, { from: 2, to: 4 })).toEqual([2, 3, 4])
    expect(checkedLines(scope, record, { from: 3, to: 3 })).toEqual([3])
    const inputDensity = Float64Array.of(4, 4, 0, 4, 4, 4)
    expect(checkedLines(scope, { ...record, inputDensity, undefinedLines: [4] }, {})).toEqual([1, 3, 5])
  })
})

describe('what a window makes of a response', () => {
  const smeared = () => smearing(invented(Array(41).fill(1)), [3, 20, 30])
  /** What each place of the grid weighs in one line. */
  const weight = (line: number, place: number) => {
    const { frequency, smear } = smeared()
    const k = frequency.findIndex((f) => Math.abs(f - place) < 1e-9)
    return smear(
      frequency.map((_, at) => (at === k ? 1 : 0)),
      all(frequency.length, 0),
    )[2 * line]
  }

  it('is read on three points per line, from six lines below the first, or 0 Hz, to six above the last', () => {
    const { frequency } = smeared()
    expect([frequency[0], frequency[1], frequency[frequency.length - 1]]).toEqual([0, expect.closeTo(1 / 3, 12), 36])
    const [first] = smearing(invented(Array(41).fill(1)), [20, 30]).frequency
    expect(first).toBe(14)
  })

  it('leaves what is level or straight as it is, near 0 Hz too, where a response goes on as its conjugate', () => {
    const { frequency, smear } = smeared()
    const straight = smear(all(frequency.length, 2), frequency)
    expect(Array.from(straight)).toEqual([2, 3, 2, 20, 2, 30].map((value) => expect.closeTo(value, 9)))
  })

  it('weighs by |W|² of a rectangular window, sin²(πx)/(80² sin²(πx/80)) at x lines', () => {
    const power = (x: number) => (Math.sin(Math.PI * x) / (80 * Math.sin((Math.PI * x) / 80))) ** 2
    for (const x of [1 / 3, 2 / 3, 4 / 3, -1 / 3, 17 / 3])
      expect(weight(1, 20 + x) / weight(1, 20)).toBeCloseTo(power(x), 9)
    expect(weight(1, 21)).toBeCloseTo(0, 12)
    expect(weight(1, 27)).toBe(0)
  })

  it('weighs by |W|² of a Hann window, a quarter one line away: F. J. Harris, Proc. IEEE 66 (1978) 51-83', () => {
    const hann = smearing(invented(Array(41).fill(1), { window: 'hann' }), [20])
    const shown = (k: number) =>
      hann.smear(
        hann.frequency.map((_, at) => (at === k ? 1 : 0)),
        all(hann.frequency.length, 0),
      )[0]
    // The grid begins at 14 Hz: line 20 is its point 18.
    expect([15, 21, 12].map((k) => shown(k) / shown(18))).toEqual([0.25, 0.25, 0].map((v) => expect.closeTo(v, 9)))
  })
})

describe('a prediction on the lines of the estimate', () => {
  const held = (re: readonly number[], more: object = {}) => compareToModel(invented(re, more), one)
  const away = (...deviations: number[]) => [1, ...deviations.map((each) => 1 + each * sigma)]

  it('has a limit that chance exceeds in one of twenty records of five lines', () => {
    const { limit, verdict, deviations, scatter, frequency, provableShare } = held(away(0, 1, -2, 0.5, 0))
    // P(F > x) = (1 + 2x/m)^(−m/2) for 2 and m = 2·(5 − 1) degrees of freedom, x = limit²/2; 1 − 0.95^(1/5) for each line
    expect((1 + limit ** 2 / 8) ** -4).toBeCloseTo(1 - 0.95 ** 0.2, 12)
    expect(Array.from(deviations)).toEqual([0, 1, 2, 0.5, 0].map((each) => expect.closeTo(each, 12)))
    expect(scatter).toBeCloseTo(Math.sqrt(5.25 / 10), 12)
    expect([verdict, Array.from(frequency), provableShare]).toEqual(['agrees', [1, 2, 3, 4, 5], 1])
    const sure = compareToModel(invented(away(0, 0, 0, 0, 0)), one, { confidence: 0.99, to: 2 })
    expect((1 + sure.limit ** 2 / 8) ** -4).toBeCloseTo(1 - 0.99 ** 0.5, 12)
  })

  it('departs in runs of lines, which one line between them does not part, and two do', () => {
    const [near, ...none] = held(away(10, 0, 20, 0, 0)).departures
    expect(none).toEqual([])
    expect(near).toEqual({
      from: 1,
      to: 3,
      worst: 3,
      deviation: expect.closeTo(20, 9),
      measured: expect.closeTo(1 + 20 * sigma, 9),
      predicted: 1,
    })
    const { departures, verdict } = held(away(10, 0, 0, 20, 15))
    expect(verdict).toBe('departs')
    expect(departures.map(({ from, to, worst }) => [from, to, worst])).toEqual([
      [1, 1, 1],
      [4, 5, 4],
    ])
  })

  it('is undecided where less than half of the lines could have shown an error as large as itself', () => {
    const weak = (...re: number[]) => compareToModel(invented([0, ...re]), series([0, ...re]))
    // The limit of 4.14 standard deviations is 0.73.
    expect([weak(1, 1, 0.1, 0.1).verdict, weak(1, 1, 0.1, 0.1).provableShare]).toEqual(['agrees', 0.5])
    expect([weak(1, 0.1, 0.1, 0.1).verdict, weak(1, 0.1, 0.1, 0.1).provableShare]).toEqual(['undecided', 0.25])
  })

  it('is refused where it is so far away that no number says how far', () => {
    const { message } = refusal(() =>
      compareToModel(invented([1, 1, 1], { coherence: all(3, 1) }), series([1, 1e305, 1])),
    )
    expect(message).toBe(
      'compareToModel: model gives a deviation beyond the range of numbers; the options together are too extreme',
    )
  })
})

describe('an estimate that was made up is refused', () => {
  const good = invented([1, 1, 1])
  it.each<[string, object]>([
    ['invalid-option: estimate needs a TransferEstimate, got an object', { re: [1, 1, 1] }],
    ['invalid-option: estimate needs a TransferEstimate, got an object', { im: all(2, 0) }],
    ['not-finite: estimate.re[1] must be a finite number, got NaN', { re: Float64Array.of(1, Number.NaN, 1) }],
    [
      'out-of-range: estimate.coherence[0] must be a finite number of at least 0 and of at most 1.000000001, got 1.1',
      { coherence: all(3, 1.1) },
    ],
    [
      'out-of-range: estimate.inputDensity[0] must be a finite number of at least 0 and of at most 1e+200 [unit²/Hz], got -1',
      { inputDensity: all(3, -1) },
    ],
    [
      'out-of-range: estimate.outputDensity[0] must be a finite number of at least 0 and of at most 1e+200 [unit²/Hz], got -1',
      { outputDensity: all(3, -1) },
    ],
    [
      'invalid-option: estimate.undefinedLines must be a number[] or a Float64Array, got undefined',
      { undefinedLines: undefined },
    ],
    [
      'out-of-range: estimate.segmentLength must be a whole number of at least 4 and of at most 5, got 3',
      { segmentLength: 3 },
    ],
    [
      'out-of-range: estimate.segmentLength must be a whole number of at least 4 and of at most 5, got 6',
      { segmentLength: 6 },
    ],
    [
      'out-of-range: estimate.effectiveAverages must be a finite number of at least 0.5 and of at most 1000000000000000, got 0',
      { effectiveAverages: 0 },
    ],
    [
      "invalid-option: estimate.window must be one of 'rectangular', 'hann', 'hamming', 'blackman', 'blackman-harris', 'nuttall', 'bartlett', 'parabolic', 'flat-top', 'hft70', 'hft90d', 'hft95', got 'none'",
      { window: 'none' },
    ],
    ['out-of-range: estimate.overlap must be a finite number of at least 0 and below 1, got 1', { overlap: 1 }],
    [
      'out-of-range: estimate.averages must be a whole number of at least 1 and of at most 1000000000000000, got 0',
      { averages: 0 },
    ],
  ])('%s', (says, change) => {
    const { code, message, details } = refusal(() => compareToModel({ ...good, ...change } as never, voigt(1, 0.1)))
    expect(`${code}: ${message.slice(details.function.length + 2)}`).toBe(says)
  })

  it('and one whose odd segments end half a line below is taken', () => {
    expect(compareToModel(invented([1, 1, 1], { segmentLength: 5 }), series([1, 1, 1])).verdict).toBe('agrees')
  })
})

describe('the forms', () => {
  // (1 + jx)/(1 − r² + jx), K/(K − r²) with K = 1 + jNx/(N + jx), (1 + jx)/(1 − r² + j(x + 2ζ_a r)), with x = 2ζr, by hand
  it.each<[IsolatorForm, number[], number, number, number]>([
    ['viscous', [5, 0.1], 5, 1, -5],
    ['viscous', [5, 0.25], 10, -0.2, -0.4],
    ['relaxation', [5, 0.1, 4], 5, 1.25, -5],
    ['relaxation', [5, 0.25, 1], 10, -3.5 / 6.5, -2 / 6.5],
    ['activelyDamped', [5, 0.1, 0.4], 5, 0.2, -1],
    ['activelyDamped', [5, 0.25, 0.5], 10, 0, -1 / 3],
  ])('%s of %o at %d Hz', (form, values, frequency, re, im) => {
    const found = formResponse(form, values, Float64Array.of(frequency))
    expect([found.re[0], found.im[0]]).toEqual([expect.closeTo(re, 12), expect.closeTo(im, 12)])
  })
})

describe('a fit to lines that are what a form makes of them', () => {
  const count = 120
  const lines = Array.from({ length: count - 1 }, (_, k) => k + 1)
  /** Lines 0.25 Hz apart, as the window shows them, off by `off` standard deviations to either side in turn. */
  const shown = (form: IsolatorForm, values: number[], off = 0): TransferEstimate => {
    const empty = invented(Array(count).fill(0), { frequency: Float64Array.from({ length: count }, (_, k) => k / 4) })
    const { frequency, smear } = smearing(empty, lines)
    const { re, im } = formResponse(form, values, frequency)
    const parts = smear(re, im)
    return {
      ...empty,
      re: Float64Array.from({ length: count }, (_, k) => (k === 0 ? 1 : parts[2 * k - 2] + off * sigma * (-1) ** k)),
      im: Float64Array.from({ length: count }, (_, k) => (k === 0 ? 0 : parts[2 * k - 1])),
    }
  }

  it.each<[IsolatorForm, Record<string, number>]>([
    ['viscous', { naturalFrequency: 4.3, dampingRatio: 0.13 }],
    ['relaxation', { naturalFrequency: 4.3, dampingRatio: 0.5, stiffnessRatio: 2.5 }],
    ['activelyDamped', { naturalFrequency: 4.3, dampingRatio: 0.1, activeDampingRatio: 0.4 }],
  ])('finds %s exactly', (form, truth) => {
    const fit = fitIsolator(shown(form, Object.values(truth)), { model: form })
    const { confidence, scatter, residuals, judged, ...rest } = fit
    expect(Object.keys(confidence)).toEqual(Object.keys(truth))
    for (const [name, value] of Object.entries(truth)) {
      expect(confidence[name].value / value, name).toBeCloseTo(1, 6)
      expect((fit as never)[name], name).toBe(confidence[name].value)
    }
    const others = ['naturalFrequency', 'dampingRatio', 'stiffnessRatio', 'activeDampingRatio'] as const
    for (const name of others.filter((each) => !(each in truth))) expect(rest[name]).toBeNull()
    expect([rest.model, rest.confidenceLevel, judged]).toEqual([form, 0.95, [0.25, 29.75]])
    expect(scatter).toBeLessThan(1e-4)
    expect([residuals.frequency.length, residuals.re.length, residuals.im.length]).toEqual([119, 119, 119])
  })

  it('has intervals of value·exp(±z·s), s wider by the scatter where that is above 1', () => {
    const [quiet, loud] = [0.5, 3].map((off) => fitIsolator(shown('viscous', [4.3, 0.13], off)))
    // Off by d in the real part and not in the imaginary one: √(119 d²/(2·119 − 2)), but for the little that the fit follows
    expect(quiet.scatter).toBeCloseTo(0.5 * Math.sqrt(119 / 236), 2)
    expect(loud.scatter).toBeCloseTo(3 * Math.sqrt(119 / 236), 1)
    const error = ({ confidence }: typeof quiet) => confidence.dampingRatio.relativeError
    expect(error(loud) / error(quiet) / loud.scatter).toBeCloseTo(1, 1)
    const { value, from, to } = quiet.confidence.dampingRatio
    // 1.959964 standard deviations to either side hold 95 %, one holds 68.2689 %: tables of the normal distribution
    expect(Math.log(to / value) / error(quiet)).toBeCloseTo(1.959964, 5)
    expect(Math.log(value / from) / error(quiet)).toBeCloseTo(1.959964, 5)
    const narrow = fitIsolator(shown('viscous', [4.3, 0.13], 0.5), { confidence: 0.682689 }).confidence.dampingRatio
    expect(Math.log(narrow.to / narrow.value) / narrow.relativeError).toBeCloseTo(1, 5)
    // The residual of every other line is d or −d standard deviations of a part.
    expect(quiet.residuals.re[40] / quiet.residuals.re[41]).toBeCloseTo(-1, 1)
    expect(Math.abs(quiet.residuals.re[100])).toBeCloseTo(0.5, 2)
    expect(Math.abs(quiet.residuals.im[100])).toBeLessThan(0.01)
  })

  it('keeps the best of what several starts lead to', () => {
    // Half of a resonance at 3 Hz and half of one at 9 Hz: near either a single one leaves least, near 9 Hz less than near 3 Hz.
    const [low, high] = [3, 9].map((place) => shown('viscous', [place, 0.05]))
    const both = {
      ...low,
      re: low.re.map((value, k) => (value + high.re[k]) / 2),
      im: low.im.map((value, k) => (value + high.im[k]) / 2),
    }
    const from = (naturalFrequency: number) => fitIsolator(both, { start: { naturalFrequency, dampingRatio: 0.2 } })
    const [near, far, found] = [from(9), from(3), fitIsolator(both)]
    expect(far.naturalFrequency).toBeCloseTo(3, 0)
    expect(far.scatter).toBeGreaterThan(1.1 * near.scatter)
    expect(found.naturalFrequency).toBeCloseTo(near.naturalFrequency as number, 4)
    expect(found.scatter).toBeCloseTo(near.scatter, 6)
  })

  it('starts where it is told', () => {
    const start = { naturalFrequency: 4, dampingRatio: 0.2 }
    const fit = fitIsolator(shown('viscous', [4.3, 0.13]), { start, from: 1, to: 20 })
    expect([fit.dampingRatio, fit.judged]).toEqual([expect.closeTo(0.13, 7), [1, 20]])
  })
})
