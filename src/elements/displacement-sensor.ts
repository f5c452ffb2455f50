import { checkNumber, checkOptional, checkOptions, type Scope, scopeOf, within } from '../internal/check.js'
import { vacuumPermittivity } from '../internal/constants.js'
import { finiteResult } from '../internal/finite-result.js'
import { cascade, firstOrderLowPass } from '../systems/section.js'
import { sensorRecord } from './sensor-record.js'
import type { Sensor, SensorNoiseOptions } from './types.js'

/** Options of {@link displacementSensor}. */
export interface DisplacementSensorOptions {
  /** First-order corner of the electronics [Hz], above 0. @defaultValue none */
  readonly bandwidth?: number
  /** Parallel plates across the gap, for a capacitive sensor. @defaultValue none */
  readonly plates?: {
    /** [m²], above 0 */
    readonly area: number
    /** Distance at rest [m], above 0 */
    readonly gap: number
    /** Permittivity of what fills the gap over that of vacuum, at least 1. @defaultValue 1 */
    readonly relativePermittivity?: number
  }
  /** Noise of the signal [m/√Hz]. @defaultValue none */
  readonly noise?: SensorNoiseOptions
}

/** A sensor of the gap between two bodies; made by {@link displacementSensor}. */
export interface DisplacementSensor extends Sensor {
  /** Capacitance at rest, ε·A/d [F]; null without plates */
  readonly capacitance: number | null
  /** Change of capacitance per gap at rest, ε·A/d², as a modulus [F/m]; null without plates */
  readonly capacitancePerGap: number | null
}

/** A capacitive or inductive gap sensor, signal in m.
 *
 * Signal over gap = ω/(s + ω), or exactly 1. It sees the distance between two bodies, not motion in space. A plate of guarded
 * edges has C = ε·A/d and dC/dd = −C/d.
 * @param options - see {@link DisplacementSensorOptions}
 * @returns a sensor that measures displacement, block role 'relativeSensor'
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `not-finite`, `dimension-mismatch`
 * @source from memory: the parallel-plate capacitor
 * @example
 * import { displacementSensor } from 'restmass'
 * displacementSensor({ plates: { area: 1e-4, gap: 0.5e-3 } }).capacitance // 1.770838e-12
 */
export function displacementSensor(options: DisplacementSensorOptions = {}): DisplacementSensor {
  const scope = scopeOf('displacementSensor')
  checkOptions(scope, options, ['bandwidth', 'plates', 'noise'])
  const bandwidth = checkOptional(scope, 'bandwidth', options.bandwidth, { unit: 'Hz', above: 0 }, null)
  const sections = bandwidth === null ? [] : [firstOrderLowPass(2 * Math.PI * bandwidth)]
  const block = cascade(scope, sections, { input: 'motion', output: 'signal' })
  const sensor = sensorRecord(scope, 'displacement', { ...block, role: 'relativeSensor' }, options.noise)
  return { ...sensor, ...capacitor(within(scope, 'plates'), options.plates) }
}

function capacitor(scope: Scope, plates: DisplacementSensorOptions['plates']) {
  if (plates === undefined) return { capacitance: null, capacitancePerGap: null }
  checkOptions(scope, plates, ['area', 'gap', 'relativePermittivity'])
  const area = checkNumber(scope, 'area', plates.area, { unit: 'm²', above: 0 })
  const gap = checkNumber(scope, 'gap', plates.gap, { unit: 'm', above: 0 })
  const relative = checkOptional(scope, 'relativePermittivity', plates.relativePermittivity, { atLeast: 1 }, 1)
  const capacitance = finiteResult(scope, 'capacitance', (vacuumPermittivity * relative * area) / gap)
  return { capacitance, capacitancePerGap: finiteResult(scope, 'capacitance per gap', capacitance / gap) }
}
