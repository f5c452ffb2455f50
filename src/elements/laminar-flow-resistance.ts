import { checkNumber, checkOptional, checkOptions, fail, type Scope, scopeOf } from '../internal/check.js'
import { finiteResult } from '../internal/finite-result.js'
import type { FlowResistance } from './flow-resistance.js'
import { checkAbsolutePressure, type GasOptions, gasKeys, pressurePerDensity } from './gas-state.js'

/** A round tube. */
export interface CapillaryPassage {
  /** Inner diameter [m], above 0 */
  readonly diameter: number
}

/** A flat passage. */
export interface SlotPassage {
  /** [m], at least `height` */
  readonly width: number
  /** Distance between the walls [m], above 0 */
  readonly height: number
}

/** Options of {@link laminarFlowResistance}: a tube or a slot, and what flows through it. */
export type LaminarFlowResistanceOptions = (CapillaryPassage | SlotPassage) &
  GasOptions & {
    /** Length of the passage [m], above 0 */
    readonly length: number
    /** Equal passages side by side, above 0. @defaultValue 1 */
    readonly count?: number
    /** Dynamic viscosity [Pa·s], above 0. @defaultValue 1.81e-5, air at 20 °C */
    readonly viscosity?: number
    /** Amplitude of the volume flow through all passages [m³/s], above 0, for Reynolds number and entrance length;
     * `restrictionFlow` gives it. @defaultValue not known */
    readonly flow?: number
    /** Absolute pressure of the gas [Pa], above 0; needed with `flow` */
    readonly absolutePressure?: number
  }

/** Flow resistance of laminar passages, for the damping chamber of an air spring.
 *
 * A tube has 128·μ·L/(π·d⁴), a wide slot 12·μ·L/(w·h³), both over `count`, with volume flow at mean density. With a stated
 * flow the Reynolds number (hydraulic diameter d or 2wh/(w + h)) and the entrance length are worked out; cautions stand
 * where Re exceeds 2000, the passage is shorter than the entrance length, or a slot is less than ten times as wide as high
 * (where the true resistance is 6 % higher or more).
 * @param options - see {@link LaminarFlowResistanceOptions}
 * @returns the resistance [Pa·s/m³] and what was checked
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `not-finite`
 * @source Hagen–Poiseuille and plane Poiseuille flow, F. M. White, Viscous Fluid Flow, chapter 3; D. B. DeBra, Design of
 * laminar flow restrictors for damping pneumatic vibration isolators, CIRP Annals 33, 1984; viscosity and the factor 0.06
 * from memory
 * @example
 * import { laminarFlowResistance } from 'restmass'
 * laminarFlowResistance({ diameter: 5e-4, length: 0.02 }).flowResistance // 2.35987e8
 */
export function laminarFlowResistance(options: LaminarFlowResistanceOptions): FlowResistance {
  const scope = scopeOf('laminarFlowResistance')
  const conditions = ['length', 'count', 'viscosity', 'flow', 'absolutePressure', ...gasKeys]
  checkOptions(scope, options, ['diameter', 'width', 'height', ...conditions])
  const passage = checkPassage(scope, options)
  const length = checkNumber(scope, 'length', options.length, { unit: 'm', above: 0 })
  const count = checkOptional(scope, 'count', options.count, { above: 0 }, 1)
  const viscosity = checkOptional(scope, 'viscosity', options.viscosity, { unit: 'Pa·s', above: 0 }, 1.81e-5)
  const flowResistance = finiteResult(scope, 'flow resistance', (passage.factor * viscosity * length) / count)
  if (!(flowResistance > 0)) fail('out-of-range', scope, 'gives no flow resistance')
  const flow = checkOptional(scope, 'flow', options.flow, { unit: 'm³/s', above: 0 }, null)
  const perDensity = pressurePerDensity(scope, options)
  const { absolutePressure } = options
  const unknown = flow === null && absolutePressure === undefined
  const pressure = unknown ? null : checkAbsolutePressure(scope, 'absolutePressure', absolutePressure)
  const found = { kind: 'FlowResistance', restriction: passage.restriction, flowResistance } as const
  if (flow === null || pressure === null) {
    return { ...found, pressureDrop: null, reynoldsNumber: null, entranceLength: null, cautions: passage.cautions }
  }
  const density = pressure / perDensity
  const speed = flow / count / passage.section
  const reynoldsNumber = finiteResult(
    scope,
    'Reynolds number',
    (speed * passage.hydraulicDiameter * density) / viscosity,
  )
  const entranceLength = 0.06 * reynoldsNumber * passage.hydraulicDiameter
  const cautions = [...passage.cautions]
  if (reynoldsNumber > 2000) {
    cautions.push(`Not laminar: the Reynolds number of ${reynoldsNumber.toPrecision(4)} is above 2000.`)
  }
  if (length < entranceLength) {
    cautions.push(
      `Not developed: the passage of ${length} m is shorter than its entrance length, ${entranceLength.toPrecision(3)} m.`,
    )
  }
  return { ...found, pressureDrop: flowResistance * flow, reynoldsNumber, entranceLength, cautions }
}

interface Passage {
  readonly restriction: 'capillary' | 'slot'
  /** Resistance over viscosity and length [1/m⁴] */
  readonly factor: number
  /** [m²] */
  readonly section: number
  /** [m] */
  readonly hydraulicDiameter: number
  readonly cautions: readonly string[]
}

function checkPassage(scope: Scope, options: Partial<CapillaryPassage & SlotPassage>): Passage {
  const flat = options.width !== undefined || options.height !== undefined
  if (flat === (options.diameter !== undefined)) {
    fail('invalid-option', scope, `must have either diameter or width and height [m], got ${flat ? 'both' : 'neither'}`)
  }
  if (!flat) {
    const d = checkNumber(scope, 'diameter', options.diameter, { unit: 'm', above: 0 })
    const section = (Math.PI * d ** 2) / 4
    return { restriction: 'capillary', factor: 128 / (Math.PI * d ** 4), section, hydraulicDiameter: d, cautions: [] }
  }
  const h = checkNumber(scope, 'height', options.height, { unit: 'm', above: 0 })
  const w = checkNumber(scope, 'width', options.width, { unit: 'm', atLeast: h })
  return {
    restriction: 'slot',
    factor: 12 / (w * h ** 3),
    section: w * h,
    hydraulicDiameter: (2 * w * h) / (w + h),
    cautions: w < 10 * h ? ['Not wide: a slot less than ten times as wide as high resists by 6 % more or above.'] : [],
  }
}
