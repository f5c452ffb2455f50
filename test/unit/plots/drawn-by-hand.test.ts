import { describe, expect, it } from 'vitest'
import {
  plotBands,
  plotLoop,
  plotModes,
  plotNoiseBudget,
  plotNyquist,
  plotSettling,
  plotSweep,
  plotTransmissibility,
} from '../../../src/plots/index.js'
import { thinned } from '../../../src/plots/thinned.js'
import type { ComplexSeries, Margins } from '../../../src/systems/index.js'
import { list, mode, noise, settling, sweepOf, velocity } from './invented.js'

const near = (value: unknown) => Number((value as number).toPrecision(9))

describe('a long line', () => {
  it('keeps the first, the last and both extremes of each column of pixels', () => {
    // 18 samples on two columns: 0 to 8 and 9 to 17
    const values = [0, 1, 5, 2, 5, -3, 1, -3, 0, 7, 6, 5, 4, 3, 2, 1, 0, -1]
    expect(thinned(values, 2)).toEqual([0, 2, 5, 8, 9, 17])
    // 13 on three: 0 to 3, 4 to 7, 8 to 12
    expect(thinned([3, 9, 0, 3, 3, 0, 9, 3, 1, 2, 3, 9, 2], 3)).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 11, 12])
  })

  it('is kept whole as long as there are four samples to a column', () => {
    expect(thinned([1, 1, 1, 1, 1, 1, 1, 1], 2)).toEqual([0, 1, 2, 3, 4, 5, 6, 7])
    expect(thinned([1, 1, 1, 1, 1, 1, 1, 1, 1], 2)).toEqual([0, 3, 4, 8])
  })
})

describe('a crossover', () => {
  // Turns −170°, −190°, −350°, −370° of magnitude 4, 2, 1, 0.5 at 1, 2, 4, 8 Hz
  const turns = [-170, -190, -350, -370].map((degrees) => (degrees * Math.PI) / 180)
  const size = [4, 2, 1, 0.5]
  const loop: ComplexSeries = {
    kind: 'ComplexSeries',
    frequency: list(1, 2, 4, 8),
    re: Float64Array.from(turns, (angle, k) => size[k] * Math.cos(angle)),
    im: Float64Array.from(turns, (angle, k) => size[k] * Math.sin(angle)),
  }
  const marks = (gain: [number, number][], phase: [number, number][]) => {
    const margins = {
      kind: 'Margins',
      gainCrossovers: gain.map(([frequency, phaseMarginDegrees]) => ({ frequency, phaseMarginDegrees })),
      phaseCrossovers: phase.map(([frequency, gainMargin]) => ({ frequency, gainMargin })),
    } as unknown as Margins
    const { vconcat, title } = plotLoop(loop, { margins })
    const rows = vconcat[1].layer.slice(2).flatMap(({ data }) => data.values)
    return [rows.map((row) => [row.crossover, row.frequency, row.magnitude, row.phase]), title.subtitle]
  }

  it('stands on the turn of the next sample', () => {
    // a phase margin of 10° is −170° or, a turn further down, −530°, of 170° it is −10° or −370°
    expect(marks([[4, -170]], [])).toEqual([[['gain', 4, 1, -350]], undefined])
    expect(marks([[8, 170]], [])).toEqual([[['gain', 8, 1, -370]], undefined])
    expect(marks([], [[1.5, 0.25]])).toEqual([[['phase', 1.5, 4, -180]], undefined])
  })

  it('is drawn at the first sample and at the last, and not beyond', () => {
    expect(marks([[1, 10]], [])).toEqual([[['gain', 1, 1, -170]], undefined])
    expect(marks([[0.999, 10]], [])).toEqual([[], '1 crossover outside the range shown'])
    expect(marks([[8.001, 10]], [[9, 2]])).toEqual([[], '2 crossovers outside the range shown'])
  })
})

