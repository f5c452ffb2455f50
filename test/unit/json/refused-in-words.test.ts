import { describe, expect, it } from 'vitest'
import { fromJson, gain, spectrum, toJson } from '../../../src/index.js'
import { refusal } from '../refusal.js'
import { everyRecord } from './every-record.js'

type Changed = Readonly<Record<string, unknown>>

const floor = spectrum({ quantity: 'velocity', frequency: [1, 2], density: [3, 4] })
const first = (kind: keyof typeof everyRecord, i = 0) => everyRecord[kind][i] as unknown as Changed
const simulation = first('Simulation')
const response = first('FrequencyResponse')
const piezo = first('Actuator', 1)
const error = { kind: 'ErrorRecord', code: 'singular', message: 'a', details: { function: 'f', path: 'p' } }
const port = (from: readonly string[], to: readonly string[]) => ({
  ...gain(from.length === 1 && to.length === 1 ? 1 : to.map(() => from.map(() => 1))),
  inputs: from,
  outputs: to,
})

/** Records that are refused for what no single field shows, or for what a field is in place of what it has to be. */
const records: Readonly<Record<string, unknown>> = {
  'a function': () => 1,
  'a list': [floor],
  'a series': floor.density,
  'a literal': { stiffness: 1e4 },
  'a field that is a number': { ...floor, 0: 1 },
  'a series that is a list': { ...floor, density: [3, 4] },
  'a series without a number': { ...floor, density: Float64Array.of(3, Number.NaN) },
  'a series without an end': { ...floor, density: Float64Array.of(3, Number.POSITIVE_INFINITY) },
  'a series that may be without an end': { ...first('TransferEstimate'), h2: Float64Array.of(Number.NaN) },
  'a grid below zero': { ...first('ComplexSeries'), frequency: Float64Array.of(-1, 1) },
  'a grid that descends': { ...first('ComplexSeries'), frequency: Float64Array.of(2, 1) },
  'a part that is no part of its grid': { ...first('ComplexSeries'), im: Float64Array.of(1) },
  'a response of another size': { ...response, inputs: ['a', 'b'] },
  'a bound of another size': { ...response, errorBound: Float64Array.of(1) },
  'a time that is too short': { ...simulation, time: Float64Array.of(0) },
  'a wish that is too short': { ...first('LimitedSimulation'), wanted: { force: Float64Array.of(0) } },
  'a noise whose second part is longer': { ...first('SideBySideNoise'), second: floor },
  'a number in words': { ...first('Stability'), unstablePoles: 'two' },
  'a number without an end': { ...first('Stability'), unstablePoles: Number.POSITIVE_INFINITY },
  'a number that is none but may be without an end': { ...first('HInfinityNorm'), frequency: Number.NaN },
  'a word that is none of these': { ...first('Stability'), verdict: 'fine' },
  'a word that is a number': { ...first('Stability'), verdict: 3 },
  'a truth in words': { ...first('ControlElements'), active: 'yes' },
  'a text that is a number': { ...error, message: 7 },
  'a plain value that is an object': { ...error, details: { ...error.details, value: {} } },
  'a plain value that is a list': { ...error, details: { ...error.details, value: [1] } },
  'a plain value that is undefined, which is left out': { ...error, details: { ...error.details, path: undefined } },
  'a wire that is a number': { ...first('Diagram'), outputs: { motion: 3 } },
  'a wire of numbers': { ...first('Diagram'), outputs: { motion: [3] } },
  'a map that is a list': { ...simulation, outputs: [1] },
  'a map that is a series': { ...simulation, outputs: floor.density },
  'a map that is null': { ...simulation, outputs: null },
  'a list that is a record': { ...gain(1), inputs: {} },
  'a matrix of one row that is a number': { ...gain(1), D: [1] },
  'a pair of one': { ...first('ElastomerMount'), band: [1] },
  'a pair that is a number': { ...first('ElastomerMount'), band: 1 },
  'a record that is a text': { ...first('MinimalForm'), system: 'lag' },
  'a record that is null': { ...first('MinimalForm'), system: null },
  'a record of another kind': { ...first('MinimalForm'), system: floor },
  'a record without its kind': { ...first('MinimalForm'), system: { ...gain(1), kind: undefined } },
  'a part that is a number': { ...first('ToleranceStudy'), corners: 1 },
  'a sensor of two motions': { ...first('Sensor'), dynamics: port(['motion', 'other'], ['signal']) },
  'a sensor of another motion': { ...first('Sensor'), dynamics: port(['force'], ['signal']) },
  'a sensor of two signals': { ...first('Sensor'), dynamics: port(['motion'], ['signal', 'other']) },
  'an actuator of another output': { ...first('Actuator'), dynamics: port(['command'], ['motion']) },
  'half of a piezo stack': { ...piezo, stroke: undefined },
  'a piezo stack with half a drive': { ...piezo, drive: { voltage: 100 } },
}

