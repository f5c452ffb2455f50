// From a record of the floor to its spectrum, with what the record is too short or too slow for.
import { oneThirdOctaveBands, welch } from 'restmass'
import { Refusal } from './refusal.js'

/** Three segments, each just long enough for one spectral line within the 1 Hz band [s]. */
const shortest = 13
/** Base ten, IEC 61260-1 [Hz]. */
const upperEdgeOfTenHertz = 10 ** 1.05
/** Fewer spectral lines than this make a band level rough. */
const fewLines = 4
const longestSegment = 40

/** Velocity or acceleration spectrum of the floor, and which bands rest on few lines. */
export function floorSpectrum({ samples, sampleRate, quantity }) {
  const duration = samples.length / sampleRate
  refuseSlow(sampleRate)
  refuseShort(duration, sampleRate)
  const segmentLength = Math.round(segmentOf(duration) * sampleRate)
  const spectrum = withoutDrift(welch({ samples, sampleRate, quantity, segmentLength }))
  const { bands } = oneThirdOctaveBands(spectrum, { from: 1, to: 10 })
  return {
    spectrum,
    duration,
    segment: segmentLength / sampleRate,
    averages: spectrum.averages,
    roughBands: bands.filter(({ lines }) => lines < fewLines).map(({ nominal, lines }) => ({ nominal, lines })),
  }
}

/** Without the lines at and next to 0 Hz, where offset and drift of the instrument end up. */
function withoutDrift(spectrum) {
  return { ...spectrum, frequency: spectrum.frequency.slice(2), density: spectrum.density.slice(2) }
}

/** Length of a segment [s]: an eighth of the record for many averages, but 10 s where at least five of them fit. */
function segmentOf(duration) {
  return Math.min(longestSegment, Math.max(duration / 8, Math.min(10, duration / 3)))
}

function refuseSlow(sampleRate) {
  if (sampleRate / 2 > upperEdgeOfTenHertz) return
  const least = Math.ceil(2 * upperEdgeOfTenHertz)
  throw new Refusal(`at ${sampleRate} Hz not even the 10 Hz band is covered; the rate must be at least ${least} Hz`)
}

function refuseShort(duration, sampleRate) {
  if (duration >= shortest) return
  const lasts = `at ${sampleRate} Hz the record lasts ${Number(duration.toPrecision(3))} s`
  throw new Refusal(`${lasts}, too short for the 1 Hz band, which needs ${shortest} s; is the rate right?`)
}
