import { describe, expect, it } from 'vitest'
import { rootGroups } from '../../../src/systems/root-groups.js'

const real = (re: number) => ({ re, im: 0 })
const pair = (re: number, im: number) => [
  { re, im },
  { re, im: -im },
]

describe('rootGroups', () => {
  // A zero known to a part in 1e16 that counts twice is known to 1e-8 (J. H. Wilkinson, The Algebraic Eigenvalue Problem, 1965)
  it.each([
    ['as two on the axis', [real(-1 - 3e-8), real(-1 + 3e-8)]],
    ['as two on the axis in the other order', [real(-1 + 3e-8), real(-1 - 3e-8)]],
    ['as a conjugate pair', pair(-1, 3e-8)],
    ['not at all', [real(-1), real(-1)]],
  ])('gives a double zero at −1 that rounding has split %s to the same poles', (_, zeros) => {
    const groups = rootGroups([real(0.999), real(0.9), real(0.5)], [real(0.99), ...zeros])
    expect(groups).toEqual([
      { poles: [real(0.5)], zeros: [real(-1)] },
      { poles: [real(0.999), real(0.9)], zeros: [real(0.99), real(-1)] },
    ])
  })

  it('keeps two zeros apart that are: those of slow corners near 1', () => {
    const [first, second] = [real(1 - 1e-9), real(1 - 3e-9)]
    const [group] = rootGroups([real(0.9), real(0.8)], [first, second])
    expect(group.zeros).toEqual([second, first])
  })

  it('keeps a resonance of the numerator on the circle', () => {
    const zeros = pair(0.6, 0.8)
    expect(rootGroups(pair(0.5, 0.5), zeros)[0].zeros).toEqual(zeros)
  })
})