/** Changes of the text of a spectrum. */
const texts: Readonly<Record<string, unknown>> = {
  'no text': 3,
  'a list': '[1]',
  'a number': '7',
  'no format': '{"kind":"Spectrum"}',
  'a later format': '{"kind":"Spectrum","format":2}',
  'another kind': '{"kind":"Mount","format":1}',
  'no kind': '{"format":1}',
  'a series that is a list': '{"kind":"Spectrum","format":1,"quantity":"force","frequency":[1]}',
  'a series that holds no list': '{"kind":"Spectrum","format":1,"quantity":"force","frequency":{"$f64":1}}',
  'a series of another name': '{"kind":"Spectrum","format":1,"quantity":"force","frequency":{"$f32":[1]}}',
  'a series beside a number': '{"kind":"Spectrum","format":1,"quantity":"force","frequency":{"$f64":[1],"n":1}}',
  'a series of what no number is':
    '{"kind":"Spectrum","format":1,"quantity":"force","frequency":{"$f64":[{"$number":"3"}]}}',
  'a series below all numbers':
    '{"kind":"Spectrum","format":1,"quantity":"force","frequency":{"$f64":[{"$number":"-Infinity"}]}}',
}

const line = (name: string, call: () => unknown) => {
  const { code, message, details } = refusal(call)
  return `${name}\n  ${code} ${message}${details.allowed === undefined ? '' : `\n  allowed: ${details.allowed}`}`
}

describe('what cannot be carried as JSON', () => {
  it('is refused in words', async () => {
    const written = Object.entries(records).map(([name, record]) => line(name, () => toJson(record as never)))
    const read = Object.entries(texts).map(([name, text]) =>
      line(name, () => fromJson(text as never, { kind: 'Spectrum' })),
    )
    await expect(`${[...written, ...read].join('\n')}\n`).toMatchFileSnapshot('options/refused-in-words.txt')
  })

  it('says of what is no JSON where it is none, and does not repeat it', () => {
    const { message } = refusal(() => fromJson(`["${'x'.repeat(1e6)}`, { kind: 'Spectrum' }))
    expect(message.startsWith('fromJson: needs JSON; ')).toBe(true)
    expect(message.length).toBeLessThan(150)
  })

  it('may be deep, but not deeper than 64 levels', () => {
    const nested = (levels: number) =>
      Array.from({ length: levels - 1 }).reduce<object>((lateral) => ({ stiffness: 1, lateral }), { stiffness: 1 })
    const mount = { kind: 'Mount', stiffness: 1, damping: 0, relaxations: [] } as const
    const deep = (levels: number) => () => toJson({ ...mount, lateral: nested(levels) } as never)
    expect(refusal(deep(64)).message).toContain('is nested deeper than 64 levels')
    expect(deep(63)).not.toThrow()
  })

  it('may hold the same thing twice, side by side', () => {
    const row = [1]
    const system = { ...gain(1), D: [row], inputs: ['u'], outputs: ['y'] }
    const names = ['u']
    expect(toJson({ ...system, inputs: names, outputs: names })).toContain('"inputs":["u"],"outputs":["u"]')
    const itself: unknown[] = []
    itself.push(itself)
    expect(refusal(() => toJson({ ...system, D: itself } as never)).message).toBe('toJson: D[0] holds itself')
  })
})

describe('the text, one field per line', () => {
  it('has what stands in quotes in quotes', () => {
    const quoted = { ...error, message: 'a "b"' } as never
    expect(toJson(quoted, { layout: 'indented' })).toContain('\n  "message": "a \\"b\\"",\n')
    expect(toJson(quoted)).toContain(',"message":"a \\"b\\"",')
  })

  it('has names that begin like those of the format below each other', () => {
    const [row] = (first('SweepResult') as { rows?: readonly object[] }).rows ?? []
    const parameters = { $a: 1, b: 2 }
    const text = toJson({ ...first('SweepResult'), rows: [{ ...row, parameters }] } as never, { layout: 'indented' })
    expect(text).toContain('"parameters": {\n        "$a": 1,\n        "b": 2\n      }')
  })

  it('has lists of numbers and lone series in a line, and all else below each other', () => {
    const series = { ...floor, density: Float64Array.of(-0, 4) }
    expect(toJson(series, { layout: 'indented' })).toBe(`{
  "kind": "Spectrum",
  "format": 1,
  "quantity": "velocity",
  "frequency": {"$f64": [1,2]},
  "density": {"$f64": [-0.0,4]},
  "support": "points"
}`)
    const { A, B, C, D, inputs, outputs, states, delays } = {
      ...gain([
        [1, -0],
        [2, 3],
      ]),
      outputs: ['a', 'b'],
    }
    expect(toJson({ kind: 'StateSpace', A, B, C, D, inputs, outputs, states, delays }, { layout: 'indented' })).toBe(`{
  "kind": "StateSpace",
  "format": 1,
  "A": [],
  "B": [],
  "C": [
    [],
    []
  ],
  "D": [
    [1,-0.0],
    [2,3]
  ],
  "inputs": [
    "u1",
    "u2"
  ],
  "outputs": [
    "a",
    "b"
  ],
  "states": [],
  "delays": null
}`)
  })
})
