// The findings as one page: no network, no script, figures as inline SVG.

import { escaped, page } from '../html/page.js'
import { figure, list, paragraph, table } from '../html/parts.js'
import { figures } from './figures.js'
import { conclusions, controlOf, digits, ownCautions, recordNotes, tableHead, tableRows } from './wording.js'

/** The text of an HTML file. */
export async function reportPage({ scenario, record, findings, version }) {
  const notes = recordNotes(record, findings)
  return page({
    title: `Seven candidates: ${scenario.title.replace(/, seven candidates$/, '')}`,
    version,
    from: 'npm run demo',
    sections: [
      { heading: 'Result', content: list(conclusions(findings)) },
      { heading: 'What was given', content: list(scenario.inputs) },
      { heading: 'Candidates', content: candidatesTable(findings) + (notes.length > 0 ? list(notes) : '') },
      ...(await figures(findings)).map(({ heading, caption, svg }) => ({ heading, content: figure(svg, caption) })),
      { heading: 'Loops', content: loopsTable(findings) },
      { heading: 'Reasons', content: reasons(findings) },
      { heading: 'Cautions', content: list([...findings.cautions, ...ownCautions]) },
    ],
  })
}

function candidatesTable(findings) {
  const head = tableHead.map(([what, unit]) => `${escaped(what)}<br>${escaped(unit)}`)
  const note =
    'Worst band: where the payload is nearest to, or furthest above, the limit. |T|: payload over floor motion. ' +
    'Modulus margin: the least of all loops.'
  return (
    table(
      head,
      tableRows(findings).map((row) => row.map(marked)),
    ) + paragraph(note)
  )
}

function loopsTable({ rows }) {
  const head = ['candidate', 'loop', 'modulus margin', 'at Hz', 'gain margin', 'phase margin °', 'delay margin s']
  const body = rows.flatMap(({ name, assessment }) =>
    assessment.loops.map(({ name: loop, margins }) => [
      name,
      loop,
      digits(margins.modulusMargin),
      digits(margins.modulusMarginFrequency),
      digits(margins.gainMargin),
      digits(margins.phaseMarginDegrees),
      digits(margins.delayMargin),
    ]),
  )
  return (
    table(
      head,
      body.map((row) => row.map(escaped)),
    ) + paragraph('– : there is none. A phase margin below 0 is one against lead.')
  )
}

function reasons({ rows }) {
  const entries = rows.map((row) => {
    const scanning = row.whileScanning
    const lines = [
      row.what,
      ...new Set(row.assessment.reasons),
      ...(scanning === null
        ? []
        : [
            `while the stage scans: ${digits(scanning.worst.ratio)} of the limit in the ${scanning.worst.nominal} Hz band`,
          ]),
      controlOf(row),
    ]
    return `<dt>${escaped(row.name)} <span class="${row.verdict}">${row.verdict}</span></dt><dd>${list(lines)}</dd>`
  })
  return `<dl>${entries.join('\n')}</dl>`
}

function marked(cell) {
  return cell === 'pass' || cell === 'fail' ? `<span class="${cell}">${cell}</span>` : escaped(cell)
}
