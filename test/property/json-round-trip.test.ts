import { deepStrictEqual } from 'node:assert/strict'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  type ComplexSeries,
  fromJson,
  type IsolationSummary,
  isIsolationError,
  type RecordKind,
  type Spectrum,
  type StateSpace,
  toJson,
} from '../../src/index.js'
import { everyRecord } from '../unit/json/every-record.js'

/** Any finite number, −0 and subnormal ones included. */
const finite = fc.double({ noNaN: true, noDefaultInfinity: true })
const maybeInfinite = fc.double({ noNaN: true })
const positive = fc.double({ min: 0, max: 1e50, noNaN: true })
const name = fc.stringMatching(/^[A-Za-z][A-Za-z0-9_]{0,8}$/)
const names = (count: number) =>
  fc.uniqueArray(fc.oneof(name, fc.constantFrom('constructor', 'toString')), { minLength: count, maxLength: count })

const grid = fc.uniqueArray(positive, { minLength: 1, maxLength: 12, comparator: (a, b) => a === b })
const ascending = grid.map((list) => Float64Array.from(list).sort())

const complexSeries: fc.Arbitrary<ComplexSeries> = ascending.chain((frequency) => {
  const series = fc.array(finite, { minLength: frequency.length, maxLength: frequency.length })
  const part = series.map((list) => Float64Array.from(list))
  return fc.record({
    kind: fc.constant('ComplexSeries' as const),
    frequency: fc.constant(frequency),
    re: part,
    im: part,
  })
})

const spectrum: fc.Arbitrary<Spectrum> = ascending.chain((frequency) =>
  fc.record(
    {
      kind: fc.constant('Spectrum' as const),
      quantity: fc.constantFrom('acceleration', 'velocity', 'displacement', 'force', 'unspecified'),
      frequency: fc.constant(frequency),
      density: fc
        .array(positive, { minLength: frequency.length, maxLength: frequency.length })
        .map((list) => Float64Array.from(list)),
      support: fc.constant('points' as const),
      averages: fc.integer({ min: 1, max: 1000 }),
    },
    { requiredKeys: ['kind', 'quantity', 'frequency', 'density', 'support'] },
  ),
)

const matrix = (rows: number, columns: number) =>
  fc.array(fc.array(finite, { minLength: columns, maxLength: columns }), { minLength: rows, maxLength: rows })

const stateSpace: fc.Arbitrary<StateSpace> = fc
  .tuple(fc.nat(3), fc.nat(2), fc.nat(2), fc.nat(2))
  .chain(([n, m, p, d]) =>
    fc.record({
      kind: fc.constant('StateSpace' as const),
      A: matrix(n, n),
      B: matrix(n, m),
      C: matrix(p, n),
      D: matrix(p, m),
      inputs: names(m),
      outputs: names(p),
      states: names(n),
      delays: fc.option(
        fc.record({
          seconds: fc.array(fc.double({ min: 1e-9, max: 1, noNaN: true }), { minLength: d, maxLength: d }),
          B: matrix(n, d),
          C: matrix(d, n),
          D12: matrix(p, d),
          D21: matrix(d, m),
          D22: matrix(d, d),
        }),
      ),
    }),
  )

const summary: fc.Arbitrary<IsolationSummary> = fc.record({
  kind: fc.constant('IsolationSummary' as const),
  peak: maybeInfinite,
  peakFrequency: finite,
  resonances: fc.array(fc.record({ frequency: finite, amplification: maybeInfinite })),
  isolationFrom: fc.option(finite),
  isolatedIntervals: fc.array(fc.tuple(finite, maybeInfinite)),
})

describe('toJson and fromJson undo each other to the last bit, for any', () => {
  it.each([
    ['ComplexSeries', complexSeries],
    ['Spectrum', spectrum],
    ['StateSpace', stateSpace],
    ['IsolationSummary', summary],
  ] as [RecordKind, fc.Arbitrary<never>][])('%s', (kind, arbitrary) => {
    fc.assert(
      fc.property(arbitrary, fc.constantFrom('compact', 'indented'), (record, layout) => {
        const back = fromJson(toJson(record, { layout } as never), { kind })
        // fast-check makes records without prototype, fromJson plain objects; both are equal as data.
        expect(back).toEqual(record)
        deepStrictEqual(toJson(back), toJson(record))
      }),
    )
  })
})

describe('a text that has been tampered with', () => {
  const texts = Object.entries(everyRecord).flatMap(([kind, records]) =>
    records.map((record): [RecordKind, unknown] => [kind as RecordKind, JSON.parse(toJson(record as never))]),
  )

  it('is refused with an error of this package or read as a record that can be written again', () => {
    const junk = fc.oneof(
      fc.jsonValue({ maxDepth: 2 }),
      fc.constantFrom(
        { $number: 'NaN' },
        { $number: 'Infinity' },
        { $f64: [1, 2] },
        { kind: 'Mount' },
        '__proto__',
        -0,
        1e308,
      ),
    )
    let read = 0
    fc.assert(
      fc.property(
        fc.constantFrom(...texts),
        fc.array(fc.nat(40), { maxLength: 8 }),
        junk,
        ([kind, tree], way, value) => {
          const text = JSON.stringify(replaced(tree, way, value))
          try {
            const record = fromJson(text, { kind })
            read++
            expect(toJson(fromJson(toJson(record), { kind }))).toBe(toJson(record))
          } catch (error) {
            if (!isIsolationError(error)) throw error
          }
        },
      ),
      { numRuns: 3000 },
    )
    // Some replacements do no harm; if none did, nothing would have been read.
    expect(read).toBeGreaterThan(10)
  })
})

/** A copy of a tree in which one entry, found by turning at each level, is another value. */
function replaced(tree: unknown, way: readonly number[], value: unknown): unknown {
  if (typeof tree !== 'object' || tree === null) return value
  const keys = Object.keys(tree)
  if (keys.length === 0 || way.length === 0) return value
  const turn = keys[way[0] % keys.length]
  const inside = replaced((tree as Record<string, unknown>)[turn], way.slice(1), value)
  if (Array.isArray(tree)) return tree.map((entry, i) => (String(i) === turn ? inside : entry))
  return { ...tree, [turn]: inside }
}
