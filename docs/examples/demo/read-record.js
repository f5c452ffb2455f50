// A record from a text of comma-separated numbers. Strict: no quotes, no gaps, nothing guessed.
import { Refusal } from './refusal.js'

const number = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i

/** The samples of one column. Lines that start with # are comments; the first other line names the columns. */
export function readRecord(text, column) {
  const lines = text.replace(/^\uFEFF/, '').split(/\r?\n/)
  if (lines.at(-1) === '') lines.pop()
  const rows = lines.map((line, k) => ({ line, at: k + 1 })).filter(({ line }) => !line.startsWith('#'))
  if (rows.length === 0) throw new Refusal('the file is empty: it has no header and no samples')
  const names = cellsOf(rows[0].line)
  const index = names.indexOf(column)
  if (index < 0) throw new Refusal(`no column '${column}'; columns are ${names.join(', ')}`)
  if (names.lastIndexOf(column) !== index) throw new Refusal(`two columns are called '${column}'`)
  if (rows.length === 1) throw new Refusal('the file has a header but no samples')
  const samples = Float64Array.from(rows.slice(1), (row) => sampleOf(row, index, names))
  if (samples.every((value) => value === samples[0])) throw new Refusal(`column '${column}' never changes`)
  return samples
}

function sampleOf({ line, at }, index, names) {
  const cells = cellsOf(line)
  if (line.trim() === '') throw new Refusal(`line ${at} is empty; a record must have no gaps`)
  if (cells.length !== names.length) {
    throw new Refusal(`line ${at} has ${cells.length} cells, the header has ${names.length}`)
  }
  const cell = cells[index]
  if (cell === '') throw new Refusal(`line ${at}: column '${names[index]}' is empty; a record must have no gaps`)
  if (!number.test(cell) || !Number.isFinite(Number(cell))) {
    throw new Refusal(`line ${at}: column '${names[index]}' holds '${cell.slice(0, 20)}', which is not a number`)
  }
  return Number(cell)
}

function cellsOf(line) {
  return line.split(',').map((cell) => cell.trim())
}
