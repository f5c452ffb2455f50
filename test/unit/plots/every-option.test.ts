import * as plots from '../../../src/plots/index.js'
import { everyOption } from '../every-option.js'
import { modes, noise, settling, sweepOf, velocity } from './invented.js'

const size = { title: 'some figure', width: 300, height: 200 }
/** Records as plain arrays, so that their entries are looked at, too. */
const plain = (record: object) =>
  JSON.parse(JSON.stringify(record, (_, value) => (value instanceof Float64Array ? [...value] : value)))
const estimate = { kind: 'TransferEstimate', frequency: [1, 10], re: [3, 1], im: [1, 0], randomError: [0.1, 0.2] }
const series = { kind: 'ComplexSeries', frequency: [0.1, 1], re: [0, -2], im: [-9, -1] }
const margins = {
  kind: 'Margins',
  gainCrossovers: [{ frequency: 0.5, phaseMarginDegrees: 30 }],
  phaseCrossovers: [{ frequency: 0.5, gainMargin: 2 }],
}
const budget = { ...noise, unknown: ['sensorNoise'], worseThanPassive: [[1, 2]] }
const sweep = plain(sweepOf(2))

// All options of a figure at once, and every field of the results that it shows.
everyOption(
  plots,
  'plots',
  {
    plotBands: [[velocity(8, 5e-6), { ...size, criterion: 'VC-D', sensorNoise: velocity(8, 1e-7) }]],
  },
  {
    plotBands: [[{ kind: 'Bands', ...velocity(8, 5e-6) }]],
    plotCompliance: [[estimate, size]],
    plotLoop: [
      [series, { ...size, margins }],
      [{ main: series }, { margins: { main: margins } }],
    ],
    plotModes: [[plain(modes), size]],
    plotNoiseBudget: [[plain(budget), size]],
    plotNyquist: [[series, { title: 'some loop', width: 300, modulusMargin: 0.4, reach: 4 }]],
    plotSettling: [[plain(settling), size]],
    plotSweep: [[sweep, { ...size, x: 'stiffness', y: 'mass', value: 'ratio', titles: { mass: 'Mass [kg]' } }]],
    plotTransmissibility: [[estimate, { ...size, axisTitle: 'Share left [-]' }]],
  },
)
