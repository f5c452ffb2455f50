// What was given, in words.
import { payload } from './candidates.js'
import { inventedFloor } from './floor-record.js'
import { digits } from './wording.js'

/** Title and inputs of the invented scenario. */
export function inventedScenario(run) {
  const { seed, sampleRate, duration, sway, vehicle, machine } = inventedFloor
  const [speed, line] = [vehicle.rms, machine.rms].map((rms) => `${digits(rms * 1e6)} µm/s rms`)
  return {
    title: 'an invented laboratory floor, seven candidates',
    inputs: [
      'Scenario: invented for this demonstration, no measurement and no product.',
      `Floor: vertical velocity from a seeded generator (seed ${seed}), ${duration} s at ${sampleRate} Hz: ambient noise, ` +
        `building sway at ${sway.frequency} Hz, a machine line at ${machine.frequency} Hz (${line}), a vehicle passing ` +
        `at ${vehicle.at} s (${speed} around ${vehicle.frequency} Hz at its nearest).`,
      ...common(run),
    ],
  }
}

/** Title and inputs of a record from a file. */
export function measuredScenario({ file, column, quantity, rate, ...run }) {
  const unit = quantity === 'velocity' ? 'm/s' : 'm/s²'
  return {
    title: `${file}, column ${column}, seven candidates`,
    inputs: [
      `Floor: ${quantity} from ${file}, column ${column}, ${digits(run.record.duration, 4)} s at ${rate} Hz, taken to be in SI ` +
        `units (${unit}) and along the axis of the candidates.`,
      ...common(run),
    ],
  }
}

function common({ record, criterion }) {
  const { segment, averages } = record
  const edition = criterion.edition === null ? '' : `, edition ${criterion.edition}`
  return [
    `Spectrum: ${averages} half-overlapping segments of ${digits(segment, 4)} s, Hann window, the whole record averaged.`,
    `Payload: ${payload.mass} kg with a moving stage, invented; while the stage scans, its reaction is about 0.1 N/√Hz from 3 to ` +
      '10 Hz, falling off on either side.',
    `Criterion: ${criterion.name}${edition}, in one-third-octave bands; every loop must keep a modulus margin of 0.5.`,
  ]
}
