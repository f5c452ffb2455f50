// One design at one site as a page: verdict, tables, figures, inputs and cautions.
import { assess, explain, isolation, motionProfile, moveAndSettle, spectrum } from 'restmass'
import { escaped, page } from '../html/page.js'
import { figure, list } from '../html/parts.js'
import { drawings } from './drawings.js'
import { tables } from './tables.js'

/** The text of an HTML file. */
export async function reportPage({ title, design, site, moves = [], version }) {
  const model = isolation(design)
  const profiles = moves.map(({ movingMass, ...move }) => ({ movingMass, profile: motionProfile(move) }))
  const onFloor = { ...site, floor: floorOf(site.floor) }
  const whole = profiles.length === 0 ? onFloor : { ...onFloor, moves: profiles }
  const assessment = assess(model, whole)
  const steady = assessment.bands !== null
  const settlings = steady ? profiles.map((move) => settled(model, move, site.settling)) : []
  const sentences = explain(assessment)
  const cautions = sentences.filter((sentence) => sentence.startsWith('Caution: '))
  return page({
    title,
    version,
    from: 'node docs/examples/report.mjs',
    sections: [
      { heading: 'Verdict', content: list(sentences.filter((sentence) => !cautions.includes(sentence))) },
      { heading: 'Cautions', content: list(cautions.map((sentence) => sentence.replace('Caution: ', ''))) },
      ...tables(assessment),
      ...(await drawings(model, assessment, site, settlings)).map(({ heading, caption, svg }) => ({
        heading,
        content: figure(svg, caption),
      })),
      {
        heading: 'Inputs',
        content: list([`restmass ${version}; all in SI units, frequencies in hertz.`]) + given({ design, site, moves }),
      },
    ],
  })
}

/** Spectra of one axis or of several, by density or amplitude density. */
function floorOf(floor) {
  if ('quantity' in floor) return spectrum(floor)
  return Object.fromEntries(Object.entries(floor).map(([axis, one]) => [axis, spectrum(one)]))
}

function settled(model, move, { within, ...settling }) {
  return moveAndSettle(model, { move, ...settling, sampleTime: settling.sampleTime ?? move.profile.duration / 200 })
}

function given(inputs) {
  // Lists of numbers on one line each.
  const text = JSON.stringify(inputs, null, 2).replaceAll(/\[[\d\s.,e+-]+\]/g, (list) => list.replaceAll(/\s+/g, ' '))
  return `<pre>${escaped(text)}</pre>`
}
