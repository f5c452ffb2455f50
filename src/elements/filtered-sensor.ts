import { checkOneOf, checkRecord, fail, type Scope, scopeOf, show, within } from '../internal/check.js'
import { checkSystem } from '../systems/check.js'
import { series } from '../systems/series.js'
import type { StateSpace } from '../systems/types.js'
import { checkNoise } from './check-noise.js'
import { gains, shapedNoise } from './noise-table.js'
import { motionQuantities } from './sensor-record.js'
import type { Sensor } from './types.js'

/** A sensor with a filter behind it, its noise filtered too.
 *
 * @param sensor - any sensor
 * @param filter - one input, one output, unit gain in band: a {@link cornerExtension}, a low-pass, any system
 * @returns a sensor that measures the same; |filter| times the noise
 * @throws {@link IsolationError} `invalid-option`, `dimension-mismatch`
 * @source derived: both in series; the density of a filtered signal is |H| times the amplitude density
 * @example
 * import { cornerExtension, filteredSensor, geophone } from 'restmass'
 * const sensor = geophone({ naturalFrequency: 4.5, dampingRatio: 0.56, noise: { frequency: [0.01], amplitudeDensity: [1e-9] } })
 * const filter = cornerExtension({ naturalFrequency: 4.5, dampingRatio: 0.56, extendedTo: 0.5 })
 * filteredSensor(sensor, filter).noise?.amplitudeDensity[0] // 8.10e-8
 */
export function filteredSensor(sensor: Sensor, filter: StateSpace): Sensor {
  const scope = scopeOf('filteredSensor')
  const { measures, dynamics, noise } = checkSensor(within(scope, 'sensor'), sensor)
  const at = within(scope, 'filter')
  checkSystem(at, filter)
  if (filter.inputs.length !== 1 || filter.outputs.length !== 1) {
    fail(
      'dimension-mismatch',
      at,
      `must have one input and one output, got ${filter.inputs.length} and ${filter.outputs.length}`,
    )
  }
  const both = series(dynamics, { ...filter, outputs: ['signal'] as const })
  return {
    kind: 'Sensor',
    measures,
    dynamics: dynamics.role === undefined ? both : { ...both, role: dynamics.role },
    noise: noise === null ? null : shapedNoise(scope, noise, (frequency) => gains(filter, frequency)),
  }
}

/** Checks that a value is a sensor with its dynamics. */
export function checkSensor(scope: Scope, sensor: Sensor): Sensor {
  if (sensor?.kind !== 'Sensor') fail('invalid-option', scope, `must be a Sensor, got ${show(sensor)}`)
  checkRecord(within(scope, 'dynamics'), sensor.dynamics)
  checkSystem(within(scope, 'dynamics'), sensor.dynamics)
  checkOneOf(scope, 'measures', sensor.measures, motionQuantities)
  return { ...sensor, noise: checkNoise(scope, sensor.noise ?? undefined) }
}
