import { describe, expect, it } from 'vitest'
import { type ComplexResult, plotTransmissibility } from '../../../src/plots/index.js'
import type { ComplexSeries } from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'
import { drawn, schemaFaults } from './drawn.js'

function series(frequency: number[], re: number[], im: number[] = re.map(() => 0)): ComplexSeries {
  const [f, real, imaginary] = [frequency, re, im].map((list) => Float64Array.from(list))
  return { kind: 'ComplexSeries', frequency: f, re: real, im: imaginary }
}

const simple = series([1, 10, 100], [3, 0.6, -0.01], [4, 0.8, 0])
const names = (count: number) => Object.fromEntries(Array.from({ length: count }, (_, i) => [`line ${i}`, simple]))

describe('plotTransmissibility', () => {
  it('is a specification of Vega-Lite 6 with logarithmic axes in hertz and without unit', () => {
    const { $schema, title, layer } = plotTransmissibility(simple)
    const [, { encoding }] = layer
    // Vega-Lite, schema of version 6 (open standard of the grammar)
    expect($schema).toBe('https://vega.github.io/schema/vega-lite/v6.json')
    expect(title.text).toBe('Transmissibility')
    expect([encoding.x?.axis?.title, encoding.x?.scale?.type]).toEqual(['Frequency [Hz]', 'log'])
    expect([encoding.y?.axis?.title, encoding.y?.scale?.type]).toEqual(['Transmissibility [-]', 'log'])
  })

  it('shows |T| over frequency', () => {
    // 3-4-5 triangle: |3 + 4i| = 5, |0.6 + 0.8i| = 1
    expect(plotTransmissibility(simple).layer[1].data.values).toEqual([
      { name: '', frequency: 1, transmissibility: 5 },
      { name: '', frequency: 10, transmissibility: 1 },
      { name: '', frequency: 100, transmissibility: 0.01 },
    ])
  })

  it('rules a line at 1', () => {
    const [{ data, mark, encoding }] = plotTransmissibility(simple).layer
    expect([data.values, mark.type, encoding.y?.field]).toEqual([[{ transmissibility: 1 }], 'rule', 'transmissibility'])
  })

  it('draws one line without legend for one result, without warning', async () => {
    const figure = plotTransmissibility(simple)
    expect(figure.layer[1].encoding.color?.legend).toBeNull()
    const { warnings, lines, svg } = await drawn(figure)
    expect(warnings).toEqual([])
    expect(lines).toHaveLength(1)
    expect(svg).not.toContain('NaN')
  })

  it('draws one line per name, apart in colour and in dash, with a legend', async () => {
    const figure = plotTransmissibility({ passive: simple, active: series([1, 10], [1, 2]), empty: series([], []) })
    const { color, strokeDash } = figure.layer[1].encoding
    expect(color?.scale?.domain).toEqual(['passive', 'active', 'empty'])
    // M. Okabe, K. Ito, Color universal design, 2008: blue, vermillion, bluish green
    expect(color?.scale?.range).toEqual(['#0072B2', '#D55E00', '#009E73'])
    expect(strokeDash?.scale?.range).toEqual([[], [8, 3], [2, 2]])
    const { warnings, lines, svg } = await drawn(figure)
    expect(warnings).toEqual([])
    expect(lines).toHaveLength(2)
    for (const name of ['passive', 'active', 'empty']) expect(svg).toContain(`>${name}</text>`)
  })

  it('keeps 56 lines apart, eight of them without colour', async () => {
    const { color, strokeDash } = plotTransmissibility(names(56)).layer[1].encoding
    const colours = color?.scale?.range ?? []
    const dashes = strokeDash?.scale?.range ?? []
    expect(new Set(colours.map((colour, i) => `${colour} ${dashes[i]}`)).size).toBe(56)
    expect(new Set(dashes.slice(0, 8).map(String)).size).toBe(8)
    const { warnings, lines } = await drawn(plotTransmissibility(names(56)))
    expect(warnings).toEqual([])
    expect(lines).toHaveLength(56)
  })

  it('leaves out what a logarithmic axis cannot show, and says how much', () => {
    const { layer, title } = plotTransmissibility(series([0, 1, 2, 3, 4], [1, 1, 0, Infinity, 2]))
    expect(layer[1].data.values.map(({ frequency }) => frequency)).toEqual([1, 4])
    expect(title.subtitle).toBe('3 points left out: not on a logarithmic axis')
    expect(plotTransmissibility(series([0, 1], [1, 1])).title.subtitle).toBe(
      '1 point left out: not on a logarithmic axis',
    )
    expect(plotTransmissibility(simple).title.subtitle).toBeUndefined()
  })

  it('takes an estimate as well as a computed response', () => {
    const estimate = { ...simple, kind: 'TransferEstimate' } as unknown as ComplexResult
    const { values } = plotTransmissibility({ measured: estimate, computed: simple }).layer[1].data
    expect(values).toHaveLength(6)
  })

  it('has the title and the size asked for', () => {
    const options = { title: 'Optical table', axisTitle: 'Share left [-]', width: 300, height: 200 }
    const { title, width, height, layer } = plotTransmissibility(simple, options)
    expect([title.text, width, height]).toEqual(['Optical table', 300, 200])
    expect(layer.map(({ encoding }) => encoding.y?.axis?.title)).toEqual(['Share left [-]', 'Share left [-]'])
  })

  it('would show in a test if the grammar had something to warn of', async () => {
    const figure = plotTransmissibility(simple)
    const [rule, line] = figure.layer
    const x = { field: 'frequency', type: 'quantitative', scale: { type: 'log', zero: true } } as const
    const { warnings } = await drawn({ ...figure, layer: [rule, { ...line, encoding: { ...line.encoding, x } }] })
    expect(warnings).toHaveLength(1)
  })

  it('would show in a test if it broke the schema of the grammar', () => {
    const figure = plotTransmissibility(simple)
    expect(schemaFaults(figure)).toEqual([])
    expect(schemaFaults({ ...figure, width: 'wide' })).not.toEqual([])
  })

  it('is plain data of its own', () => {
    const before = structuredClone(simple)
    const figure = plotTransmissibility(simple)
    expect(JSON.parse(JSON.stringify(figure))).toEqual(figure)
    expect(simple).toEqual(before)
  })
})

