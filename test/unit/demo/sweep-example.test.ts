import { describe, expect, it } from 'vitest'
import { evaluate, grid } from '../../../docs/examples/sweep/design-point.js'
import { mergeSweeps, sweep, toJson } from '../../../src/index.js'

const parameters = grid([3, 4, 3])
const part = (index: number, count: number) => sweep({ parameters, evaluate, shard: { index, count } })

describe('the sweep of stiffness, gain and delay', () => {
  const whole = sweep({ parameters, evaluate })

  it('finds margins everywhere and a payload rms where the loop is stable', () => {
    expect([whole.total, whole.failed]).toEqual([36, 0])
    const results = whole.rows.map(({ result }) => result)
    expect(results.every((result) => (result?.modulusMargin ?? 0) > 0)).toBe(true)
    expect(results.every((result) => (result?.closedLoop === 'stable') === (result?.payloadRms !== null))).toBe(true)
    expect(new Set(results.map((result) => result?.closedLoop))).toEqual(new Set(['stable', 'unstable']))
  })

  it.each([2, 7])('has the same rows to the last bit in %i shards', (count) => {
    const shards = Array.from({ length: count }, (_, index) => part(index, count))
    expect(toJson(mergeSweeps(shards.reverse()))).toBe(toJson(whole))
  })
})
