// Everything the demonstration finds out, as plain data; printing it is the business of others.
import { activeBand, bestCriterion, compareConcepts, compareToCriterion, controlElements } from 'restmass'
import { bandsWhileScanning } from './scanning-stage.js'

/** How many times smaller |T| must be for a frequency to count as actively isolated. */
export const improvement = 2

/** The candidates on one floor, with the stage at rest and while it scans. */
export function judge({ floor, criterion, candidates, stage }) {
  const models = Object.fromEntries(candidates.map(({ name, model }) => [name, model]))
  const comparison = compareConcepts(models, { floor, criterion }, { changes: 'none' })
  const [{ assessment: first }] = comparison.table
  const rows = comparison.table.map((row, k) => rowOf(row, candidates[k], criterion, stage))
  const passesScanning = (name) => rows.find((row) => row.name === name).passesScanning
  return {
    criterion: first.floor.criterion,
    floorBands: first.floorBands,
    floor: first.floor,
    floorMeets: bestCriterion(first.floorBands),
    notJudged: first.floor.missing,
    rows,
    ranking: comparison.ranking,
    simplest: comparison.simplestThatPasses,
    simplestScanning: comparison.ranking.find(passesScanning) ?? null,
    cautions: [...new Set(rows.flatMap(({ assessment }) => assessment.cautions))],
  }
}

function rowOf(
  { name, worstRatio, worstBand, peak, isolationFrom, modulusMargin, verdict, assessment },
  candidate,
  criterion,
  stage,
) {
  const inFloor = assessment.floorBands.bands.find(({ nominal }) => nominal === worstBand)
  const scanning = assessment.bands === null ? null : bandsWhileScanning(candidate.model, assessment.bands, stage)
  const whileScanning = scanning === null ? null : compareToCriterion(scanning, criterion)
  return {
    name,
    what: candidate.what,
    model: candidate.model,
    verdict,
    worstBand,
    worstRatio,
    floorLevel: inFloor?.rms ?? null,
    payloadLevel: assessment.payload?.worst.rms ?? null,
    peak,
    peakFrequency: assessment.transmissibility.peakFrequency,
    isolationFrom,
    modulusMargin,
    control: controlElements(candidate.model),
    activeBand: activeBand(candidate.model, { improvement }),
    whileScanning,
    passesScanning: verdict === 'pass' && whileScanning?.verdict === 'pass',
    assessment,
  }
}
