import { responseKernel } from '../linear/response-kernel.js'
import { denseSystem } from '../systems/dense-system.js'
import type { StateSpace } from '../systems/types.js'

/** Share of the largest response to inputs of one kind below which a response is rounding: loops that do not meet still do by the
 * last digit of their matrices. */
const rounding = 1e-10
const places = 25

/** The inputs that reach an output by more than rounding, against those of the same kind such as the other axes of the floor.
 * @param range - where to look [rad/s]; an end at 0 or Infinity takes a place some decades inside */
export function liveInputs(
  closed: StateSpace,
  output: string,
  inputs: readonly string[],
  range: readonly [from: number, to: number],
): ReadonlySet<string> {
  const kinds = new Set(inputs.map(kindOf))
  const family = closed.inputs.filter((input) => kinds.has(kindOf(input)))
  if (family.length === kinds.size) return new Set(inputs)
  const columns = family.map((input) => closed.inputs.indexOf(input))
  const kernel = responseKernel(denseSystem(closed, columns, [closed.outputs.indexOf(output)]))
  const from = Math.max(range[0], 1e-2)
  const to = Math.max(Math.min(range[1], 1e5), 10 * from)
  const sizes = family.map(() => 0)
  for (let k = 0; k < places; k++) {
    const value = kernel.at(0, from * (to / from) ** ((k + 0.5) / places))
    if (value === null) continue
    for (let i = 0; i < sizes.length; i++) sizes[i] = Math.max(sizes[i], Math.hypot(value.re[i], value.im[i]))
  }
  return new Set(
    inputs.filter((input) => {
      const alike = sizes.filter((_, i) => kindOf(family[i]) === kindOf(input))
      return sizes[family.indexOf(input)] > rounding * Math.max(...alike)
    }),
  )
}

function kindOf(input: string): string {
  return input.replace(/(R?[XYZxyz]|\d+)$/, '')
}
