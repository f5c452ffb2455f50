import { describe, expect, it } from 'vitest'
import { dynamicStiffness } from '../../../src/elements/dynamic-stiffness.js'
import { type Mount, optimalRelaxation, relaxationMount } from '../../../src/elements/index.js'
import { refusal } from '../refusal.js'

// J. E. Ruzicka, R. D. Cavanaugh, New method for vibration isolation, Machine Design, 1958 (from memory): N, optimum and
// crossing for absolute and for relative motion, common peak. The rows of force are computed from the closed forms
// N/√(2(N + 2)), √((N + 2)/2) and 2/N. All of them were confirmed by a numerical min-max search over the damping.
const absolute = [
  [0.5, 0.186339, 1.09544512, 5],
  [1, 0.30618622, 1.15470054, 3],
  [2, 0.47140452, 1.22474487, 2],
  [3, 0.59292706, 1.26491106, 1.66666667],
  [4, 0.69282032, 1.29099445, 1.5],
  [5, 0.77951196, 1.30930734, 1.4],
  [10, 1.11340443, 1.3540064, 1.2],
] as const
const relative = [
  [0.5, 0.18257419, 1.11803399, 5],
  [1, 0.28867513, 1.22474487, 3],
  [2, 0.40824829, Math.SQRT2, 2],
  [3, 0.47434165, 1.58113883, 1.66666667],
  [4, 0.51639778, 1.73205081, 1.5],
  [5, 0.54554473, 1.87082869, 1.4],
  [10, 0.61545745, 2.44948974, 1.2],
] as const
const force = [
  [0.5, 0.2236068, 1.11803399, 4],
  [1, 0.40824829, 1.22474487, 2],
  [2, Math.SQRT1_2, Math.SQRT2, 1],
] as const
const rows = [
  ...absolute.map((row) => ['absolute', ...row] as const),
  ...relative.map((row) => ['relative', ...row] as const),
  ...force.map((row) => ['force', ...row] as const),
]

type Response = 'absolute' | 'relative' | 'force'

/** Size of a response of a unit mass on a mount of unit stiffness, worked out from K(jω) alone. */
function sizeOf(response: Response, mount: Mount, ratio: number): number {
  const K = dynamicStiffness(mount, [ratio / (2 * Math.PI)])
  const below = Math.hypot((K.re[0] as number) - ratio ** 2, K.im[0] as number)
  const above = { absolute: Math.hypot(K.re[0] as number, K.im[0] as number), relative: ratio ** 2, force: 1 }
  return above[response] / below
}

function highest(response: Response, stiffnessRatio: number, dampingRatio: number): number {
  const mount = relaxationMount({ stiffness: 1, stiffnessRatio, damping: 2 * dampingRatio })
  const grid = Array.from({ length: 6001 }, (_, k) => 0.01 * 1e3 ** (k / 6000))
  return Math.max(...grid.map((ratio) => sizeOf(response, mount, ratio)))
}

describe('optimalRelaxation', () => {
  it.each(rows)(
    'for the %s response at ratio %d is damping %d, crossing %d, peak %d',
    (response, N, z, crossing, peak) => {
      const found = optimalRelaxation({ stiffnessRatio: N, response })
      expect(found?.dampingRatio).toBeCloseTo(z, 8)
      expect(found?.crossingRatio).toBeCloseTo(crossing, 8)
      expect(found?.peak).toBeCloseTo(peak, 8)
    },
  )

  it.each(rows)('for the %s response at ratio %d has the lowest peak there is', (response, N, z, crossing, peak) => {
    // A grid of 0.1 % misses a peak of this width by less than 1e-5.
    expect(highest(response, N, z)).toBeCloseTo(peak, 4)
    for (const off of [0.8, 0.95, 1.05, 1.25]) expect(highest(response, N, off * z)).toBeGreaterThanOrEqual(peak - 1e-4)
    expect(highest(response, N, 0.8 * z)).toBeGreaterThan(1.01 * peak)
    for (const any of [0.1, 1, 10]) {
      const mount = relaxationMount({ stiffness: 1, stiffnessRatio: N, damping: 2 * any })
      expect(sizeOf(response, mount, crossing)).toBeCloseTo(peak, 6)
    }
  })

  it('has no optimum for a force above a ratio of 2, and says so', () => {
    expect(optimalRelaxation({ stiffnessRatio: 2.0001, response: 'force' })).toBeNull()
    // The static deflection is 1 and stays the largest for a whole range of dampers.
    expect(highest('force', 3, 0.9)).toBeCloseTo(1, 3)
    expect(highest('force', 3, 1.2)).toBeCloseTo(1, 3)
  })

  it('takes the absolute response by default', () => {
    expect(optimalRelaxation({ stiffnessRatio: 3 })).toEqual(
      optimalRelaxation({ stiffnessRatio: 3, response: 'absolute' }),
    )
  })

  it.each([
    [{ stiffnessRatio: 0 }, 'out-of-range', 'stiffnessRatio'],
    [{ stiffnessRatio: Number.NaN }, 'not-finite', 'stiffnessRatio'],
    [{ stiffnessRatio: 3, response: 'velocity' }, 'invalid-option', 'response'],
    [{ stiffnessRatio: 3, damping: 1 }, 'invalid-option', 'damping'],
  ])('refuses %o as %s at %s', (options, code, path) => {
    expect(refusal(() => optimalRelaxation(options as never))).toMatchObject({ code, details: { path } })
  })
})
