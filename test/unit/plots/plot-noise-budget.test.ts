import { describe, expect, it } from 'vitest'
import { plotNoiseBudget } from '../../../src/plots/index.js'
import { refusal } from '../refusal.js'
import { drawn } from './drawn.js'
import { noise as budget, list, points } from './invented.js'

describe('plotNoiseBudget', () => {
  const figure = plotNoiseBudget(budget)
  const [densities, running] = figure.vconcat.map(({ layer }) => layer[0])

  it('has one panel of amplitude densities and one of running rms, with units', () => {
    const titles = [densities, running].map(({ encoding }) => [encoding.x?.axis?.title, encoding.y?.axis?.title])
    expect(titles).toEqual([
      ['Frequency [Hz]', 'Density [(µm/s)/√Hz]'],
      ['Frequency [Hz]', 'Running rms [µm/s]'],
    ])
    expect(densities.encoding.y?.scale?.type).toBe('log')
  })

  it('shows √S of the total and of every source in µm/s', () => {
    // √(25e-12) m/s = 5 µm/s and so on
    const rounded = densities.data.values.map(({ name, density }) => [
      name,
      Number((density as number).toPrecision(12)),
    ])
    expect(rounded).toEqual([
      ['total', 5],
      ['total', 2],
      ['total', 1],
      ['floor', 4],
      ['floor', 2],
      ['floor', 1],
      ['lower sensor noise', 3],
    ])
  })

  it('shows the running rms up to where it is 0', () => {
    expect(running.data.values).toHaveLength(5)
    expect(running.data.values[0]).toEqual({ name: 'total', frequency: 1, rms: 5 })
  })

  it('says what it leaves out, what is unknown and where control does harm', () => {
    expect(figure.title.subtitle).toBe('2 points left out: no density')
    const { subtitle } = plotNoiseBudget({
      ...budget,
      unknown: ['actuatorNoise'],
      worseThanPassive: [[0.31623, 0.6]],
    }).title
    expect(subtitle).toBe(
      '2 points left out: no density; actuator noise unknown; worse than without control: 0.316 to 0.6 Hz',
    )
  })

  it('draws a line per source in both panels, one legend, without warning', async () => {
    const { warnings, lines, svg } = await drawn(figure)
    expect(warnings).toEqual([])
    expect(lines).toHaveLength(6)
    expect(svg.match(/>lower sensor noise<\/text>/g)).toHaveLength(1)
    expect(svg).not.toContain('NaN')
  })

  it.each([
    ['a spectrum', budget.total, {}, 'invalid-option', ''],
    ['nothing', undefined, {}, 'invalid-option', ''],
    [
      'a budget of silence',
      { ...budget, total: points(0, 0), contributions: {}, runningRms: { total: [0, 0], contributions: {} } },
      {},
      'out-of-range',
      '',
    ],
    [
      'densities and frequencies that do not fit',
      { ...budget, total: { ...budget.total, density: list(1, 2) } },
      {},
      'dimension-mismatch',
      'total',
    ],
    ['an unknown option', budget, { total: 'hidden' }, 'invalid-option', 'total'],
  ])('refuses %s', (_, given, options, code, path) => {
    const error = refusal(() => plotNoiseBudget(given as never, options as never))
    expect([error.code, error.details.path, error.details.function]).toEqual([code, path, 'plotNoiseBudget'])
  })
})
