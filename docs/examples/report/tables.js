// The numbers of an assessment as tables, one head and one unit per column, so that they copy into a spreadsheet.
import { rms } from 'restmass'
import { escaped } from '../html/page.js'
import { table } from '../html/parts.js'

/** Headings with their tables, those without rows left out. */
export function tables(assessment) {
  return [bands(assessment), loops(assessment), noise(assessment), moves(assessment), effort(assessment)].flatMap(
    ({ heading, head, rows }) => (rows.length === 0 ? [] : [{ heading, content: table(head, rows.map(written)) }]),
  )
}

function bands({ floor, payload }) {
  const of = new Map((payload?.ratios ?? []).map((ratio) => [ratio.nominal, ratio]))
  return {
    heading: 'One-third-octave bands',
    head: ['band [Hz]', 'limit [µm/s]', 'floor [µm/s]', 'payload [µm/s]', 'payload / limit'],
    rows: floor.ratios.map(({ nominal, limit, rms: level }) => {
      const held = of.get(nominal)
      return [nominal, 1e6 * limit, 1e6 * level, held && 1e6 * held.rms, held?.ratio]
    }),
  }
}

function loops({ loops: all }) {
  return {
    heading: 'Loops',
    head: ['loop', 'modulus margin', 'at [Hz]', 'gain margin', 'phase margin [°]', 'delay margin [s]'],
    rows: all.map(({ name, margins: m }) => [
      name,
      m.modulusMargin,
      m.modulusMarginFrequency,
      m.gainMargin,
      m.phaseMarginDegrees,
      m.delayMargin,
    ]),
  }
}

function noise({ noise: budget }) {
  const sources = budget === null ? [] : [['all together', budget.total], ...Object.entries(budget.contributions)]
  return {
    heading: 'Noise budget',
    head: ['source', 'payload rms [µm/s]'],
    rows: sources.map(([name, spectrum]) => {
      const { frequency } = spectrum
      return [name, 1e6 * rms(spectrum, { from: frequency[0], to: frequency.at(-1) })]
    }),
  }
}

function moves({ settling }) {
  return {
    heading: 'Moves',
    head: ['move', 'verdict', 'settled after [s]', 'allowed [s]', 'peak motion [µm]', 'peak force [N]'],
    rows: settling.map((move, k) => [
      k + 1,
      move.verdict,
      move.settlingTime,
      move.within,
      1e6 * move.peakDisplacement,
      move.peakForce,
    ]),
  }
}

function effort({ effort: all }) {
  return {
    heading: 'Effort',
    head: ['bound', 'rms', 'peak', 'limit', 'unit'],
    rows: all.map(({ name, rms: level, peak, limit, unit }) => [name, level, peak, limit, unit]),
  }
}

function written(cells) {
  return cells.map((cell) => (typeof cell === 'number' ? digits(cell) : escaped(cell ?? '–')))
}

/** Four digits with a plain point and, where small or large, an exponent: what a spreadsheet reads as a number. */
function digits(value) {
  if (!Number.isFinite(value)) return value > 0 ? '∞' : '−∞'
  return `${Number(value.toPrecision(4))}`
}
