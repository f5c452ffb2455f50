// The figures of the report, each with its caption.
import { channel, frequencyResponse, logFrequencies, openLoop, transmissibility } from 'restmass'
import { plotBands, plotNyquist, plotTransmissibility } from 'restmass/plots'
import { draw } from '../html/draw.js'
import { restyled } from './restyle.js'

/** Headings, captions and drawings. */
export async function figures({ floorBands, rows, criterion }) {
  const active = rows.filter(({ control }) => control.active)
  const parts = [
    {
      heading: 'Levels against the criterion',
      caption: `Floor and payload, stage at rest, in one-third-octave bands; the dashed black line is ${criterion}.`,
      specification: plotBands(levels(floorBands, rows), {
        criterion,
        title: 'Floor and payload',
        width: 640,
        height: 400,
      }),
      look: { columns: 4, domains: { x: [0.8, 100] } },
    },
    {
      heading: 'Transmissibility',
      caption: 'Payload over floor motion. Below the line at 1 the payload moves less than the floor.',
      specification: plotTransmissibility(transmissibilities(rows), {
        title: 'Transmissibility of all candidates',
        width: 640,
        height: 400,
      }),
      look: { columns: 4, domains: { y: [1e-5, 20] } },
    },
    {
      heading: 'Loops of the active candidates',
      caption:
        'Nyquist picture of every loop with an inertial sensor, the other loops closed. The nearer a curve comes to −1, the ' +
        'smaller its modulus margin; inside the circle it would be below 0.5.',
      specification: plotNyquist(loops(active), { title: 'Nyquist picture of the active loops', width: 480 }),
      look: { columns: 2 },
    },
  ]
  const drawings = parts.map(async ({ specification, look, ...rest }, k) => ({
    ...rest,
    svg: await draw(restyled(specification, look), `figure${k + 1}`),
  }))
  return Promise.all(drawings)
}

function levels(floorBands, rows) {
  const steady = rows.filter(({ assessment }) => assessment.bands !== null)
  return { floor: floorBands, ...Object.fromEntries(steady.map(({ name, assessment }) => [name, assessment.bands])) }
}

function transmissibilities(rows) {
  const frequencies = logFrequencies({ from: 0.1, to: 100, count: 600 })
  return Object.fromEntries(rows.map(({ name, model }) => [name, transmissibility(model, frequencies)]))
}

function loops(rows) {
  const frequencies = logFrequencies({ from: 0.003, to: 3000, count: 3000 })
  const entries = rows.flatMap(({ name, model }) =>
    model.loops
      .filter((loop) => !loop.name.endsWith('levelling'))
      .map((loop) => [`${name}, loop ${loop.name}`, response(openLoop(model.diagram, loop.port), frequencies)]),
  )
  return Object.fromEntries(entries)
}

/** L of the one channel that a loop has once it is opened. */
function response(loop, frequencies) {
  return channel(frequencyResponse(loop, frequencies), { input: 'injected', output: 'returned' })
}
