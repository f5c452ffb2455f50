import { describe, expect, it } from 'vitest'
import { plotBands } from '../../../src/plots/index.js'
import { type BandsLiteral, criterion, oneThirdOctaveBands } from '../../../src/vibration/index.js'
import { refusal } from '../refusal.js'
import { drawn } from './drawn.js'

const velocity = (...bands: [nominal: number, rms: number][]): BandsLiteral => ({
  quantity: 'velocity',
  bands: bands.map(([nominal, rms]) => ({ nominal, rms })),
})
const simple = velocity([8, 5e-6], [10, 7.5e-6])

describe('plotBands', () => {
  it('has logarithmic axes in hertz and micrometres per second', () => {
    const { encoding } = plotBands(simple).layer[0]
    expect([encoding.x?.axis?.title, encoding.x?.scale?.type]).toEqual(['Frequency [Hz]', 'log'])
    const title = 'Velocity, rms in one-third octaves [µm/s]'
    expect([encoding.y?.axis?.title, encoding.y?.scale?.type]).toEqual([title, 'log'])
  })

  it('draws each band from edge to edge', () => {
    // IEC 61260-1:2014, equations 4 and 5: edges 10^(n/10 ± 1/20) Hz, here n = 9 and 10
    const { values } = plotBands(simple).layer[0].data
    expect(values.map(({ velocity: v }) => v)).toEqual([5, 5, 7.5, 7.5])
    const frequency = values.map(({ frequency: f }) => f as number)
    for (const [i, expected] of [7.0794578438, 8.9125093813, 8.9125093813, 11.220184543].entries()) {
      expect(frequency[i]).toBeCloseTo(expected, 9)
    }
  })

  it('draws one staircase per name and one per criterion, with its name, without warning', async () => {
    const spectrum = { quantity: 'velocity', frequency: [0.5, 100], density: [1e-12, 1e-12] } as const
    const floor = oneThirdOctaveBands(spectrum, { from: 1, to: 80 })
    const { warnings, lines, svg } = await drawn(plotBands({ floor, payload: simple }, { criterion: ['VC-C', 'VC-D'] }))
    expect(warnings).toEqual([])
    // Two results; then, in a layer of their own, two criteria.
    expect(lines).toHaveLength(4)
    for (const name of ['floor', 'payload', 'VC-C', 'VC-D']) expect(svg).toContain(`>${name}</text>`)
    expect(svg).not.toContain('NaN')
  })

  it('draws a criterion at its values', () => {
    // H. Amick et al., Proc. SPIE 5933 (2005): VC-D is 6.25 µm/s rms from 1 to 80 Hz
    const [, limit, label] = plotBands(simple, { criterion: 'VC-D' }).layer
    expect(new Set(limit.data.values.map(({ velocity: v }) => v))).toEqual(new Set([6.25]))
    expect(limit.data.values).toHaveLength(40)
    expect([label.mark.type, label.data.values.map(({ name }) => name)]).toEqual(['text', ['VC-D']])
    expect(plotBands(simple, { criterion: criterion('VC-D') })).toEqual(plotBands(simple, { criterion: 'VC-D' }))
  })

  it('breaks the staircase where a band is missing', async () => {
    const figure = plotBands(velocity([4, 1e-6], [5, 1e-6], [8, 2e-6]))
    expect(figure.layer[0].data.values.map(({ piece }) => piece)).toEqual(['0.0', '0.0', '0.0', '0.0', '0.1', '0.1'])
    const { warnings, lines } = await drawn(figure)
    expect(warnings).toEqual([])
    expect(lines).toHaveLength(2)
  })

  it('dots bands that rest on too little, and counts them', async () => {
    const bands = [
      { nominal: 4, rms: 1e-6, flags: ['few-lines'] as const },
      { nominal: 5, rms: 1e-6 },
      { nominal: 6.3, rms: 2e-6, flags: [] },
    ]
    const figure = plotBands({ quantity: 'velocity', bands })
    expect(figure.layer.map(({ mark, data }) => [mark.strokeDash, data.values.length])).toEqual([
      [undefined, 4],
      [[1, 3], 2],
    ])
    expect(figure.title.subtitle).toBe('1 band dotted: few lines or a short record')
    expect((await drawn(figure)).warnings).toEqual([])
  })

  it('draws the noise of the sensor as one area, flagged or not, which is no doubt about the bands', () => {
    const noise = {
      quantity: 'velocity',
      bands: [
        { nominal: 8, rms: 1e-7, flags: ['few-lines'] as const },
        { nominal: 10, rms: 1e-7 },
      ],
    } as const
    const figure = plotBands(simple, { sensorNoise: noise })
    const [area] = figure.layer.filter(({ mark }) => mark.type === 'area')
    expect(new Set(area?.data.values.map(({ piece }) => piece))).toEqual(new Set(['0.0']))
    expect(figure.title.subtitle).toBeUndefined()
  })

  it('leaves out bands without level and says how many', () => {
    const { layer, title } = plotBands({ a: velocity([4, 0], [5, 1e-6]), b: velocity([4, 0], [5, 0], [6.3, 1e-6]) })
    expect(layer[0].data.values).toHaveLength(4)
    expect(title.subtitle).toBe('3 bands left out: no level')
  })

  it('draws the noise of the sensor as a grey area down to a whole decade, with its name, without warning', async () => {
    const figure = plotBands(simple, { sensorNoise: velocity([8, 2e-7], [10, 3e-8]) })
    const [area, label] = figure.layer
    expect([area.mark.type, label.data.values.map(({ name }) => name)]).toEqual(['area', ['sensor noise']])
    // 0.2 and 0.03 µm/s; the decade beneath 0.03 is 0.01
    const corners = area.data.values.map(({ velocity: v, least }) => [v as number, least as number])
    for (const [k, [high, low]] of corners.entries()) {
      expect([high, low]).toEqual([expect.closeTo(k < 2 ? 0.2 : 0.03, 12), expect.closeTo(0.01, 12)])
    }
    expect(corners).toHaveLength(4)
    const { warnings, svg } = await drawn(figure)
    expect(warnings).toEqual([])
    expect(svg.match(/<path[^>]*aria-roledescription="area mark"/g)).toHaveLength(1)
  })

  it('takes bands in any order and leaves them as they are', () => {
    const backwards = velocity([10, 7.5e-6], [8, 5e-6])
    const before = structuredClone(backwards)
    expect(plotBands(backwards)).toEqual(plotBands(simple))
    expect(backwards).toEqual(before)
  })
})

