import { describe, expect, it } from 'vitest'
import { fromJson, gain, isIsolationError, spectrum, springMount, toJson } from '../../../src/index.js'
import { refusal } from '../refusal.js'
import { everyRecord } from './every-record.js'

const floor = spectrum({ quantity: 'velocity', frequency: [1, 2], density: [3, 4] })
const written = (record: unknown) => refusal(() => toJson(record as never))
const read = (text: unknown, kind: unknown) => refusal(() => fromJson(text as never, { kind } as never))
const edited = (change: object, record: object = floor) =>
  JSON.stringify({ ...JSON.parse(toJson(record as never)), ...change })
const reason = ({ code, details }: ReturnType<typeof refusal>) => [code, details.path]

describe('toJson refuses', () => {
  it.each([
    ['a mount written by hand', { stiffness: 1e4 }],
    ['a spectrum written by hand', { quantity: 'velocity', frequency: [1], density: [1] }],
  ])('%s, and says that the kind is missing', (_, record) => {
    const error = written(record)
    expect(reason(error)).toEqual(['invalid-option', ''])
    expect(error.message).toContain('needs a record with its kind')
  })

  const cyclic = { ...springMount({ stiffness: 1 }) } as { lateral?: unknown }
  cyclic.lateral = cyclic
  const deep = Array.from({ length: 5000 }).reduce<object>((lateral) => ({ stiffness: 1, lateral }), { stiffness: 1 })

  it.each([
    ['nothing', undefined, 'invalid-option', ''],
    ['null', null, 'invalid-option', ''],
    ['a list', [floor], 'invalid-option', ''],
    ['a series alone', floor.density, 'invalid-option', ''],
    ['a kind that is none', { kind: 'Tensor' }, 'invalid-option', 'kind'],
    ['a kind that every object has', { kind: 'constructor' }, 'invalid-option', 'kind'],
    ['a name of the table that is no kind', { kind: 'MountLiteral', stiffness: 1 }, 'invalid-option', 'kind'],
    ['a plain list for a series', { ...floor, density: [3, 4] }, 'invalid-option', 'density'],
    ['a field that is missing', { ...floor, density: undefined }, 'invalid-option', 'density'],
    ['a field too many', { ...floor, colour: 'red' }, 'invalid-option', 'colour'],
    ['NaN', { ...floor, density: Float64Array.of(3, NaN) }, 'not-finite', 'density[1]'],
    ['infinity where there is none', { ...floor, density: Float64Array.of(3, Infinity) }, 'not-finite', 'density[1]'],
    ['series that do not fit', { ...floor, density: Float64Array.of(3) }, 'dimension-mismatch', 'density'],
    ['a function', { ...floor, quantity: () => 'velocity' }, 'invalid-option', 'quantity'],
    ['a matrix that does not fit', { ...gain(1), A: [[1]] }, 'dimension-mismatch', 'B'],
    ['a record that holds itself', cyclic, 'invalid-option', 'lateral'],
    [
      'a record without end',
      { ...springMount({ stiffness: 1 }), lateral: deep },
      'invalid-option',
      `lateral${'.lateral'.repeat(63)}`,
    ],
  ])('%s', (_, record, code, path) => {
    expect(reason(written(record))).toEqual([code, path])
  })

  it('an unknown option and an unknown layout', () => {
    expect(reason(refusal(() => toJson(floor, { indent: 2 } as never)))).toEqual(['invalid-option', 'indent'])
    expect(reason(refusal(() => toJson(floor, { layout: 'pretty' as never })))).toEqual(['invalid-option', 'layout'])
  })
})

