import { mostOf } from '../internal/extremes.js'
import { poles } from '../systems/poles.js'
import type { StateSpace } from '../systems/types.js'
import type { IsolationModel } from './model.js'
import type { LimitedInterval } from './simulate-with-limits.js'

/** What to mind when an actuator was at its limit: the controllers whose states go on integrating meanwhile. */
export function windupCautions({ diagram }: IsolationModel, limited: readonly LimitedInterval[]): string[] {
  if (limited.length === 0) return []
  const longest = mostOf(limited.map(({ from, to }) => to - from))
  const slow = Object.entries(diagram.blocks).filter(
    ([, block]) =>
      block.role === 'controller' && poles(block as StateSpace).some(({ re, im }) => Math.hypot(re, im) * longest < 1),
  )
  return [
    'A loop at its limit does not damp: limit force and stroke in hardware, with a safe stop.',
    ...slow.map(
      ([name]) =>
        `Block ${name} integrates on while its actuator is at a limit (windup): hold or bleed it meanwhile, or it overshoots.`,
    ),
  ]
}
