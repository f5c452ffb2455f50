import { airSpring } from '../elements/air-spring.js'
import type { AirSpringOptions } from '../elements/air-spring-options.js'
import { relaxationMount } from '../elements/relaxation-mount.js'
import { checkNumber, checkOptional, checkOptions, fail, scopeOf, within } from '../internal/check.js'
import { loopMargins } from '../isolation/loop-margins.js'
import type { IsolationModel } from '../isolation/model.js'
import { type PassiveIsolationOptions, passiveIsolation } from '../isolation/passive-isolation.js'
import { type PneumaticIsolationOptions, pneumaticIsolation } from '../isolation/pneumatic-isolation.js'
import { objectiveOf, type Trial, type Tuning, type TuningObjective, tunedValue } from './tuning.js'

/** A payload on air springs with a damping chamber whose restrictor is to be found. */
export interface RestrictorDesign extends Omit<PneumaticIsolationOptions, 'mount'> {
  /** One air spring, with a damping chamber; its flow resistance is where the search begins */
  readonly airSpring: AirSpringOptions
}

/** A payload on elastically supported dampers whose dashpot is to be found. */
export interface RelaxationDesign extends Omit<PassiveIsolationOptions, 'mount'> {
  /** Stiffness of the main spring of one mount [N/m], above 0 */
  readonly stiffness: number
  /** Stiffness of the spring that supports the damper over that of the main spring, above 0 */
  readonly stiffnessRatio: number
}

/** How far from the resistance or dashpot of lowest peak to search, as a factor either way. */
const reach = 100
const points = 25

/** Flow resistance between the chambers of an air spring that leaves the least rms velocity of the payload on a floor, or the
 * least peak of |T|.
 *
 * The best resistance for the peak is known in closed form; for a given floor it is another one. With levelling the loop has
 * to stay stable. Chambers under pressure are subject to local codes for pressure vessels.
 * @param design - see {@link RestrictorDesign}
 * @param options - see {@link TuningObjective}
 * @returns parameters `flowResistance` [Pa·s/m³], outcome `objective`, and the curve over the resistance
 * @throws {@link IsolationError} `invalid-option` without a damping chamber, and those of `airSpring` and
 * `pneumaticIsolation`
 * @source derived: minimum of the predicted response; for the peak J. E. Ruzicka, R. D. Cavanaugh, Machine Design, 1958
 * @example
 * import { tuneRestrictor } from 'restmass'
 * const dampingChamber = { volume: 3e-3, flowResistance: 'optimal' as const }
 * const airSpring = { area: 0.01, volume: 1e-3, load: 2941.995, dampingChamber }
 * tuneRestrictor({ payload: { mass: 300 }, airSpring }).outcome?.objective // 1.6667
 */
export function tuneRestrictor(design: RestrictorDesign, options: TuningObjective = {}): Tuning {
  const scope = scopeOf('tuneRestrictor')
  checkOptions(scope, options, ['objective', 'floor'])
  const objective = objectiveOf(scope, options)
  const { airSpring: spring, ...rest } = checkOptions(scope, design, [
    'payload',
    'airSpring',
    'count',
    'levelling',
    'floor',
  ])
  const start = airSpring(spring).dampingChamber
  if (start === null)
    fail('invalid-option', within(scope, 'airSpring.dampingChamber'), 'is needed: it holds the restrictor')
  const modelOf = (flowResistance: number) =>
    pneumaticIsolation({
      ...rest,
      mount: airSpring({ ...spring, dampingChamber: { volume: start.volume, flowResistance } }),
    })
  const middle = start.flowResistance
  return tunedValue('flowResistance', [middle / reach, middle * reach], points, trialOf(modelOf, objective))
}

/** Dashpot of an elastically supported damper that leaves the least rms velocity of the payload on a floor, or the least peak
 * of |T|.
 *
 * @param design - see {@link RelaxationDesign}
 * @param options - see {@link TuningObjective}
 * @returns parameters `damping` [N·s/m] of one mount, outcome `objective`, and the curve over the dashpot
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, and those of `passiveIsolation`
 * @source derived: minimum of the predicted response; for the peak J. E. Ruzicka, R. D. Cavanaugh, Machine Design, 1958
 * @example
 * import { tuneRelaxation } from 'restmass'
 * const tuned = tuneRelaxation({ payload: { mass: 100 }, stiffness: 1e4, stiffnessRatio: 3 })
 * tuned.outcome?.objective // 1.6667
 */
export function tuneRelaxation(design: RelaxationDesign, options: TuningObjective = {}): Tuning {
  const scope = scopeOf('tuneRelaxation')
  checkOptions(scope, options, ['objective', 'floor'])
  const objective = objectiveOf(scope, options)
  const { stiffness, stiffnessRatio, ...rest } = checkOptions(scope, design, [
    'payload',
    'count',
    'floor',
    'stiffness',
    'stiffnessRatio',
  ])
  const mountOf = (damping: number | 'optimal', mass: number) =>
    relaxationMount({ stiffness, stiffnessRatio, damping, mass })
  const count = checkOptional(scope, 'count', design.count, { above: 0 }, 1)
  const mass = checkNumber(within(scope, 'payload'), 'mass', design.payload?.mass, { unit: 'kg', above: 0 }) / count
  const middle = mountOf('optimal', mass).relaxations[0].time * stiffnessRatio * stiffness
  const modelOf = (damping: number) => passiveIsolation({ ...rest, mount: mountOf(damping, mass) })
  return tunedValue('damping', [middle / reach, middle * reach], points, trialOf(modelOf, objective))
}

function trialOf(modelOf: (value: number) => IsolationModel, objective: (model: IsolationModel) => number) {
  return (value: number): Trial => {
    const model = modelOf(value)
    const loops = loopMargins(model)
    const unstable = loops.find(({ margins }) => margins.closedLoop !== 'stable')
    return {
      objective: unstable === undefined ? () => objective(model) : null,
      modulusMargin: loops[0]?.margins.modulusMargin ?? null,
      violates: unstable === undefined ? null : { name: 'stability', says: `loop ${unstable.name} is not stable` },
    }
  }
}
