import { checkNumber, checkOptional, type Scope } from '../internal/check.js'

/** State of the gas where it matters for density. */
export interface GasOptions {
  /** Temperature [K], above 0. @defaultValue 293.15 */
  readonly temperature?: number
  /** Specific gas constant [J/(kg·K)], above 0. @defaultValue 287.05, dry air */
  readonly gasConstant?: number
}

export const gasKeys = ['temperature', 'gasConstant'] as const

/** R·T, the pressure per density [Pa per kg/m³]. */
export function pressurePerDensity(scope: Scope, options: GasOptions): number {
  const temperature = checkOptional(scope, 'temperature', options.temperature, { unit: 'K', above: 0 }, 293.15)
  const range = { unit: 'J/(kg·K)', above: 0 }
  return temperature * checkOptional(scope, 'gasConstant', options.gasConstant, range, 287.05)
}

export function checkAbsolutePressure(scope: Scope, key: string, value: unknown): number {
  return checkNumber(scope, key, value, { unit: 'Pa', above: 0 })
}
