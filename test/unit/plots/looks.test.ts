import { describe, expect, it } from 'vitest'
import {
  plotBands,
  plotCompliance,
  plotLoop,
  plotModes,
  plotNoiseBudget,
  plotNyquist,
  plotSettling,
  plotSweep,
  plotTransmissibility,
} from '../../../src/plots/index.js'
import type { Margins } from '../../../src/systems/index.js'
import { list, modes, noise, response, settling, sweepOf, velocity } from './invented.js'

/** A figure without its rows, of which the first and the last stay, to nine digits. */
const look = (figure: object) =>
  `${JSON.stringify(
    figure,
    (key, value) => {
      if (typeof value === 'number') return Number(value.toPrecision(9))
      if (key !== 'values' || !Array.isArray(value)) return value
      return { rows: value.length, first: value[0], last: value[value.length - 1] }
    },
    2,
  )}\n`

const crossed = {
  kind: 'Margins',
  gainCrossovers: [{ frequency: 5, phaseMarginDegrees: 30, delayMargin: 1 }],
  phaseCrossovers: [{ frequency: 50, gainMargin: 20 }],
} as unknown as Margins
const measured = { ...response(2, 1), kind: 'TransferEstimate', randomError: list(0.1, 0.2, Infinity) } as never

// What a figure looks like to those who embed it: colours, marks, titles, scales and order of the layers are part of what a
// version promises, so a change of them is seen here first. Numbers in the rows are the business of the tests beside.
describe('the look of', () => {
  // Drawn within the test that holds it, so that a figure which is refused is that test's failure.
  it.each<[string, () => object]>([
    [
      'bands',
      () => plotBands({ floor: velocity(8, 5e-6), payload: velocity(8, 1e-6) }, { criterion: ['VC-C', 'VC-D'] }),
    ],
    [
      'bands-with-noise',
      () =>
        plotBands(
          {
            quantity: 'velocity',
            bands: [
              { nominal: 8, rms: 5e-6, flags: ['few-lines'] },
              { nominal: 10, rms: 1e-6 },
            ],
          },
          { sensorNoise: velocity(8, 1e-7) },
        ),
    ],
    ['compliance', () => plotCompliance({ first: response(3, 1), second: response(2, 1) }, { title: 'Two mounts' })],
    ['loop', () => plotLoop({ first: response(3, 1), second: response(2, 1) })],
    [
      'loop-with-margins',
      () => plotLoop({ main: response(3, -1), other: response(2, 1) }, { margins: { main: crossed } }),
    ],
    ['modes', () => plotModes(modes)],
    ['noise-budget', () => plotNoiseBudget(noise)],
    ['nyquist', () => plotNyquist({ first: response(3, 1), second: response(2, 1) }, { modulusMargin: 0.6 })],
    ['settling', () => plotSettling(settling)],
    ['settled', () => plotSettling({ ...settling, displacement: list(0, 0, 0, 0), restsAt: 0 })],
    ['sweep', () => plotSweep(sweepOf(2), { x: 'stiffness', y: 'mass', value: 'ratio' })],
    ['sweep-over-one', () => plotSweep(sweepOf(1), { x: 'stiffness', value: 'ratio' })],
    ['transmissibility', () => plotTransmissibility({ first: response(3, 1), second: response(2, 1) })],
    ['transmissibility-measured', () => plotTransmissibility({ model: response(3, 1), measured })],
    ['transmissibility-of-one', () => plotTransmissibility(response(3, 1))],
  ])('%s is as it was', async (name, draw) => {
    await expect(look(draw())).toMatchFileSnapshot(`looks/${name}.txt`)
  })
})
