import { checkNumber, checkOptional, checkOptions, fail, type Scope, scopeOf, within } from '../internal/check.js'
import { finiteResult } from '../internal/finite-result.js'
import type { FlowResistance } from './flow-resistance.js'
import { checkAbsolutePressure, type GasOptions, gasKeys, pressurePerDensity } from './gas-state.js'

/** One or more equal orifices and the gas that passes them. */
export interface OrificeOptions extends GasOptions {
  /** [m], above 0 */
  readonly diameter: number
  /** Equal orifices side by side, above 0. @defaultValue 1 */
  readonly count?: number
  /** Effective over geometric section, above 0, at most 1. @defaultValue 0.62, sharp-edged */
  readonly dischargeCoefficient?: number
  /** Ratio of specific heats, above 1, at most 1.7. @defaultValue 1.4 */
  readonly heatCapacityRatio?: number
}

/** Options of {@link orificeFlowResistance}. */
export interface OrificeFlowResistanceOptions extends OrificeOptions {
  /** Amplitude of the sinusoidal volume flow through all orifices [m³/s], above 0; `restrictionFlow` gives it */
  readonly flow: number
  /** Absolute pressure of the gas [Pa], above 0 */
  readonly absolutePressure: number
}

/** Options of {@link orificeFlow}. */
export interface OrificeFlowOptions extends OrificeOptions {
  /** Absolute pressure the gas comes from [Pa], above 0 */
  readonly upstreamAbsolutePressure: number
  /** Absolute pressure it goes to [Pa], at least 0, at most the upstream one */
  readonly downstreamAbsolutePressure: number
}

/** Steady flow through orifices; made by {@link orificeFlow}. */
export interface OrificeFlow {
  readonly kind: 'OrificeFlow'
  /** [kg/s] */
  readonly massFlow: number
  /** Volume flow at the downstream pressure and the given temperature [m³/s]; null into a vacuum */
  readonly volumeFlow: number | null
  /** Whether a lower downstream pressure would change nothing */
  readonly choked: boolean
  /** Ratio of downstream to upstream pressure below which the flow is choked */
  readonly criticalPressureRatio: number
}

/** Flow resistance of orifices under a sinusoidal flow of stated amplitude.
 *
 * Δp = Kq·q·|q|, Kq = ρ/(2·(Cd·A)²); the resistance that dissipates as much is 8/(3π)·Kq·(amplitude of q). It is right at
 * that amplitude only: smaller motion is damped less, and together with levelling may end in a limit cycle; a laminar
 * restriction has no such fault. A caution stands where the drop exceeds a tenth of the pressure.
 * @param options - see {@link OrificeFlowResistanceOptions}
 * @returns the resistance [Pa·s/m³] and what was checked, pressure drop at the crest of the flow
 * @throws {@link IsolationError} `invalid-option`, `not-finite`; `out-of-range` also for a flow beyond the choked one
 * @source N. M. Krylov, N. N. Bogoliubov, Introduction to non-linear mechanics, 1943 (equivalent linearisation); D. B. DeBra,
 * Design of laminar flow restrictors for damping pneumatic vibration isolators, CIRP Annals 33, 1984 (limit cycles)
 * @example
 * import { orificeFlowResistance } from 'restmass'
 * const orifice = orificeFlowResistance({ diameter: 0.001, flow: 1e-5, absolutePressure: 395524.5 })
 * orifice.flowResistance // 8.413e7
 */
export function orificeFlowResistance(options: OrificeFlowResistanceOptions): FlowResistance {
  const scope = scopeOf('orificeFlowResistance')
  checkOptions(scope, options, [...orificeKeys, 'flow', 'absolutePressure'])
  const { section, perDensity, ratio } = checkOrifice(scope, options)
  const absolutePressure = checkAbsolutePressure(scope, 'absolutePressure', options.absolutePressure)
  const flow = checkNumber(scope, 'flow', options.flow, { unit: 'm³/s', above: 0 })
  const density = absolutePressure / perDensity
  const most = section * flowFunction(criticalRatio(ratio), ratio) * Math.sqrt(perDensity)
  if (flow >= most) {
    const allowed = `below the choked flow of ${most} m³/s`
    fail('out-of-range', within(scope, 'flow'), `must be ${allowed}, got ${flow}`, {
      value: flow,
      allowed,
      unit: 'm³/s',
    })
  }
  const pressureDrop = finiteResult(scope, 'pressure drop', (density / 2) * (flow / section) ** 2)
  const flowResistance = finiteResult(scope, 'flow resistance', ((8 / (3 * Math.PI)) * pressureDrop) / flow)
  if (!(flowResistance > 0)) fail('out-of-range', scope, 'gives no flow resistance')
  const cautions = ['An orifice damps as stated at this amplitude only, smaller motion less.']
  if (pressureDrop > 0.1 * absolutePressure) {
    cautions.push('Compressible: the pressure drop exceeds a tenth of the absolute pressure.')
  }
  const none = { reynoldsNumber: null, entranceLength: null }
  return { kind: 'FlowResistance', restriction: 'orifice', flowResistance, pressureDrop, ...none, cautions }
}

