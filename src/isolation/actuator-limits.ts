import type { ModelLimit } from './model.js'

/** The bounds on an actuator output of a model, as far as they are known; several motors may name the same output, and the smallest
 * counts. */
export function actuatorLimits(
  output: string,
  unit: 'N' | 'm',
  ...bounds: readonly { readonly value?: number | undefined; readonly rate?: number | undefined }[]
): ModelLimit[] {
  const value = Math.min(...bounds.map((bound) => bound.value ?? Number.POSITIVE_INFINITY))
  const rate = Math.min(...bounds.map((bound) => bound.rate ?? Number.POSITIVE_INFINITY))
  return [
    ...(value < Number.POSITIVE_INFINITY ? [{ name: output, output, value, unit }] : []),
    ...(rate < Number.POSITIVE_INFINITY
      ? [{ name: `${output}Rate`, output, of: 'rate' as const, value: rate, unit: `${unit}/s` }]
      : []),
  ]
}
