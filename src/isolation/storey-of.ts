import { checkOneOf, checkOptions, fail, type Scope, show, within } from '../internal/check.js'
import { type ActivelyDampedIsolationOptions, activelyDampedStorey } from './actively-damped-isolation.js'
import { onFloor } from './floor.js'
import type { FloorOptions } from './floor-mobility.js'
import { concepts, type Storey } from './model.js'
import { type ParallelActiveIsolationOptions, parallelActiveStorey } from './parallel-active-isolation.js'
import { type PassiveIsolationOptions, passiveStorey } from './passive-isolation.js'
import { type PneumaticIsolationOptions, pneumaticStorey } from './pneumatic-isolation.js'
import { type SeriesActiveIsolationOptions, seriesActiveStorey } from './series-active-isolation.js'
import type { SixAxisFloorOptions } from './six-axis-floor.js'
import { sixAxisStorey } from './six-axis-isolation.js'
import type { SixAxisIsolationOptions } from './six-axis-options.js'
import { measuresFloor } from './six-axis-ports.js'
import { stack } from './stack.js'

/** Options of any concept, told apart by `concept`. */
export type IsolationOptions =
  | ({ readonly concept: 'passive' } & PassiveIsolationOptions)
  | ({ readonly concept: 'pneumatic' } & PneumaticIsolationOptions)
  | ({ readonly concept: 'activelyDamped' } & ActivelyDampedIsolationOptions)
  | ({ readonly concept: 'parallelActive' } & ParallelActiveIsolationOptions)
  | ({ readonly concept: 'seriesActive' } & SeriesActiveIsolationOptions)
  | ({ readonly concept: 'stacked' } & StackedIsolationOptions)
  | ({ readonly concept: 'sixAxis' } & SixAxisIsolationOptions)

/** Options of {@link stackedIsolation}: the option objects of two concepts, each with its `concept`. */
export interface StackedIsolationOptions {
  /** What stands on the floor; its payload carries the upper storey */
  readonly lower: IsolationOptions
  /** What stands on the lower payload */
  readonly upper: IsolationOptions
  /** A floor that gives way, beneath the whole stack. @defaultValue none, a rigid one */
  readonly floor?: FloorOptions | SixAxisFloorOptions
}

/** The storey of any concept, with `above` on its payload. */
export function storeyOf(scope: Scope, options: IsolationOptions, above: Storey | null): Storey {
  if (typeof options !== 'object' || options === null) {
    fail('invalid-option', scope, `must be an object with a concept, got ${show(options)}`)
  }
  checkOneOf(scope, 'concept', options.concept, concepts)
  const { concept: _, ...rest } = options
  const weight = above?.weight ?? 0
  switch (options.concept) {
    case 'passive':
      return passiveStorey(scope, rest as PassiveIsolationOptions, weight)
    case 'pneumatic':
      return pneumaticStorey(scope, rest as PneumaticIsolationOptions, weight)
    case 'activelyDamped':
      return activelyDampedStorey(scope, rest as ActivelyDampedIsolationOptions, weight)
    case 'parallelActive':
      return parallelActiveStorey(scope, rest as ParallelActiveIsolationOptions, weight)
    case 'seriesActive':
      return seriesActiveStorey(scope, rest as SeriesActiveIsolationOptions, weight)
    case 'stacked':
      return stackedStorey(scope, rest as StackedIsolationOptions, above)
    case 'sixAxis':
      return sixAxisStorey(scope, rest as SixAxisIsolationOptions, above?.sixAxis?.load ?? null)
  }
}

/** All storeys of a stack as one. A stack within a stack is taken apart first, so that ports are named by the count of
 * storeys from the top, however the chain was put together. */
function stackedStorey(scope: Scope, options: StackedIsolationOptions, above: Storey | null): Storey {
  return onFloor(scope, options.floor, storeysOf(scope, options, above).reduce(stack))
}

/** Storeys of a stack from the bottom up. */
function storeysOf(scope: Scope, options: StackedIsolationOptions, above: Storey | null): Storey[] {
  checkOptions(scope, options, ['lower', 'upper', 'floor'])
  const upper = partOf(within(scope, 'upper'), options.upper, above)
  const at = within(scope, 'lower')
  const lower = partOf(at, options.lower, upper[0])
  refuseMixture(scope, lower[lower.length - 1], upper[0])
  return [...lower, ...upper]
}

function partOf(scope: Scope, options: IsolationOptions, above: Storey | null): Storey[] {
  const part = options as { readonly floor?: unknown; readonly concept?: unknown } | undefined
  if (part?.floor !== undefined) {
    fail('invalid-option', within(scope, 'floor'), 'belongs to the stack: give it beside lower and upper')
  }
  if (part?.concept !== 'stacked') return [storeyOf(scope, options, above)]
  const { concept: _, ...rest } = options as { concept: 'stacked' } & StackedIsolationOptions
  return storeysOf(scope, rest, above)
}

/** Storeys of a stack have the same axes and gravity, and what measures against a payload needs to know where it is. */
function refuseMixture(scope: Scope, lower: Storey, upper: Storey): void {
  if ((lower.sixAxis === undefined) !== (upper.sixAxis === undefined)) {
    fail(
      'unsupported',
      within(within(scope, 'upper'), 'concept'),
      'must have as many axes as what it stands on, 1 or 6',
    )
  }
  const at = within(scope, 'lower')
  if (lower.sixAxis?.gravity !== upper.sixAxis?.gravity) {
    fail('invalid-option', within(within(at, 'payload'), 'gravity'), 'must be that of what stands on it')
  }
  if (measuresFloor(upper.diagram) && lower.diagram.inputs.some((name) => name.startsWith('foot'))) {
    fail('unsupported', within(at, 'feet'), 'must be rigid under a storey that measures where it stands')
  }
}