/** Steady flow of a gas through orifices, choked where the pressure ratio is low enough.
 *
 * ṁ = Cd·A·p₁·√(2γ/((γ − 1)·R·T₁)·(r^(2/γ) − r^((γ + 1)/γ))), r = p₂/p₁, but not below (2/(γ + 1))^(γ/(γ − 1)).
 * @param options - see {@link OrificeFlowOptions}
 * @returns mass flow, volume flow, and whether it is choked
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `not-finite`
 * @source A. H. Shapiro, The Dynamics and Thermodynamics of Compressible Fluid Flow, 1953, chapter 4
 * @example
 * import { orificeFlow } from 'restmass'
 * const pressures = { upstreamAbsolutePressure: 4e5, downstreamAbsolutePressure: 1e5 }
 * orificeFlow({ diameter: 0.001, ...pressures }).massFlow // 4.5976734e-4
 */
export function orificeFlow(options: OrificeFlowOptions): OrificeFlow {
  const scope = scopeOf('orificeFlow')
  checkOptions(scope, options, [...orificeKeys, 'upstreamAbsolutePressure', 'downstreamAbsolutePressure'])
  const { section, perDensity, ratio } = checkOrifice(scope, options)
  const from = checkAbsolutePressure(scope, 'upstreamAbsolutePressure', options.upstreamAbsolutePressure)
  const range = { unit: 'Pa', atLeast: 0, atMost: from }
  const to = checkNumber(scope, 'downstreamAbsolutePressure', options.downstreamAbsolutePressure, range)
  const criticalPressureRatio = criticalRatio(ratio)
  const choked = to / from <= criticalPressureRatio
  const speed = flowFunction(choked ? criticalPressureRatio : to / from, ratio)
  const massFlow = finiteResult(scope, 'mass flow', (section * from * speed) / Math.sqrt(perDensity))
  const volumeFlow = to === 0 ? null : finiteResult(scope, 'volume flow', (massFlow * perDensity) / to)
  return { kind: 'OrificeFlow', massFlow, volumeFlow, choked, criticalPressureRatio }
}

const orificeKeys = ['diameter', 'count', 'dischargeCoefficient', 'heatCapacityRatio', ...gasKeys]

function checkOrifice(scope: Scope, options: OrificeOptions) {
  const diameter = checkNumber(scope, 'diameter', options.diameter, { unit: 'm', above: 0 })
  const count = checkOptional(scope, 'count', options.count, { above: 0 }, 1)
  const range = { above: 0, atMost: 1 }
  const coefficient = checkOptional(scope, 'dischargeCoefficient', options.dischargeCoefficient, range, 0.62)
  return {
    /** Effective section of all orifices [m²] */
    section: (coefficient * count * Math.PI * diameter ** 2) / 4,
    perDensity: pressurePerDensity(scope, options),
    ratio: checkOptional(scope, 'heatCapacityRatio', options.heatCapacityRatio, { above: 1, atMost: 1.7 }, 1.4),
  }
}

function criticalRatio(ratio: number): number {
  return (2 / (ratio + 1)) ** (ratio / (ratio - 1))
}

/** ṁ·√(R·T)/(Cd·A·p₁) at a pressure ratio r. */
function flowFunction(r: number, ratio: number): number {
  return Math.sqrt(
    ((2 * ratio) / (ratio - 1)) * r ** (2 / ratio) * Math.abs(Math.expm1(((ratio - 1) / ratio) * Math.log(r))),
  )
}
