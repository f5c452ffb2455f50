import { describe, expect, it } from 'vitest'
import { plotSettling } from '../../../src/plots/index.js'
import { refusal } from '../refusal.js'
import { drawn } from './drawn.js'
import { settling } from './invented.js'

const near = (value: unknown) => Number((value as number).toPrecision(9))

describe('plotSettling', () => {
  const figure = plotSettling(settling)
  const [whole, magnified] = figure.vconcat.map(({ layer }) => layer)

  it('shows the motion from rest in µm over time, whole and magnified fourfold around the band', () => {
    const [, , line] = whole
    expect(line.data.values.map(({ time, displacement }) => [time, near(displacement)])).toEqual([
      [0, -1],
      [1, 8],
      [2, -6],
      [3, -1.5],
    ])
    expect(line.encoding.x?.axis?.title).toBe('Time from the start of the move [s]')
    expect([whole, magnified].map((layer) => layer[2].encoding.y?.axis?.title)).toEqual([
      'Motion [µm]',
      'Motion near the band [µm]',
    ])
    expect(magnified[2].encoding.y?.scale?.domain?.map(near)).toEqual([-8, 8])
    expect(magnified[2].data).toEqual(line.data)
  })

  it('rules the band, the end of the move and marks the last exit on the side where it happens', () => {
    const [band, end, , exit] = whole
    expect(band.data.values.map(({ displacement }) => near(displacement))).toEqual([-2, 2])
    expect(end.data.values).toEqual([{ time: 1.5 }])
    expect(exit.data.values.map(({ time, displacement }) => [time, near(displacement)])).toEqual([[2.5, -2]])
  })

  it('marks an exit on the upper side, also one proved to come after the record', () => {
    const exit = (change: object) => plotSettling({ ...settling, ...change }).vconcat[0].layer[3].data.values
    expect(exit({ displacement: Float64Array.of(0, 9e-6, 5e-6, 3.5e-6) }).map((row) => near(row.displacement))).toEqual(
      [2],
    )
    expect(exit({ settlingTimeFromStart: 5 })).toMatchObject([{ time: 5 }])
  })

  it('says when it settled', () => {
    expect(figure.title.subtitle).toBe('settled 1 s after the move')
    const never = { ...settling, settlingTime: null, settlingTimeFromStart: null }
    const { title, vconcat } = plotSettling({ damped: settling, free: never })
    expect(title.subtitle).toBe('damped: settled 1 s after the move; free: not settled')
    expect(vconcat[0].layer[3].data.values).toHaveLength(1)
    expect(plotSettling(never).vconcat[0].layer).toHaveLength(3)
  })

  it('is drawn without warning, one line per result and panel', async () => {
    const { warnings, lines, svg } = await drawn(plotSettling({ a: settling, b: { ...settling, band: 3e-6 } }))
    expect(warnings).toEqual([])
    expect(lines).toHaveLength(4)
    expect(svg).not.toContain('NaN')
  })

  it('thins a long record and keeps its extremes', () => {
    const time = Float64Array.from({ length: 100_000 }, (_, k) => k / 1000)
    const displacement = time.map((t) => 1e-6 + 1e-6 * Math.sin(50 * t))
    displacement[54_321] = 77e-6
    displacement[12_345] = -33e-6
    const [, , line] = plotSettling({ ...settling, time, displacement }, { width: 100 }).vconcat[0].layer
    const drawnTimes = line.data.values.map((row) => row.time as number)
    // at most first, last and both extremes of each of 100 columns
    expect(drawnTimes.length).toBeLessThanOrEqual(400)
    expect(drawnTimes).toEqual([...drawnTimes].sort((a, b) => a - b))
    const levels = line.data.values.map((row) => near(row.displacement))
    expect([Math.min(...levels), Math.max(...levels)]).toEqual([-34, 76])
    expect([drawnTimes[0], drawnTimes.at(-1)]).toEqual([0, 99.999])
  })

  it.each([
    ['nothing', undefined, {}, 'invalid-option', ''],
    ['a result of another kind', { a: { kind: 'Spectrum' } }, {}, 'invalid-option', 'a'],
    ['NaN', { ...settling, displacement: Float64Array.of(0, NaN, 0, 0) }, {}, 'not-finite', 'displacement[1]'],
    ['lists of two lengths', { ...settling, displacement: [0] }, {}, 'dimension-mismatch', 'displacement'],
    ['a band of 0', { ...settling, band: 0 }, {}, 'out-of-range', 'band'],
    ['an empty record', { ...settling, time: [], displacement: [] }, {}, 'out-of-range', ''],
    ['an unknown option', settling, { band: 1 }, 'invalid-option', 'band'],
    ['a width in words', settling, { width: 'full' }, 'invalid-option', 'width'],
  ])('refuses %s', (_, given, options, code, path) => {
    const error = refusal(() => plotSettling(given as never, options as never))
    expect([error.code, error.details.path, error.details.function]).toEqual([code, path, 'plotSettling'])
  })
})
