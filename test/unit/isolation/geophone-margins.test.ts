import { describe, expect, it } from 'vitest'
import { springMount } from '../../../src/elements/index.js'
import { activelyDampedIsolation, loopMargins } from '../../../src/isolation/index.js'

const mass = 1000

/** Margins of damping with ratio `active` on f₀ [Hz], with a geophone of f_g [Hz] and damping ratio 0.7. */
function marginsOf(f0: number, passive: number, active: number, fg: number) {
  const mount = springMount({ mass, naturalFrequency: f0, dampingRatio: passive })
  const damping = { dampingRatio: active, sensor: { naturalFrequency: fg, dampingRatio: 0.7 } }
  return loopMargins(activelyDampedIsolation({ payload: { mass }, mount, damping }))[0]?.margins
}

// The loop has three zeros at the origin, whose computed values scatter by the cube root of rounding; what lies below them
// is rounding and once made the scan endless.
describe('margins of damping with a geophone', () => {
  // Computed from the Routh condition ζ_s,max = ζ_g(f₀/f_g − f_g/f₀), undamped mount; the limit oscillation is at f_g, so
  // that at half of the limit the gain may be doubled.
  it.each([
    [4, 1, 2.625],
    [2, 1, 1.05],
    [2, 0.5, 2.625],
    [10, 4.5, 1.24055556],
  ])('f₀ %d Hz, f_g %d Hz: at half of the limit %d the gain margin is 2, at f_g', (f0, fg, limit) => {
    const margins = marginsOf(f0, 0, limit / 2, fg)
    expect(margins?.gainMargin).toBeCloseTo(2, 7)
    expect(margins?.phaseCrossovers.length).toBe(1)
    expect(margins?.phaseCrossovers[0]?.frequency).toBeCloseTo(fg, 8)
    expect(margins?.closedLoop).toBe('stable')
  })

  it('f₀ 4 Hz, ζ 0.02, f_g 1 Hz, ζ_s 1 has a modulus margin of 0.473858 at 1.312 Hz', () => {
    // Computed from the closed form of the loop.
    const margins = marginsOf(4, 0.02, 1, 1)
    expect(margins?.modulusMargin).toBeCloseTo(0.473858, 6)
    expect(margins?.modulusMarginFrequency).toBeCloseTo(1.312, 3)
  })
})