describe('a loop', () => {
  it('leaves out what a logarithmic axis cannot show, of each line', () => {
    const part: ComplexSeries = {
      kind: 'ComplexSeries',
      frequency: list(0, 1, 2, 3),
      re: list(1, 0, Infinity, -2),
      im: list(0, 0, 0, 0),
    }
    const { vconcat, title } = plotLoop({ a: part, b: part })
    const { values } = vconcat[0].layer[1].data
    expect(values.map(({ name, frequency, magnitude }) => [name, frequency, magnitude])).toEqual([
      ['a', 3, 2],
      ['b', 3, 2],
    ])
    for (const { phase } of values) expect(Math.abs(phase as number)).toBe(180)
    expect(title.subtitle).toBe('6 points left out: not on a logarithmic axis')
  })

  it('in the plane is far where either part is', () => {
    const frequency = list(1, 2, 3, 4)
    const counted = (re: Float64Array, im: Float64Array) =>
      plotNyquist({ kind: 'ComplexSeries', frequency, re, im }).title.subtitle
    expect(counted(list(-4, 0, 0, 3), list(0, 0, 4, 3))).toBe('circle: modulus margin 0.5; 2 points outside the window')
    expect(counted(list(3e6, 0, -4e6, 0), list(0, 0, 0, 4e6))).toBe(
      'circle: modulus margin 0.5; 1 point outside the window; 2 points left out: too far away',
    )
  })
})

describe('a settling', () => {
  const exits = (change: object) => plotSettling({ ...settling, ...change }).vconcat[0].layer[3]?.data.values

  it('has no exit from the band that it never leaves', () => {
    expect(exits({ settlingTimeFromStart: 0 })).toBeUndefined()
    expect(exits({ settlingTimeFromStart: null })).toBeUndefined()
  })

  it('has its exit on the side of the first sample from then on, above where it rests', () => {
    // samples at 0, 1, 2 and 3 s at 0, 9, −5 and −0.5 µm about 1 µm
    const side = (settlingTimeFromStart: number) =>
      exits({ settlingTimeFromStart })?.map((row) => near(row.displacement))
    expect(side(0.5)).toEqual([2])
    expect(side(1)).toEqual([2])
    expect(side(1.5)).toEqual([-2])
    expect(side(3)).toEqual([-2])
    expect(side(4)).toEqual([2])
    expect(
      exits({ settlingTimeFromStart: 3, displacement: list(0, 9e-6, -5e-6, 1e-6) })?.[0].displacement,
    ).toBeGreaterThan(0)
  })

  it('shares its band and its end with others that have the same', () => {
    const other = { ...settling, band: 3e-6, moveTime: 2 }
    const [band, end] = plotSettling({ a: settling, b: settling, c: other }).vconcat[1].layer
    expect(band.data.values.map((row) => near(row.displacement))).toEqual([-2, 2, -3, 3])
    expect(end.data.values).toEqual([{ time: 1.5 }, { time: 2 }])
    expect(plotSettling({ a: settling, c: other }).vconcat[1].layer[2].encoding.y?.scale?.domain?.map(near)).toEqual([
      -12, 12,
    ])
  })
})

describe('a sweep', () => {
  it('places what is a number or a text, and leaves the rest blank', () => {
    const [row, ...rows] = sweepOf(1).rows
    const placed = (parameters: object, result: object | null = { ratio: 1 }) =>
      ({ ...row, parameters, result, error: null }) as never
    const figure = plotSweep(
      {
        ...sweepOf(1),
        rows: [
          ...rows,
          placed({ mass: 1, stiffness: 'soft' }),
          placed({ mass: 1, stiffness: true }),
          placed({ mass: 1, stiffness: null }),
          placed({ mass: 1, stiffness: 5 }, { ratio: Infinity }),
          placed({ mass: 1, stiffness: 6 }, { ratio: '1' }),
          placed({ mass: 1, stiffness: 7 }, null),
        ],
      },
      { x: 'stiffness', y: 'mass', value: 'ratio' },
    )
    expect(figure.layer[0].data.values).toEqual([
      { stiffness: 20, mass: 1, ratio: 20 },
      { stiffness: 30, mass: 1, ratio: 30 },
      { stiffness: 'soft', mass: 1, ratio: 1 },
    ])
    expect(figure.title.subtitle).toBe('5 points without a number')
  })

  it('has its own names for titles where none are given', () => {
    const { layer, title } = plotSweep(sweepOf(1), { x: 'stiffness', value: 'ratio', titles: { ratio: 'Ratio [-]' } })
    const { x, y } = layer[0].encoding
    expect([title.text, x?.axis?.title, y?.axis?.title]).toEqual(['Ratio [-]', 'stiffness', 'Ratio [-]'])
  })
})

