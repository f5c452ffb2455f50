import type { ActuatorLimits } from '../elements/types.js'
import type { ModelLimit } from './model.js'

type Bounded = NonNullable<ModelLimit['of']>

/** What is bounded of an output; several actuators may name the same one, and the smallest counts. */
export type Bounds = { readonly [B in Bounded]?: number | undefined }

/** The bounds on an output of a model, as far as they are known. */
export function actuatorLimits(
  name: string,
  output: string,
  unit: 'N' | 'm',
  ...bounds: readonly Bounds[]
): ModelLimit[] {
  const kinds = [
    ['value', '', ''],
    ['rate', 'Rate', '/s'],
    ['rms', 'Rms', ''],
  ] as const
  return kinds.flatMap(([of, suffix, per]) => {
    const value = Math.min(...bounds.map((bound) => bound[of] ?? Number.POSITIVE_INFINITY))
    if (value === Number.POSITIVE_INFINITY) return []
    return [{ name: name + suffix, output, ...(of === 'value' ? {} : { of }), value, unit: unit + per }]
  })
}

/** The bounds of motors between two bodies: on their force, and on the stretch between the bodies, half the stroke either way. */
export function motorLimits(
  force: string,
  stretch: string,
  number: string,
  ...limits: readonly (ActuatorLimits | undefined)[]
): ModelLimit[] {
  const half = (stroke: number | undefined) => (stroke === undefined ? undefined : stroke / 2)
  return [
    ...actuatorLimits(
      force,
      force,
      'N',
      ...limits.map((each) => ({ value: each?.force, rate: each?.rate, rms: each?.continuousForce })),
    ),
    ...actuatorLimits(
      `actuatorStroke${number}`,
      stretch,
      'm',
      ...limits.map((each) => ({ value: half(each?.stroke) })),
    ),
  ]
}
