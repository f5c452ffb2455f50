import { describe, expect, it } from 'vitest'
import { compliance, type IsolationModel, loopMargins, transmissibility } from '../../src/isolation/index.js'
import { type ComplexSeries, channel, frequencyResponse, openLoop, stability } from '../../src/systems/index.js'
import { type Case, type Complex, cases, modelOf } from './concept-cases.js'

// 1e-9 of the modulus: five digits less than the data carry, as the contract promises for every concept.
const relative = 1e-9

describe.each(cases)('$id', (one) => {
  const model = modelOf(one)
  it('has the transmissibility of the force balance', () => {
    expectSeries(transmissibility(model, one.frequencies), one.expected.T)
  })
  if (one.expected.compliance) {
    it('has the compliance of the force balance', () => {
      expectSeries(compliance(model, one.frequencies), one.expected.compliance)
    })
  }
  if (one.expected.L) {
    it('has the loop of the force balance', () => {
      const loop = openLoop(model.diagram, model.loops[0].port)
      expectSeries(
        channel(frequencyResponse(loop, one.frequencies), { input: 'injected', output: 'returned' }),
        one.expected.L,
      )
    })
  }
  if (one.expected.reactionCompliance) {
    it('leaves the stated part of a reaction force', () => {
      const reaction = overS(mobility(model, one.frequencies, 'reactionForce'))
      expectSeries(reaction, one.expected.reactionCompliance)
      const force = mobility(model, one.frequencies, 'payloadForce')
      expectSeries(quotient(mobility(model, one.frequencies, 'reactionForce'), force), one.expected.reactionResidual)
    })
  }
  if (one.margins) {
    it('has every crossover and the modulus margin', () => {
      const expected = one.margins as NonNullable<Case['margins']>
      const found = loopMargins(model)[0].margins
      expect(found.closedLoop).toBe(expected.unstablePoles === 0 ? 'stable' : 'unstable')
      expect(found.modulusMargin).toBeCloseTo(expected.modulusMargin, 6)
      expectPairs(
        found.gainCrossovers.map((c) => [c.frequency, c.phaseMarginDegrees]),
        expected.gainCrossovers,
      )
      expectPairs(
        found.phaseCrossovers.map((c) => [c.frequency, c.gainMargin]),
        expected.phaseCrossovers,
      )
    })
  }
  it('is stable or not as stated', () => {
    const unstable = one.margins?.unstablePoles ?? one.unstablePoles ?? 0
    const verdict = stability(model.closed)
    expect(verdict.unstablePoles).toBe(unstable)
    if (unstable > 0) expect(verdict.verdict).toBe('unstable')
  })
})

function mobility(model: IsolationModel, frequencies: number[], input: string): ComplexSeries {
  return channel(frequencyResponse(model.closed, frequencies, { inputs: [input] }), {
    input,
    output: 'payloadVelocity',
  })
}

function overS({ frequency, re, im }: ComplexSeries): ComplexSeries {
  const omega = frequency.map((f) => 2 * Math.PI * f)
  return { kind: 'ComplexSeries', frequency, re: im.map((v, k) => v / omega[k]), im: re.map((v, k) => -v / omega[k]) }
}

function quotient(a: ComplexSeries, b: ComplexSeries): ComplexSeries {
  const size = b.re.map((re, k) => re * re + b.im[k] * b.im[k])
  return {
    kind: 'ComplexSeries',
    frequency: a.frequency,
    re: a.re.map((re, k) => (re * b.re[k] + a.im[k] * b.im[k]) / size[k]),
    im: a.re.map((re, k) => (a.im[k] * b.re[k] - re * b.im[k]) / size[k]),
  }
}

function expectSeries(series: ComplexSeries, expected: Complex[] | undefined): void {
  const values = expected as Complex[]
  expect(series.re.length).toBe(values.length)
  values.forEach(([re, im], k) => {
    const error = Math.hypot(series.re[k] - re, series.im[k] - im) / Math.hypot(re, im)
    expect(error, `at ${series.frequency[k]} Hz`).toBeLessThan(relative)
  })
}

function expectPairs(found: Complex[], expected: Complex[]): void {
  expect(found.length).toBe(expected.length)
  expected.forEach(([frequency, value], k) => {
    expect(Math.abs(found[k][0] / frequency - 1)).toBeLessThan(1e-6)
    expect(Math.abs(found[k][1] / value - 1)).toBeLessThan(1e-6)
  })
}
