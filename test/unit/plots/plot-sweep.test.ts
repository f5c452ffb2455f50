import { describe, expect, it } from 'vitest'
import { plotSweep, sweep } from '../../../src/index.js'
import { refusal } from '../refusal.js'
import { drawn } from './drawn.js'

const result = sweep({
  parameters: { mass: [1, 2], stiffness: [10, 20, 30], mount: ['rubber'] },
  evaluate: ({ mass, stiffness }) => {
    if (mass === 2 && stiffness === 30) throw new RangeError('too stiff')
    return { ratio: stiffness / mass, name: 'x' }
  },
})
const options = { x: 'stiffness', y: 'mass', value: 'ratio' }

describe('plotSweep', () => {
  it('maps one number over two parameters, a cell per point', () => {
    const { layer, title } = plotSweep(result, options)
    const [{ data, mark, encoding }] = layer
    expect(mark.type).toBe('rect')
    expect(data.values[1]).toEqual({ stiffness: 20, mass: 1, ratio: 20 })
    expect(data.values).toHaveLength(5)
    expect(title).toMatchObject({ text: 'ratio', subtitle: '1 point without a number' })
    expect([encoding.x?.type, encoding.y?.type, encoding.color?.scale?.scheme]).toEqual([
      'ordinal',
      'ordinal',
      'cividis',
    ])
  })

  it('shows one number over one parameter as points', () => {
    const [{ mark, data }] = plotSweep(result, { x: 'stiffness', value: 'ratio' }).layer
    expect(mark.type).toBe('point')
    expect(data.values[0]).toEqual({ stiffness: 10, ratio: 10 })
  })

  it('takes titles with units', async () => {
    const figure = plotSweep(result, { ...options, titles: { stiffness: 'Stiffness [N/m]', ratio: 'Ratio [1/s²]' } })
    expect(figure.layer[0].encoding.x?.axis?.title).toBe('Stiffness [N/m]')
    expect(figure.layer[0].encoding.y?.axis?.title).toBe('mass')
    const { warnings, svg } = await drawn(figure)
    expect(warnings).toEqual([])
    expect(svg).toContain('Ratio [1/s²]')
  })

  it('draws points without warning', async () => {
    expect((await drawn(plotSweep(result, { x: 'mass', value: 'ratio' }))).warnings).toEqual([])
  })

  it.each([
    ['no sweep', { rows: [] }, options, ''],
    ['rows that are none', { ...result, rows: [result.rows[0], 3] }, options, 'rows[1]'],
    ['a row without parameters', { ...result, rows: [{ ...result.rows[0], parameters: null }] }, options, 'rows[0]'],
    ['an unknown parameter', result, { ...options, x: 'gain' }, 'x'],
    ['an unknown second parameter', result, { ...options, y: 'gain' }, 'y'],
    ['an unknown value', result, { ...options, value: 'gain' }, 'value'],
    ['several points in a cell', result, { x: 'mass', y: 'mount', value: 'ratio' }, ''],
  ])('refuses %s', (_, given, chosen, path) => {
    const error = refusal(() => plotSweep(given as never, chosen as never))
    expect(error).toMatchObject({ code: 'invalid-option', details: { path } })
  })

  it('refuses a value without numbers', () => {
    expect(refusal(() => plotSweep(result, { ...options, value: 'name' }))).toMatchObject({ code: 'out-of-range' })
  })
})
