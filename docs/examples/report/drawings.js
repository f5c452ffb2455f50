// The figures of a report, each with its caption.
import { channel, compliance, frequencyResponse, logFrequencies, openLoop, transmissibility } from 'restmass'
import {
  plotBands,
  plotCompliance,
  plotLoop,
  plotNoiseBudget,
  plotNyquist,
  plotSettling,
  plotTransmissibility,
} from 'restmass/plots'
import { draw } from '../html/draw.js'

/** Headings, captions and drawings. */
export function drawings(model, assessment, { criterion }, settlings) {
  const { floorBands, bands, noise, loops } = assessment
  const grid = logFrequencies({ from: 0.05, to: 200, count: 800 })
  const wide = logFrequencies({ from: 0.005, to: 2000, count: 2000 })
  const responses = loops.map(({ name, port }) => [
    name,
    channel(frequencyResponse(openLoop(model.diagram, port), wide), { input: 'injected', output: 'returned' }),
  ])
  const parts = [
    {
      heading: 'Levels against the criterion',
      caption: 'Floor and payload in one-third-octave bands; black: the criterion.',
      specification: plotBands({ floor: floorBands, ...(bands === null ? {} : { payload: bands }) }, { criterion }),
    },
    {
      heading: 'Transmissibility',
      caption: 'Payload over floor motion; below the line at 1 the payload moves less than the floor.',
      specification: plotTransmissibility(transmissibility(model, grid)),
    },
    {
      heading: 'Compliance',
      caption: 'Motion of the payload per force on it.',
      specification: plotCompliance(compliance(model, grid)),
    },
    ...loopParts(loops, Object.fromEntries(responses)),
    ...(noise === null
      ? []
      : [
          {
            heading: 'Noise budget',
            caption: 'What each source contributes to the velocity of the payload.',
            specification: plotNoiseBudget(noise),
          },
        ]),
    ...settlings.map((settling, k) => ({
      heading: `Move ${k + 1}`,
      caption: 'Dashed: the band; thin line: end of the move; diamond: last exit.',
      specification: plotSettling(settling),
    })),
  ]
  return Promise.all(
    parts.map(async ({ specification, ...rest }, k) => ({ ...rest, svg: await draw(specification, `figure${k + 1}`) })),
  )
}

function loopParts(loops, responses) {
  if (loops.length === 0) return []
  const margins = Object.fromEntries(loops.map(({ name, margins: each }) => [name, each]))
  return [
    {
      heading: 'Loops in the complex plane',
      caption: 'Each loop opened with the others closed; inside the circle the modulus margin would be below 0.5.',
      specification: plotNyquist(responses),
    },
    {
      heading: 'Loops over frequency',
      caption: 'Circles: |L| = 1; diamonds: −180°.',
      specification: plotLoop(responses, { margins }),
    },
  ]
}
