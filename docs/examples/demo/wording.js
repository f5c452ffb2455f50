// Numbers and findings as words, the same in the terminal and in the report.

/** Three significant digits without exponent; a dash for what there is none of. */
export function digits(value, count = 3) {
  if (value === null || value === undefined) return '–'
  if (!Number.isFinite(value)) return '∞'
  return `${Number(value.toPrecision(count))}`
}

/** A velocity in µm/s. */
export function micrometres(value) {
  return value === null ? '–' : short(value * 1e6)
}

/** Three significant digits, two of small numbers, which keeps columns narrow. */
function short(value) {
  return digits(value, Math.abs(value) < 0.1 ? 2 : 3)
}

/** Head of the table of candidates, what and unit. */
export const tableHead = [
  ['candidate', ''],
  ['active', 'control'],
  ['worst', 'band Hz'],
  ['floor', 'µm/s'],
  ['payload', 'µm/s'],
  ['times', 'limit'],
  ['peak', '|T|'],
  ['at', 'Hz'],
  ['|T| < 1', 'from Hz'],
  ['modulus', 'margin'],
  ['stage', 'at rest'],
  ['scanning', '× limit'],
  ['stage', 'scans'],
]

/** Rows of that table as texts, the floor first. */
export function tableRows({ floor, rows }) {
  const { worst, verdict } = floor
  const alone = [digits(worst.nominal), micrometres(worst.rms), '–', short(worst.ratio)]
  return [['floor alone', '–', ...alone, '–', '–', '–', '–', verdict, '–', '–'], ...rows.map(tableRow)]
}

function tableRow(row) {
  return [
    row.name,
    row.control.active ? 'yes' : 'no',
    digits(row.worstBand),
    micrometres(row.floorLevel),
    micrometres(row.payloadLevel),
    short(row.worstRatio),
    digits(row.peak),
    short(row.peakFrequency),
    short(row.isolationFrom),
    digits(row.modulusMargin),
    row.verdict,
    short(row.whileScanning?.worst.ratio),
    row.passesScanning ? 'pass' : 'fail',
  ]
}

/** Why a candidate passes or fails, what is against it first. */
export function reasonsOf({ assessment, verdict, whileScanning, passesScanning }) {
  const findings = assessment.reasons.filter((reason) => !reason.startsWith('not judged')).slice(0, 2)
  if (verdict === 'fail' || whileScanning === null) return findings
  const { worst } = whileScanning
  const level = `${micrometres(worst.rms)} µm/s in the ${worst.nominal} Hz band, ${digits(worst.ratio)} of the limit`
  return [...findings, `${passesScanning ? 'passes' : 'fails'} while the stage scans: ${level}`]
}

/** What of a candidate is active control, and where it works. */
export function controlOf({ control, activeBand }) {
  if (!control.active) return `not active control: ${control.reasons.join('; ')}`
  const spans = activeBand.map(([from, to]) => `${digits(from)} to ${digits(to)} Hz`).join(', ')
  return `active control; |T| at least halved by it ${spans === '' ? 'nowhere' : `from ${spans}`}`
}

/** What the verdicts leave open about the record. */
export function recordNotes({ roughBands, duration, segment, averages }, { notJudged, criterion }) {
  const notes = []
  if (notJudged.length > 0) {
    const above = notJudged.map((band) => digits(band)).join(', ')
    notes.push(`not judged, since the record does not cover them: the bands at ${above} Hz of ${criterion}`)
  }
  if (roughBands.length > 0) {
    const list = roughBands.map(({ nominal, lines }) => `${nominal} Hz (${digits(lines, 2)} lines)`).join(', ')
    const cause = `${digits(duration)} s in segments of ${digits(segment)} s, ${averages} averages`
    notes.push(`rough, since they rest on few spectral lines (${cause}): ${list}`)
  }
  return notes
}

/** What the comparison comes down to, in sentences. */
export function conclusions({ criterion, floor, floorMeets, simplest, simplestScanning }) {
  const meets = floorMeets === null ? 'meets none of the VC curves' : `meets ${floorMeets}`
  return [
    floor.verdict === 'pass'
      ? `the floor itself ${meets}, so ${criterion} needs no isolation here; --criterion asks for more`
      : `the floor itself ${meets}; ${criterion} needs isolation`,
    `simplest that passes, stage at rest: ${simplest ?? 'none'}`,
    `simplest that passes, stage scanning too: ${simplestScanning ?? 'none'}`,
  ]
}

/** What this demonstration itself asks the reader to mind. */
export const ownCautions = [
  'All hardware is invented, and one axis is judged; rocking and the coupling of axes need a look of their own.',
  'Noise of sensors and actuators is left out; on a quiet floor it can decide.',
  'Vibration below 1 Hz is not judged, though soft and active candidates amplify some of it. It does count in the forces ' +
    'and travels of actuators, where a record may hold the noise of its own instrument.',
]
