import { lineCorrelation } from './line-correlation.js'
import type { BandFlag, Spectrum } from './types.js'

/** Fewest lines and largest standard deviation [dB] of a band that is not flagged. */
const fewestLines = 4
const largestDeviation = 1

/** What is doubtful about a band of so many lines and degrees of freedom, as far as they are known. */
export function flagsOf(lines: number | null, degreesOfFreedom: number | null): BandFlag[] {
  const flags: BandFlag[] = []
  if (lines !== null && lines < fewestLines) flags.push('few-lines')
  const deviation = degreesOfFreedom === null ? 0 : 10 / Math.LN10 / Math.sqrt(degreesOfFreedom / 2)
  if (deviation > largestDeviation) flags.push('short-record')
  return flags
}

/** Degrees of freedom of the mean square over so many lines of a spectrum; null if it does not tell how it was averaged. */
export function linesFreedom(spectrum: Spectrum): (lines: number) => number | null {
  const { window, segmentLength, overlap, averages, effectiveAverages, average = 'mean' } = spectrum
  if (
    average !== 'mean' ||
    window === undefined ||
    segmentLength === undefined ||
    overlap === undefined ||
    averages === undefined ||
    effectiveAverages === undefined
  ) {
    return () => null
  }
  const shared = lineCorrelation({ window, segmentLength, overlap, averages, effectiveAverages })
  return (lines) => 2 * effectiveAverages * (1 + Math.max(0, lines - 1) / shared)
}
