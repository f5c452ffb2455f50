// The findings as text of at most 120 columns.
import { conclusions, controlOf, ownCautions, reasonsOf, recordNotes, tableHead, tableRows } from './wording.js'

const width = 118

/** The whole output for the terminal. */
export function terminalText({ scenario, record, findings, version }) {
  return [
    `restmass ${version}: ${scenario.title}`,
    ...scenario.inputs.flatMap((line) => wrapped(line, '  ')),
    '',
    ...table(tableRows(findings)),
    '',
    ...recordNotes(record, findings).flatMap((line) => wrapped(line, '  ')),
    'Reasons',
    ...findings.rows.flatMap((row) => wrapped(`${row.name}: ${reasonsOf(row).join('; ')}`, '  ')),
    '',
    'Control',
    ...findings.rows.flatMap((row) => wrapped(`${row.name}: ${controlOf(row)}`, '  ')),
    '',
    'Result',
    ...conclusions(findings).flatMap((line) => wrapped(line, '  ')),
    '',
    'Cautions',
    ...[...findings.cautions, ...ownCautions].flatMap((line) => wrapped(line, '  ')),
  ].join('\n')
}

function table(rows) {
  const all = [tableHead.map(([what]) => what), tableHead.map(([, unit]) => unit), ...rows]
  const widths = tableHead.map((_, column) => Math.max(...all.map((row) => row[column].length)))
  const lines = all.map((row) =>
    row
      .map((cell, k) => (k === 0 ? cell.padEnd(widths[k]) : cell.padStart(widths[k])))
      .join('  ')
      .trimEnd(),
  )
  return [...lines.slice(0, 2), '-'.repeat(Math.max(...lines.map(({ length }) => length))), ...lines.slice(2)]
}

/** Lines of a text, cut at spaces, the later ones indented further. */
function wrapped(text, indent) {
  const lines = []
  let line = indent
  for (const word of text.split(' ')) {
    if (line.length + word.length + 1 > width && line.trim() !== '') {
      lines.push(line.trimEnd())
      line = `${indent}    `
    }
    line += `${word} `
  }
  return [...lines, line.trimEnd()]
}