describe('plotBands refuses', () => {
  it.each([
    ['nothing', null, {}, 'invalid-option', ''],
    ['bands of acceleration', { ...simple, quantity: 'acceleration' }, {}, 'unsupported', 'quantity'],
    ['one of them of acceleration', { a: { ...simple, quantity: 'acceleration' } }, {}, 'unsupported', 'a.quantity'],
    ['a frequency that is no band', velocity([8.3, 1]), {}, 'invalid-option', 'bands[0].nominal'],
    ['a level that is not finite', velocity([8, NaN]), {}, 'not-finite', 'bands[0].rms'],
    ['nothing to show', velocity([8, 0]), {}, 'out-of-range', ''],
    ['an unknown criterion', simple, { criterion: 'VC-Z' }, 'invalid-option', 'criterion'],
    ['one of several unknown', simple, { criterion: ['VC-A', 'VC-Z'] }, 'invalid-option', 'criterion'],
    [
      'noise of acceleration',
      simple,
      { sensorNoise: { ...simple, quantity: 'acceleration' } },
      'unsupported',
      'sensorNoise.quantity',
    ],
    ['an unknown option', simple, { limit: 'VC-A' }, 'invalid-option', 'limit'],
  ])('%s', (_, results, options, code, path) => {
    const error = refusal(() => plotBands(results as never, options as never))
    expect([error.code, error.details.path, error.details.function]).toEqual([code, path, 'plotBands'])
  })
})
