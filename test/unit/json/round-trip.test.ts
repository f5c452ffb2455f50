import { deepStrictEqual } from 'node:assert/strict'
import { describe, expect, it } from 'vitest'
import { channel, frequencyResponse, fromJson, gain, type RecordKind, spectrum, toJson } from '../../../src/index.js'
import { everyRecord } from './every-record.js'

const rows = Object.entries(everyRecord).flatMap(([kind, records]) =>
  records.map((record, i): [string, number, object] => [kind, i, record]),
)

describe('a record comes back from JSON as it was', () => {
  it.each(rows)('%s %i', (kind, _, record) => {
    const before = structuredClone(record)
    const text = toJson(record as never)
    // Tells −0 from 0 and one prototype from another, also for a record with a field `constructor`.
    deepStrictEqual(fromJson(text, { kind: kind as RecordKind }), record)
    deepStrictEqual(record, before)
  })

  it.each(rows)('%s %i, in text with one field per line', (kind, _, record) => {
    const text = toJson(record as never, { layout: 'indented' })
    deepStrictEqual(fromJson(text, { kind: kind as RecordKind }), record)
    deepStrictEqual(JSON.parse(text), JSON.parse(toJson(record as never)))
  })

  it.each(rows)('%s %i, by way of another JSON writer', (kind, _, record) => {
    const text = JSON.stringify(JSON.parse(toJson(record as never)))
    // Other writers drop the sign of −0.
    expect(toJson(fromJson(text, { kind: kind as RecordKind }) as never)).toBe(
      toJson(record as never).replaceAll(/-0\.0(?!\d)/g, '0'),
    )
  })

  it('as the kind it is typed to be', () => {
    const text = toJson(spectrum({ quantity: 'velocity', frequency: [1, 2], density: [1, 2] }))
    const density: Float64Array = fromJson(text, { kind: 'Spectrum' }).density
    expect(density).toBeInstanceOf(Float64Array)
  })

  it('without what lies beside it in a shared buffer', () => {
    const both = frequencyResponse(gain([[2], [3]]), [1, 4])
    const second = channel(both, { input: 'u1', output: 'y2' })
    expect(fromJson(toJson(second), { kind: 'ComplexSeries' }).re.buffer.byteLength).toBe(16)
  })
})

describe('the text', () => {
  // The format is this package's own contract: common practice, no source.
  it('starts with kind and format, then the fields', () => {
    const text = toJson(spectrum({ quantity: 'velocity', frequency: [0.5, 100], density: [4e-12, 1e-9] }))
    expect(text).toBe(
      '{"kind":"Spectrum","format":1,"quantity":"velocity","frequency":{"$f64":[0.5,100]},"density":{"$f64":[4e-12,1e-9]},"support":"points"}',
    )
  })

  it('writes an infinite number as text and keeps the sign of zero', () => {
    const summary = { kind: 'IsolationSummary', peak: Infinity, peakFrequency: -0, resonances: [] } as const
    expect(toJson({ ...summary, isolationFrom: 2, isolatedIntervals: [[2, Infinity] as const] })).toBe(
      '{"kind":"IsolationSummary","format":1,"peak":{"$number":"Infinity"},"peakFrequency":-0.0,"resonances":[],"isolationFrom":2,"isolatedIntervals":[[2,{"$number":"Infinity"}]]}',
    )
  })

  it('with one field per line keeps lists of numbers on one', () => {
    const text = toJson(gain([[1, 2]]), { layout: 'indented' })
    expect(text.split('\n').slice(0, 8)).toEqual([
      '{',
      '  "kind": "StateSpace",',
      '  "format": 1,',
      '  "A": [],',
      '  "B": [],',
      '  "C": [',
      '    []',
      '  ],',
    ])
    expect(text).toContain('\n    [1,2]\n')
  })

  it('names a nested record by its kind, without another format', () => {
    const [assessment] = everyRecord.Assessment
    const tree = JSON.parse(toJson(assessment as never))
    expect([tree.format, tree.stability.kind, tree.stability.format]).toEqual([1, 'Stability', undefined])
  })
})
