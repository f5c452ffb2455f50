/** Functions that evaluate whole designs again and again: one call in two hundred goes to them in turn. */
export const heavy: readonly string[] = [
  'tuneSeriesStage',
  'tuneActiveDamping',
  'minimumSampleRate',
  'tuneRelaxation',
  'fitIsolator',
  'simultaneousMargin',
  'robustStability',
  'tuneRestrictor',
  'simultaneousLoopMargin',
  'toleranceStudy',
  'compareConcepts',
  'assess',
  'mobilityModes',
  'loopMargins',
  'gainLimits',
  'moveAndSettle',
  'noiseBudget',
]

/** Longest time a call may take [ms]: a second, and thirty for a search that closes hundreds of loops or a simulation
 * that stops at every limit; a busy machine takes twice the processor time of a free one. */
export function patienceWith(name: string): number {
  return [
    'tuneSeriesStage',
    'tuneActiveDamping',
    'minimumSampleRate',
    'simulateWithLimits',
    'robustStability',
  ].includes(name)
    ? 30_000
    : 1000
}
