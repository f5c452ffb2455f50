import { checkOptions, fail, type Scope, show, within } from '../internal/check.js'

/** Values per parameter, or points one by one. */
export type SweepParameters<P> = { readonly [K in keyof P]: ArrayLike<P[K]> } | readonly P[]

/** Points by number, made when asked for. */
export interface PointList<P> {
  readonly total: number
  readonly at: (index: number) => P
}

/** The points of a grid, last parameter fastest, or of a list. */
export function gridOf<P extends object>(scope: Scope, parameters: SweepParameters<P>): PointList<P> {
  if (Array.isArray(parameters)) {
    const list = parameters as readonly P[]
    if (list.length === 0) fail('invalid-option', scope, 'must have at least one point')
    list.forEach((point, k) => {
      if (typeof point !== 'object' || point === null) {
        fail('invalid-option', within(scope, k), `must be a record of parameters, got ${show(point)}`)
      }
      refuseNaN(within(scope, k), Object.entries(point))
    })
    return { total: list.length, at: (index) => ({ ...list[index] }) }
  }
  checkOptions(scope, parameters, Object.keys(parameters ?? {}))
  const lists = Object.entries(parameters) as [string, ArrayLike<unknown>][]
  if (lists.length === 0) fail('invalid-option', scope, 'must name at least one parameter')
  for (const [name, values] of lists) {
    if (!Array.isArray(values) && !ArrayBuffer.isView(values)) {
      fail('invalid-option', within(scope, name), `must be a list of values, got ${show(values)}`)
    }
    if (values.length === 0) fail('invalid-option', within(scope, name), 'must have at least one value')
    refuseNaN(within(scope, name), Array.from(values).entries())
  }
  const total = lists.reduce((product, [, { length }]) => product * length, 1)
  if (!Number.isSafeInteger(total)) fail('out-of-range', scope, `makes ${total} points, more than can be counted`)
  return { total, at: (index) => combination<P>(lists, index) }
}

/** Parameters may be anything that a program wants to tell apart by, but a NaN is nothing. */
function refuseNaN(scope: Scope, values: Iterable<readonly [string | number, unknown]>): void {
  for (const [key, value] of values) {
    if (Number.isNaN(value)) fail('not-finite', within(scope, key), 'must be a value, got NaN')
  }
}

function combination<P>(lists: readonly (readonly [string, ArrayLike<unknown>])[], index: number): P {
  const picked: [string, unknown][] = []
  let rest = index
  for (let k = lists.length - 1; k >= 0; k--) {
    const [name, values] = lists[k]
    picked[k] = [name, values[rest % values.length]]
    rest = Math.floor(rest / values.length)
  }
  return Object.fromEntries(picked) as P
}
