import type { LimitMode } from './limit-modes.js'
import type { Bound } from './limited-plant.js'

/** What a bounded output does next, from what is wanted of it, what it is, and the rate of what is wanted.
 *
 * A ramp ends where it meets what is wanted, provided that the ramp is the faster one there; so a limit that begins to hold is
 * not left at once for rounding. */
export function nextMode(
  mode: LimitMode,
  { value, rate }: Bound,
  wanted: number,
  actual: number,
  slope: number,
): LimitMode {
  switch (mode) {
    case 'free':
      if (Math.abs(wanted) > value) return wanted > 0 ? 'high' : 'low'
      if (Math.abs(slope) > rate) return slope > 0 ? 'rising' : 'falling'
      return 'free'
    case 'high':
      return wanted < value ? 'free' : 'high'
    case 'low':
      return wanted > -value ? 'free' : 'low'
    case 'rising':
      if (wanted < actual && slope < rate) return 'free'
      return actual > value ? 'high' : 'rising'
    case 'falling':
      if (wanted > actual && slope > -rate) return 'free'
      return actual < -value ? 'low' : 'falling'
  }
}
