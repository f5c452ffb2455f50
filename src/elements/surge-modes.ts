import type { CanonicalMount } from './types.js'

/** One internal resonance of a coil spring as a mass sprung to the motion of its ends, on which it pulls back. */
export interface SurgeMode {
  /** Mass [kg], spring to the ends [N/m] and dashpot beside it [N·s/m] */
  readonly mass: number
  readonly stiffness: number
  readonly damping: number
  /** What it follows is upper·x_upper + lower·x_lower: the mean of the ends, ½ and ½, or the stretch, 1 and −1. */
  readonly upper: number
  readonly lower: number
}

/** Internal resonances of all coil springs in a mount: partial fractions of k·θ·cot θ and k·θ/sin θ, θ = ω·√(m/k). */
export function surgeModes({ surge = [] }: Pick<CanonicalMount, 'surge'>): SurgeMode[] {
  return surge.flatMap(({ mass: coils, naturalFrequency, dampingRatio, modes }) =>
    Array.from({ length: modes }, (_, i) => {
      const n = i + 1
      const odd = n % 2 === 1
      const omega = 2 * Math.PI * n * naturalFrequency
      const mass = ((odd ? 8 : 2) * coils) / (n * Math.PI) ** 2
      return {
        mass,
        stiffness: mass * omega ** 2,
        damping: 2 * dampingRatio * mass * omega,
        upper: odd ? 0.5 : 1,
        lower: odd ? 0.5 : -1,
      }
    }),
  )
}
