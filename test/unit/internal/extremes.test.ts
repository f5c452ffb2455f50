import { describe, expect, it } from 'vitest'
import { leastOf, mostOf } from '../../../src/internal/extremes.js'

describe('the extremes of a list', () => {
  it('are found whatever its length', () => {
    // A call takes some hundred thousand arguments at most; a loop with 2.4 s of delay has more samples.
    const long = Array.from({ length: 1_000_000 }, (_, k) => (k === 700_000 ? -3 : k))
    expect([leastOf(long), mostOf(long)]).toEqual([-3, 999_999])
  })

  it('of nothing are those that change nothing', () => {
    expect([leastOf([]), mostOf([])]).toEqual([Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY])
  })
})