describe('fromJson refuses', () => {
  it.each([
    ['what is no text', 3, 'invalid-option', ''],
    ['what is not JSON', '{"kind":"Spectrum"', 'invalid-option', ''],
    ['an empty text', '', 'invalid-option', ''],
    ['a list', '[1]', 'invalid-option', ''],
    ['null', 'null', 'invalid-option', ''],
    ['a text without format', '{"kind":"Spectrum"}', 'format-version', 'format'],
    ['a later format', edited({ format: 2 }), 'format-version', 'format'],
    ['a format in words', edited({ format: '1' }), 'format-version', 'format'],
    ['another kind', toJson(gain(1)), 'invalid-option', 'kind'],
    ['a plain list for a series', edited({ density: [3, 4] }), 'invalid-option', 'density'],
    ['a series of texts', edited({ density: { $f64: ['3', 4] } }), 'invalid-option', 'density[0]'],
    ['a series with a hole', edited({ density: { $f64: [3, null] } }), 'invalid-option', 'density[1]'],
    ['a series beside something', edited({ density: { $f64: [3, 4], unit: 'm' } }), 'invalid-option', 'density'],
    ['NaN', edited({ density: { $f64: [3, { $number: 'NaN' }] } }), 'not-finite', 'density[1]'],
    [
      'infinity where there is none',
      edited({ density: { $f64: [3, { $number: 'Infinity' }] } }),
      'not-finite',
      'density[1]',
    ],
    ['a numeral beyond all numbers', edited({}).replace('[3,4]', '[3,1e999]'), 'not-finite', 'density[1]'],
    ['a number in words', edited({ averages: { $number: 'three' } }), 'invalid-option', 'averages'],
    ['a missing field', edited({ density: undefined }), 'invalid-option', 'density'],
    ['a field too many', edited({ colour: 'red' }), 'invalid-option', 'colour'],
    ['a grid that descends', edited({ frequency: { $f64: [2, 1] } }), 'invalid-option', 'frequency[1]'],
    ['series that do not fit', edited({ density: { $f64: [3] } }), 'dimension-mismatch', 'density'],
    ['a density below zero, as the floor does', edited({ density: { $f64: [3, -4] } }), 'out-of-range', 'density[1]'],
    ['a quantity that is none', edited({ quantity: 'noise' }), 'invalid-option', 'quantity'],
  ])('%s', (_, text, code, path) => {
    const error = read(text, 'Spectrum')
    expect(reason(error)).toEqual([code, path])
    expect(error.details.function).toBe('fromJson')
  })

  const [model] = everyRecord.IsolationModel as never as [{ closed: { inputs: string[] } }]
  const piezo = everyRecord.Actuator[1] as object

  it.each([
    ['a system whose shapes do not fit', edited({ A: [[1]] }, gain(1)), 'StateSpace', 'dimension-mismatch', 'B'],
    ['a system with a number in words', edited({ D: [['1']] }, gain(1)), 'StateSpace', 'invalid-option', 'D[0][0]'],
    ['half of a piezo stack', edited({ stroke: undefined }, piezo), 'Actuator', 'invalid-option', 'stroke'],
    [
      'a negative branch time',
      edited({ relaxations: [{ stiffness: 1, time: -1 }] }, springMount({ stiffness: 1 })),
      'Mount',
      'out-of-range',
      'relaxations[0].time',
    ],
    [
      'a model with other ports than its diagram',
      edited({ closed: { ...model.closed, inputs: ['a', 'b', 'c'] } }, model),
      'IsolationModel',
      'dimension-mismatch',
      'closed.inputs',
    ],
    [
      'a loop at a port that is none',
      edited({ loops: [{ name: 'a', port: 'b.c' }] }, model),
      'IsolationModel',
      'unknown-port',
      'loops[0].port',
    ],
    [
      'a response of another size',
      edited({ inputs: ['a', 'b'] }, everyRecord.FrequencyResponse[0] as object),
      'FrequencyResponse',
      'dimension-mismatch',
      're',
    ],
    [
      'a wire to nowhere',
      edited({ outputs: { motion: 'plant.force' } }, everyRecord.Diagram[0] as object),
      'Diagram',
      'unknown-port',
      'outputs.motion',
    ],
    [
      'a pair of three',
      edited({ band: [1, 2, 3] }, everyRecord.ElastomerMount[0] as object),
      'ElastomerMount',
      'dimension-mismatch',
      'band',
    ],
    [
      'a sensor with other ports',
      edited({ dynamics: gain(1) }, everyRecord.Sensor[0] as object),
      'Sensor',
      'invalid-option',
      'dynamics',
    ],
  ])('%s', (_, text, kind, code, path) => {
    expect(reason(read(text, kind))).toEqual([code, path])
  })

  it.each([undefined, 'Tensor', '__proto__', 'constructor', 'MountLiteral', 3])('to look for a kind %s', (kind) => {
    expect(reason(read(toJson(floor), kind))).toEqual(['invalid-option', 'kind'])
  })

  it('to read without options', () => {
    expect(reason(refusal(() => fromJson(toJson(floor), undefined as never)))).toEqual(['invalid-option', ''])
  })
})

describe('keys that every object has are names like others', () => {
  it.each(['__proto__', 'constructor', 'toString', 'hasOwnProperty'])(
    'a field %s is refused, a prototype is not touched',
    (key) => {
      const text = toJson(floor).replace('{', `{"${key}":{"polluted":true},`)
      expect(reason(read(text, 'Spectrum'))).toEqual(['invalid-option', key])
      expect(({} as { polluted?: boolean }).polluted).toBeUndefined()
    },
  )

  it('a block may be called constructor', () => {
    const [loop] = everyRecord.Diagram
    const back = fromJson(toJson(loop as never), { kind: 'Diagram' })
    expect(Object.keys(back.blocks)).toEqual(['plant', 'constructor'])
    expect(Object.getPrototypeOf(back.blocks)).toBe(Object.prototype)
  })

  it('a block may not be called __proto__', () => {
    const text = toJson(everyRecord.Diagram[0] as never).replaceAll('constructor', '__proto__')
    expect(reason(read(text, 'Diagram'))).toEqual(['invalid-option', 'blocks'])
  })
})

it('an error of reading can itself be written and read', () => {
  try {
    fromJson('[', { kind: 'Spectrum' })
  } catch (error) {
    if (!isIsolationError(error)) throw error
    const record = { kind: 'ErrorRecord' as const, code: error.code, message: error.message, details: error.details }
    expect(fromJson(toJson(record), { kind: 'ErrorRecord' })).toEqual(record)
  }
  expect.assertions(1)
})
