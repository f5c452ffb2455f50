import { describe, expect, it } from 'vitest'
import { fromJson, IsolationError, mergeSweeps, naturalFrequency, sweep, toJson } from '../../../src/index.js'
import { refusal } from '../refusal.js'

const parameters = { stiffness: [1e4, 4e4, 9e4], mass: [1, 4] }
const evaluate = (point: { stiffness: number; mass: number }) => ({ frequency: naturalFrequency(point) })

describe('order', () => {
  it('runs through all combinations, the last parameter fastest', () => {
    const { rows, total, failed } = sweep({ parameters, evaluate })
    expect([total, failed]).toEqual([6, 0])
    expect(rows.map(({ parameters: p }) => [p.stiffness, p.mass])).toEqual([
      [1e4, 1],
      [1e4, 4],
      [4e4, 1],
      [4e4, 4],
      [9e4, 1],
      [9e4, 4],
    ])
  })

  it('takes points one by one', () => {
    const { rows } = sweep({ parameters: [{ x: 3 }, { x: 1 }], evaluate: ({ x }) => ({ y: x }) })
    expect(rows.map(({ result }) => result?.y)).toEqual([3, 1])
  })

  it('takes typed arrays', () => {
    const { rows } = sweep({ parameters: { x: Float64Array.of(2, 5) }, evaluate: ({ x }) => ({ y: 2 * x }) })
    expect(rows.map(({ result }) => result?.y)).toEqual([4, 10])
  })
})

describe('shards', () => {
  for (const count of [1, 2, 7, 11]) {
    it(`join to the bits of an undivided run: ${count}`, () => {
      const shards = Array.from({ length: count }, (_, index) =>
        sweep({ parameters, evaluate, shard: { index, count } }),
      )
      expect(mergeSweeps(shards.reverse())).toEqual(sweep({ parameters, evaluate }))
    })
  }

  it('that repeat or miss a point are refused', () => {
    const half = sweep({ parameters, evaluate, shard: { index: 0, count: 2 } })
    expect(refusal(() => mergeSweeps([half, half]))).toMatchObject({ code: 'invalid-option' })
    expect(refusal(() => mergeSweeps([half])).message).toContain('no shard holds point 1')
    const other = sweep({ parameters: { x: [1] }, evaluate: ({ x }) => ({ x }) })
    expect(refusal(() => mergeSweeps<unknown, unknown>([half, other]))).toMatchObject({ code: 'dimension-mismatch' })
  })
})

describe('a bad point', () => {
  it('is a row with its error, and the sweep goes on', () => {
    const { rows, failed } = sweep({ parameters: { stiffness: [1e4, -1], mass: [1] }, evaluate })
    expect(failed).toBe(1)
    expect(rows[0].error).toBeNull()
    expect(rows[1]).toMatchObject({ result: null, error: { code: 'out-of-range' } })
  })

  it('keeps the message of an error that is not of this package', () => {
    const { rows } = sweep({
      parameters: { x: [1] },
      evaluate: (): { y: number } => {
        throw new TypeError('no such thing')
      },
    })
    expect(rows[0].error).toEqual({ code: null, message: 'no such thing' })
  })

  it('is one that gives NaN or no flat record', () => {
    const give = (result: object) => sweep({ parameters: { x: [1] }, evaluate: () => result }).rows[0].error?.code
    expect(give({ y: Number.NaN })).toBe('not-finite')
    expect(give({ y: [1] })).toBe('invalid-option')
    expect(give([1])).toBe('invalid-option')
    expect(give({ y: null, text: 'a', truth: true, far: Number.POSITIVE_INFINITY })).toBeUndefined()
  })
})

describe('progress', () => {
  it('is told after every point, and its rows let a stopped sweep go on', () => {
    const seen: number[] = []
    const rows: ReturnType<typeof sweep<{ stiffness: number; mass: number }, { frequency: number }>>['rows'][number][] =
      []
    const stop = () =>
      sweep({
        parameters,
        evaluate,
        onProgress: ({ done, total, row }) => {
          seen.push(done / total)
          rows.push(row)
          if (done === 4) throw new Error('power cut')
        },
      })
    expect(stop).toThrow('power cut')
    let again = 0
    const count = (point: { stiffness: number; mass: number }) => {
      again++
      return evaluate(point)
    }
    expect(sweep({ parameters, evaluate: count, resume: rows })).toEqual(sweep({ parameters, evaluate }))
    expect(again).toBe(2)
    expect(seen).toEqual([1 / 6, 2 / 6, 3 / 6, 4 / 6])
  })

  it('of another sweep is not resumed', () => {
    const { rows } = sweep({ parameters: { ...parameters, mass: [2, 4] }, evaluate })
    expect(refusal(() => sweep({ parameters, evaluate, resume: rows }))).toMatchObject({ code: 'dimension-mismatch' })
  })
})

it('refuses what is no sweep', () => {
  const refused = (options: object) => refusal(() => sweep(options as Parameters<typeof sweep>[0]))
  expect(refused({ parameters: {}, evaluate })).toMatchObject({ details: { path: 'parameters' } })
  expect(refused({ parameters: [], evaluate })).toMatchObject({ details: { path: 'parameters' } })
  expect(refused({ parameters: [3], evaluate })).toMatchObject({ details: { path: 'parameters[0]' } })
  expect(refused({ parameters: { mass: 3 }, evaluate })).toMatchObject({ details: { path: 'parameters.mass' } })
  expect(refused({ parameters: { mass: [] }, evaluate })).toMatchObject({ details: { path: 'parameters.mass' } })
  expect(refused({ parameters })).toMatchObject({ details: { path: 'evaluate' } })
  expect(refused({ parameters, evaluate, onProgress: 1 })).toMatchObject({ details: { path: 'onProgress' } })
  expect(refused({ parameters, evaluate, resume: 1 })).toMatchObject({ details: { path: 'resume' } })
  const shard = (index: number, count: number) => refused({ parameters, evaluate, shard: { index, count } })
  expect(shard(2, 2)).toMatchObject({ code: 'out-of-range', details: { path: 'shard.index' } })
  expect(shard(0, 0)).toMatchObject({ code: 'out-of-range', details: { path: 'shard.count' } })
  const wide = Object.fromEntries('abcdef'.split('').map((name) => [name, new Float64Array(1000)]))
  expect(refused({ parameters: wide, evaluate })).toMatchObject({ code: 'out-of-range' })
})

it('survives JSON with its errors', () => {
  const result = sweep({
    parameters: { x: [1, 2] },
    evaluate: ({ x }) => {
      if (x === 2) throw new IsolationError('singular', 'no', { function: 'f', path: '' })
      return { y: Number.POSITIVE_INFINITY, name: 'a', truth: false, none: null }
    },
  })
  expect(fromJson(toJson(result), { kind: 'SweepResult' })).toEqual(result)
})
