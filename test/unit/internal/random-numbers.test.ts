import { describe, expect, it } from 'vitest'
import { randomNumbers } from '../../../src/internal/random-numbers.js'

describe('randomNumbers', () => {
  // the generator of Blackman and Vigna (2021) written anew in Python with whole numbers of any length
  it.each([
    [1, [0.09156953175513294, 0.8881928137485323, 0.43427017709149285, 0.746779782068075]],
    [42, [0.15377165265745885, 0.018084542542176507, 0.5348906284683476, 0.7272476959257951]],
  ])('starts from seed %i with the same row everywhere', (seed, row) => {
    const next = randomNumbers(seed)
    expect(row.map(() => next())).toEqual(row)
  })
})
