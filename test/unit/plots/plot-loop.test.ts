import { describe, expect, it } from 'vitest'
import { channel, frequencyResponse, logFrequencies, margins, plotLoop, transferFunction } from '../../../src/index.js'
import { refusal } from '../refusal.js'
import { drawn } from './drawn.js'

// L = 1/(s(s + 1)²): gain margin 2 at 1 rad/s, crossover at 0.68232780 rad/s with 21.386390° (closed form; Åström and
// Murray, Feedback Systems, 2008, section 9.3 for the definitions)
const loop = transferFunction({ numerator: [1], denominator: [1, 2, 1, 0] })
const grid = logFrequencies({ from: 0.01, to: 1, count: 100 })
const response = channel(frequencyResponse(loop, grid), { input: 'u1', output: 'y1' })

describe('plotLoop', () => {
  it('shows magnitude above phase over the same axis of frequency', () => {
    const { vconcat } = plotLoop(response)
    expect(vconcat.map(({ layer }) => layer[1].encoding.y?.field)).toEqual(['magnitude', 'phase'])
    expect(vconcat.map(({ layer }) => layer[1].encoding.y?.scale?.type)).toEqual(['log', 'linear'])
    expect(vconcat.map(({ layer }) => layer[0].data.values)).toEqual([[{ magnitude: 1 }], [{ phase: -180 }]])
  })

  it('unwraps the phase of the samples', () => {
    const [, { layer }] = plotLoop(response).vconcat
    const phase = layer[1].data.values.map((row) => row.phase as number)
    expect(phase[0]).toBeLessThan(-90)
    expect(phase[phase.length - 1]).toBeLessThan(-240)
    expect(phase.every((value, k) => k === 0 || value < phase[k - 1])).toBe(true)
  })

  it('marks every crossover at its height in both areas', () => {
    const { vconcat } = plotLoop(response, { margins: margins(loop) })
    const [gain, phase] = [2, 3].map((k) => vconcat.map(({ layer }) => layer[k].data.values[0]))
    expect(gain[0]).toEqual(gain[1])
    expect(gain[0].frequency).toBeCloseTo(0.6823278 / (2 * Math.PI), 6)
    expect(gain[0]).toMatchObject({ magnitude: 1 })
    expect(gain[0].phase).toBeCloseTo(21.38639 - 180, 4)
    expect(phase[0].frequency).toBeCloseTo(1 / (2 * Math.PI), 6)
    expect(phase[0].magnitude).toBeCloseTo(0.5, 6)
    expect(phase[0].phase).toBe(-180)
  })

  it('marks a crossover on the turn that is drawn', () => {
    const late = transferFunction({ numerator: [8], denominator: [1, 5, 10, 10, 5, 1] })
    const samples = channel(frequencyResponse(late, logFrequencies({ from: 0.001, to: 10, count: 300 })), {
      input: 'u1',
      output: 'y1',
    })
    const [, { layer }] = plotLoop(samples, { margins: margins(late) }).vconcat
    const drawnPhase = layer[1].data.values
    for (const mark of layer.slice(2).flatMap(({ data }) => data.values)) {
      const beside = drawnPhase.find((row) => (row.frequency as number) >= (mark.frequency as number))
      expect(Math.abs((beside?.phase as number) - (mark.phase as number))).toBeLessThan(10)
    }
  })

  it('counts crossovers outside the samples', () => {
    const low = channel(frequencyResponse(loop, [0.01, 0.02]), { input: 'u1', output: 'y1' })
    const { vconcat, title } = plotLoop(low, { margins: margins(loop) })
    expect(vconcat[0].layer).toHaveLength(2)
    expect(title.subtitle).toBe('2 crossovers outside the range shown')
    const high = channel(frequencyResponse(loop, [1, 2]), { input: 'u1', output: 'y1' })
    expect(plotLoop(high, { margins: margins(loop) }).title.subtitle).toBe('2 crossovers outside the range shown')
  })

  it('draws several loops without warning', async () => {
    const { warnings, lines, svg } = await drawn(
      plotLoop({ main: response, other: response }, { margins: { main: margins(loop) } }),
    )
    expect(warnings).toEqual([])
    expect(lines).toHaveLength(4)
    expect(svg).not.toContain('NaN')
  })

  it.each([
    ['no margins', { margins: 3 }, 'margins'],
    ['another record', { margins: response }, 'margins.kind'],
    ['margins of a loop that is not there', { margins: { other: margins(loop) } }, 'margins.other'],
    ['an unknown option', { marks: 1 }, 'marks'],
  ])('refuses %s', (_, options, path) => {
    expect(refusal(() => plotLoop(response, options as never))).toMatchObject({
      code: 'invalid-option',
      details: { path },
    })
  })
})
