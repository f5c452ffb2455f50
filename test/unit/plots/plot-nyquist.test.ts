import { describe, expect, it } from 'vitest'
import { plotNyquist } from '../../../src/plots/index.js'
import { channel, frequencyResponse, logFrequencies, transferFunction } from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'
import { drawn } from './drawn.js'

const grid = logFrequencies({ from: 0.01, to: 100, count: 200 })
const loop = transferFunction({ numerator: [4], denominator: [1, 2, 2, 1] })
const simple = channel(frequencyResponse(loop, grid), { input: 'u1', output: 'y1' })
const points = (...list: [re: number, im: number][]) => ({
  kind: 'ComplexSeries' as const,
  frequency: Float64Array.from(list, (_, k) => k),
  re: Float64Array.from(list, ([re]) => re),
  im: Float64Array.from(list, ([, im]) => im),
})

describe('plotNyquist', () => {
  it('has the same linear scale on both axes', () => {
    const { width, height, layer } = plotNyquist(simple)
    expect([width, height]).toEqual([420, 420])
    for (const { encoding } of layer) {
      expect(encoding.x?.scale).toEqual({ type: 'linear', domain: [-3, 3], nice: false, zero: false })
      expect(encoding.y?.scale).toEqual(encoding.x?.scale)
      expect([encoding.x?.axis?.title, encoding.y?.axis?.title]).toEqual(['Real part [-]', 'Imaginary part [-]'])
    }
  })

  it('marks −1 and a circle around it', () => {
    const [circle, mark] = plotNyquist(simple).layer
    expect(mark.data.values).toEqual([{ re: -1, im: 0 }])
    const distance = circle.data.values.map(({ re, im }) => Math.hypot((re as number) + 1, im as number))
    expect(distance).toHaveLength(121)
    // common practice, no source: least modulus margin 0.5
    for (const value of distance) expect(value).toBeCloseTo(0.5, 14)
    const [wide] = plotNyquist(simple, { modulusMargin: 0.7 }).layer
    expect(wide.data.values[0].re).toBeCloseTo(-0.3, 14)
  })

  it('draws every loop in the order of frequency, with the circle, without warning', async () => {
    const figure = plotNyquist({ first: simple, second: points([2, 0], [0, -1], [-2, 0.5], [0, 0]) })
    expect(figure.layer[2].encoding.order).toEqual({ field: 'frequency', type: 'quantitative' })
    expect(figure.layer[2].data.values).toHaveLength(204)
    const { warnings, lines, svg } = await drawn(figure)
    expect(warnings).toEqual([])
    expect(lines).toHaveLength(3)
    // 420 px for −3..3: the second loop visits (2, 0), (0, −1), (−2, 0.5) and the origin, y downwards.
    expect(lines[2]).toBe('M350,210L210,280L70,175L210,210')
    expect(svg).not.toContain('NaN')
  })

  it('clips to the window and counts what is outside', () => {
    const { layer, title } = plotNyquist(points([0, -1e5], [0, -3.1], [0, -3], [0, -1]))
    expect(layer.filter(({ mark }) => mark.type === 'line').map(({ mark }) => mark.clip)).toEqual([true, true])
    expect(layer[2].data.values).toHaveLength(4)
    expect(title.subtitle).toBe('circle: modulus margin 0.5; 2 points outside the window')
    expect(plotNyquist(points([0, -3.1], [1, 1]), { reach: 4 }).title.subtitle).toBe('circle: modulus margin 0.5')
  })

  it('leaves out what no renderer can place, and counts that apart', () => {
    const { layer, title } = plotNyquist(points([0, -Infinity], [1e300, 0], [0, -10], [0, -1]))
    expect(layer[2].data.values).toHaveLength(2)
    expect(title.subtitle).toBe(
      'circle: modulus margin 0.5; 1 point outside the window; 2 points left out: too far away',
    )
  })
})

describe('plotNyquist refuses', () => {
  it.each([
    ['nothing', undefined, {}, 'invalid-option', ''],
    ['a whole response', frequencyResponse(loop, grid), {}, 'invalid-option', 'kind'],
    ['NaN', points([NaN, 0]), {}, 'not-finite', 're[0]'],
    ['nothing to show', points([Infinity, 0]), {}, 'out-of-range', ''],
    ['a circle of no size', simple, { modulusMargin: 0 }, 'out-of-range', 'modulusMargin'],
    ['a circle around the origin', simple, { modulusMargin: 1.1 }, 'out-of-range', 'modulusMargin'],
    ['a window without −1', simple, { reach: 1 }, 'out-of-range', 'reach'],
    ['a window that is not square', simple, { height: 300 }, 'invalid-option', 'height'],
    ['a width in words', simple, { width: 'full' }, 'invalid-option', 'width'],
  ])('%s', (_, results, options, code, path) => {
    const error = refusal(() => plotNyquist(results as never, options as never))
    expect([error.code, error.details.path, error.details.function]).toEqual([code, path, 'plotNyquist'])
  })
})