describe('plotTransmissibility refuses', () => {
  const bad = { a: simple, b: { ...simple, re: Float64Array.of(1, NaN, 1) } }
  it.each([
    ['nothing', undefined, {}, 'invalid-option', ''],
    ['a list', [simple], {}, 'invalid-option', ''],
    ['no result', {}, {}, 'out-of-range', ''],
    ['57 results', names(57), {}, 'out-of-range', ''],
    ['a result of another kind', { floor: { kind: 'Spectrum' } }, {}, 'invalid-option', 'floor.kind'],
    ['null for a result', { floor: null }, {}, 'invalid-option', 'floor'],
    ['NaN', bad, {}, 'not-finite', 'b.re[1]'],
    ['parts of another length', { a: { ...simple, im: Float64Array.of(1) } }, {}, 'dimension-mismatch', 'a.im'],
    ['a frequency below 0', series([-1, 1], [1, 1]), {}, 'out-of-range', 'frequency[0]'],
    ['nothing to show', series([0, 1], [1, 0]), {}, 'out-of-range', ''],
    ['an empty series', series([], []), {}, 'out-of-range', ''],
    ['an unknown option', simple, { color: 'red' }, 'invalid-option', 'color'],
    ['an axis title that is no text', simple, { axisTitle: 3 }, 'invalid-option', 'axisTitle'],
    ['a title that is no text', simple, { title: 3 }, 'invalid-option', 'title'],
    ['a width of 0', simple, { width: 0 }, 'out-of-range', 'width'],
  ])('%s', (_, results, options, code, path) => {
    const error = refusal(() => plotTransmissibility(results as never, options as never))
    expect([error.code, error.details.path, error.details.function]).toEqual([code, path, 'plotTransmissibility'])
  })
})

describe('a measured transmissibility', () => {
  const estimate = {
    ...simple,
    kind: 'TransferEstimate',
    randomError: Float64Array.of(0.1, Infinity, 0.5),
  } as unknown as ComplexResult

  it('stands on the range of two standard deviations, none where there is no finite one', () => {
    const [, area] = plotTransmissibility({
      model: simple,
      measured: estimate,
    }).layer
    expect(area.mark.type).toBe('area')
    // 5/1.2 and 5·1.2; 0.01/2 and 0.01·2
    expect(area.data.values.map(({ low, high }) => [low, high])).toEqual([
      [5 / 1.2, 6],
      [0.005, 0.02],
    ])
  })

  it('is drawn beside the model without warning', async () => {
    const figure = plotTransmissibility({ model: simple, measured: estimate })
    const { warnings, lines, svg } = await drawn(figure)
    expect(warnings).toEqual([])
    expect(lines).toHaveLength(2)
    expect(svg).not.toContain('NaN')
  })
})
