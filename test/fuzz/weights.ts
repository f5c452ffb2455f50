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

/** Longest time a call may take [ms]: a second, and ten for a search that closes hundreds of loops or a simulation
 * that stops at every limit. */
export function patienceWith(name: string): number {
  return [
    'tuneSeriesStage',
    'tuneActiveDamping',
    'minimumSampleRate',
    'simulateWithLimits',
    'robustStability',
  ].includes(name)
    ? 10_000
    : 1000
}
