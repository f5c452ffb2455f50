import { describe, expect, it } from 'vitest'
import { denseFrom } from '../../../src/linear/dense.js'
import { resolventSize } from '../../../src/linear/resolvent-size.js'

describe('resolventSize', () => {
  it('is one over the distance for a matrix with orthogonal eigenvectors, to a factor of three', () => {
    // by hand: ±2j from 2.001 j, and −5
    const turn = resolventSize(
      denseFrom(
        [
          [0, 2, 0],
          [-2, 0, 0],
          [0, 0, -5],
        ],
        3,
      ),
    )
    expect(turn(0, 2.001) / 1000).toBeGreaterThan(1 / 3)
    expect(turn(0, 2.001) / 1000).toBeLessThan(3)
  })

  it('is the square of that for a double eigenvalue with one eigenvector', () => {
    // by hand: (s I − [0, 1; 0, 0])⁻¹ = [1/s, 1/s²; 0, 1/s]
    const jordan = resolventSize(denseFrom([[0, 1], [0, 0]], 2)) // biome-ignore format: small matrices
    expect(jordan(1e-6, 0) / 1e12).toBeGreaterThan(1 / 3)
    expect(jordan(1e-6, 0) / 1e12).toBeLessThan(3)
  })

  it('is at least 1/ε on an eigenvalue', () => {
    expect(resolventSize(denseFrom([[3]], 1))(3, 0)).toBeGreaterThan(1e15)
  })
})
