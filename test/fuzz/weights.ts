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

/** Time that a call may work [ms], where a second does not do; a busy machine takes twice the processor time of a free one. */
const patience: Readonly<Record<string, number>> = {
  // Searches that close hundreds of loops.
  tuneSeriesStage: 30_000,
  tuneActiveDamping: 30_000,
  minimumSampleRate: 30_000,
  tuneRelaxation: 5_000,
  // A simulation that stops at every limit.
  simulateWithLimits: 30_000,
  // Six axes with six delays at 20 000 frequencies, or with all channels at once.
  frequencyResponse: 5_000,
  // Proofs, which go through thousands of frequencies and parts of a box.
  robustStability: 30_000,
  simultaneousMargin: 5_000,
  simultaneousLoopMargin: 5_000,
}

/** Longest time that a call may work [ms]. */
export function patienceWith(name: string): number {
  return patience[name] ?? 1000
}

/** Longest list to give to a function: one that works through a whole design for each entry takes as long as one likes. */
export function longestListOf(name: string): number {
  return [...heavy, 'sweep'].includes(name) ? 20 : 20_000
}

/** Functions whose plain numbers may be infinite, as their documentation says: the gain of an integrator at 0 Hz, the norm of
 * direct gain, levels of nothing, a line that crosses no other, a band without end. */
export const endless: readonly string[] = ['activeBand', 'dcGain', 'h2Norm', 'decibels', 'poles']