describe('bands', () => {
  it('go up in steps from edge to edge, a piece for each row of neighbours', () => {
    const bands = [10, 8, 12.5, 20].map((nominal) => ({ nominal, rms: nominal * 1e-6 }))
    const other = velocity(8, 1e-6)
    const { values } = plotBands({ a: { quantity: 'velocity', bands }, b: other }).layer[0].data
    expect(values.map(({ name, piece, step, velocity: level }) => [name, piece, step, near(level)])).toEqual([
      ['a', '0.0', 18, 8],
      ['a', '0.0', 19, 8],
      ['a', '0.0', 20, 10],
      ['a', '0.0', 21, 10],
      ['a', '0.0', 22, 12.5],
      ['a', '0.0', 23, 12.5],
      ['a', '0.1', 26, 20],
      ['a', '0.1', 27, 20],
      ['b', '1.0', 18, 1],
      ['b', '1.0', 19, 1],
    ])
  })

  it('count silence of the sensor, too, and draw nothing for it', () => {
    const { layer, title } = plotBands(velocity(8, 1e-6), { sensorNoise: velocity(8, 0) })
    expect(layer).toHaveLength(1)
    expect(title.subtitle).toBe('1 band left out: no level')
  })

  it('have the noise beneath them reach down to the decade beneath the least of all', () => {
    const least = (level: number, sensor: number) =>
      plotBands(velocity(8, level), { sensorNoise: velocity(8, sensor) }).layer[0].data.values.map((row) =>
        near(row.least),
      )
    expect(least(2e-6, 3e-7)).toEqual([0.1, 0.1])
    expect(least(2e-8, 3e-7)).toEqual([0.01, 0.01])
  })

  it('have the name of a limit at its right end', () => {
    const { layer } = plotBands(velocity(8, 1e-6), { criterion: ['VC-A', 'NIST-B'] })
    // 80 and 100 Hz bands end at 89.1251 and 112.2018 Hz (IEC 61260-1:2014)
    expect(layer[2].data.values.map(({ name, frequency }) => [name, near(frequency)])).toEqual([
      ['VC-A', 89.1250938],
      ['NIST-B', 112.201845],
    ])
  })
})

describe('modes', () => {
  it('show what is a thousandth of the energy, and say what is a twentieth', () => {
    const [discs, texts] = plotModes([mode(2, 0.9, 0.05, 0.049, 0.001, 0.0009, 0)]).layer
    expect(discs.data.values.map(({ axis }) => axis)).toEqual(['x', 'y', 'z', 'about x'])
    expect(texts.data.values.map(({ percent }) => percent)).toEqual(['90 %', '5 %'])
  })

  it('have rows of 50 px, unless a height is asked for', () => {
    const three = [1, 2, 3].map((frequency) => mode(frequency, 1))
    expect([plotModes(three).height, plotModes(three).width]).toEqual([150, 480])
    expect([plotModes(three, { height: 99, width: 77 }).height, plotModes(three, { width: 77 }).width]).toEqual([
      99, 77,
    ])
  })
})

describe('a figure', () => {
  it('is 50 to 10 000 pixels wide and high', () => {
    const sized = (size: number) =>
      plotNoiseBudget(noise, { width: size, height: size }).vconcat.map((panel) => [panel.width, panel.height])
    expect([sized(50), sized(1e4)]).toEqual([
      [
        [50, 50],
        [50, 50],
      ],
      [
        [1e4, 1e4],
        [1e4, 1e4],
      ],
    ])
    expect(plotNoiseBudget(noise).vconcat.map((panel) => [panel.width, panel.height])).toEqual([
      [560, 200],
      [560, 200],
    ])
    const { width, height } = plotTransmissibility({
      kind: 'ComplexSeries',
      frequency: list(1),
      re: list(1),
      im: list(0),
    })
    expect([width, height]).toEqual([560, 360])
  })
})
