import { describe, expect, it } from 'vitest'
import {
  checkFunction,
  checkGrid,
  checkList,
  checkNumber,
  checkNumbers,
  checkOneOf,
  checkOptional,
  checkOptions,
  checkRecord,
  checkText,
  fail,
  must,
  type Range,
  scopeOf,
  show,
  within,
} from '../../../src/internal/check.js'
import { refusal } from '../refusal.js'

// The wording is this package's own; the form "function: path must be what, got what" is stated in DEVELOPERS.md.
const scope = within(scopeOf('mount'), 'payload')

/** What a refused call says, with its code and its data. */
const told = (call: () => unknown) => {
  const { code, message, details } = refusal(call)
  return { code, message, ...details }
}

describe('fail', () => {
  it('names the function alone where the whole argument is at fault', () => {
    expect(told(() => fail('singular', scopeOf('poles'), 'has none'))).toEqual({
      code: 'singular',
      message: 'poles: has none',
      function: 'poles',
      path: '',
    })
  })

  it('names lists by their place and records by their key', () => {
    const deep = within(within(within(scopeOf('chain'), 'masses'), 2), 'value')
    expect(told(() => fail('unsupported', deep, 'is odd')).message).toBe('chain: masses[2].value is odd')
  })

  it('cuts a message at 1200 letters', () => {
    const whole = `is ${'x'.repeat(1200 - 'mount: payload is '.length)}`
    expect(told(() => fail('unsupported', scope, whole)).message).toBe(`mount: payload ${whole}`)
    expect(told(() => fail('unsupported', scope, `${whole}yz`)).message).toBe(`mount: payload ${whole}…`)
  })
})

describe('must', () => {
  it('hands on what there is, 0 included, and refuses what there is not', () => {
    expect(must(0, 'singular', scope, 'has none')).toBe(0)
    expect(told(() => must(null, 'singular', scope, 'has none'))).toEqual({
      code: 'singular',
      message: 'mount: payload has none',
      function: 'mount',
      path: 'payload',
    })
  })
})

describe('a record', () => {
  it.each([[null], [[]], [new Float64Array(1)], [3], ['text'], [undefined]])('is not %o', (value) => {
    expect(told(() => checkRecord(scope, value, ['mass', 'height'])).message).toBe(
      `mount: payload must be an object with mass, height, got ${show(value)}`,
    )
  })

  it('is told without keys where none are known', () => {
    expect(told(() => checkRecord(scope, 3)).message).toBe('mount: payload must be an object, got 3')
  })

  it('has no other keys than the ones there are', () => {
    expect(checkOptions(scope, { mass: 1 }, ['mass', 'height'])).toEqual({ mass: 1 })
    expect(told(() => checkOptions(scope, { weight: 1 }, ['mass', 'height']))).toEqual({
      code: 'invalid-option',
      message: 'mount: payload.weight is not an option here; options are mass, height',
      function: 'mount',
      path: 'payload.weight',
    })
  })
})

describe('a number', () => {
  it.each<[Range, number, number, string]>([
    [{ above: 0 }, 1e-300, 0, 'a finite number above 0'],
    [{ atLeast: 0 }, 0, -1e-300, 'a finite number of at least 0'],
    [{ below: 1 }, 0.999, 1, 'a finite number below 1'],
    [{ atMost: 1 }, 1, 1.001, 'a finite number of at most 1'],
    [{ atLeast: 1, integer: true }, 3, 2.5, 'a whole number of at least 1'],
    [{ above: 0, below: 2, unit: 'kg' }, 1, 2, 'a finite number above 0 and below 2 [kg]'],
  ])('in the range %o may be %f but not %f', (range, good, bad, allowed) => {
    expect(checkNumber(scope, 'mass', good, range)).toBe(good)
    expect(told(() => checkNumber(scope, 'mass', bad, range))).toEqual({
      code: 'out-of-range',
      message: `mount: payload.mass must be ${allowed}, got ${bad}`,
      function: 'mount',
      path: 'payload.mass',
      value: bad,
      allowed,
      ...(range.unit === undefined ? {} : { unit: range.unit }),
    })
  })

  it.each([
    ['12', 'invalid-option', "'12'"],
    [true, 'invalid-option', 'true'],
    [null, 'invalid-option', 'null'],
    [Number.POSITIVE_INFINITY, 'not-finite', 'Infinity'],
    [Number.NaN, 'not-finite', 'NaN'],
  ])('is not %o, which comes back as it was', (value, code, shown) => {
    expect(told(() => checkNumber(scope, 'mass', value, {}))).toEqual({
      code,
      message: `mount: payload.mass must be a finite number, got ${shown}`,
      function: 'mount',
      path: 'payload.mass',
      value,
      allowed: 'a finite number',
    })
  })

  it.each([
    [{ mass: 1 }, 'an object'],
    [[1], 'an array'],
    [undefined, 'undefined'],
    [Symbol('m'), 'a symbol'],
  ])('is not %o, which does not come back, being no plain data', (value, shown) => {
    const { message, ...details } = told(() => checkNumber(scope, 'mass', value, {}))
    expect(message).toBe(`mount: payload.mass must be a finite number, got ${shown}`)
    expect(details).not.toHaveProperty('value')
  })

  it('may be left out where there is a default', () => {
    expect(checkOptional(scope, 'mass', undefined, {}, 7)).toBe(7)
    expect(checkOptional(scope, 'mass', 3, {}, 7)).toBe(3)
    expect(told(() => checkOptional(scope, 'mass', null, {}, 7)).message).toMatch(/got null$/)
  })
})

describe('a word, a text, a function', () => {
  it('is one of those there are', () => {
    expect(checkOneOf(scope, 'axis', 'z', ['x', 'z'])).toBe('z')
    expect(told(() => checkOneOf(scope, 'axis', 'y', ['x', 'z']))).toEqual({
      code: 'invalid-option',
      message: "mount: payload.axis must be one of 'x', 'z', got 'y'",
      function: 'mount',
      path: 'payload.axis',
      allowed: "'x', 'z'",
    })
    expect(told(() => checkOneOf(scope, 'axis', ['x'], ['x', 'z'])).message).toMatch(/got an array$/)
  })

  it('is text', () => {
    expect(checkText(scope, 'name', '')).toBe('')
    expect(told(() => checkText(scope, 'name', 1)).message).toBe('mount: payload.name must be text, got 1')
  })

  it('can be called', () => {
    expect(() => checkFunction(scope, 'spectrum', () => 1)).not.toThrow()
    expect(told(() => checkFunction(scope, 'spectrum', {})).message).toBe(
      'mount: payload.spectrum must be a function, got an object',
    )
  })
})

describe('a list', () => {
  it('has as many entries as it may, holes counted as undefined', () => {
    expect(checkList(scope, 'feet', new Array(2), 1, 2)).toEqual([undefined, undefined])
    expect(checkList(scope, 'feet', [])).toEqual([])
    expect(checkList(scope, 'feet', new Array(100))).toHaveLength(100)
    for (const value of [[], [1, 2, 3]]) {
      expect(told(() => checkList(scope, 'feet', value, 1, 2))).toEqual({
        code: 'invalid-option',
        message: 'mount: payload.feet must be an array with 1 to 2 entries, got an array',
        function: 'mount',
        path: 'payload.feet',
        allowed: 'an array with 1 to 2 entries',
      })
    }
    expect(told(() => checkList(scope, 'feet', new Array(101))).message).toMatch(/with 0 to 100 entries/)
    expect(told(() => checkList(scope, 'feet', undefined)).message).toMatch(/got undefined$/)
  })

  it('of numbers names the entry at fault', () => {
    const list = new Float64Array([1, 2])
    expect(checkNumbers(scope, 'force', list)).toBe(list)
    expect(told(() => checkNumbers(scope, 'force', [1, '2'])).message).toBe(
      "mount: payload.force[1] must be a finite number, got '2'",
    )
    expect(told(() => checkNumbers(scope, 'force', [1, -2], { atLeast: 0, unit: 'N' })).message).toBe(
      'mount: payload.force[1] must be a finite number of at least 0 [N], got -2',
    )
    expect(told(() => checkNumbers(scope, 'force', 'text')).message).toBe(
      "mount: payload.force must be a number[] or a Float64Array, got 'text'",
    )
  })

  it('that is a grid ascends, and comes back as a copy', () => {
    const grid = new Float64Array([1, 2, 4])
    const copy = checkGrid(scope, 'frequency', grid, {})
    expect(copy).toEqual(grid)
    expect(copy).not.toBe(grid)
    expect(told(() => checkGrid(scope, 'frequency', [], {})).message).toBe(
      'mount: payload.frequency must have at least one entry, got none',
    )
    expect(told(() => checkGrid(scope, 'frequency', [1, 2, 2], {})).message).toBe(
      'mount: payload.frequency[2] must ascend, got 2 after 2',
    )
  })
})

describe('show', () => {
  it('cuts a long text short', () => {
    expect(show('a'.repeat(40))).toBe(`'${'a'.repeat(40)}'`)
    expect(show('a'.repeat(41))).toBe(`'${'a'.repeat(40)}…'`)
  })

  it('tells what cannot be shown by its kind', () => {
    const values = [null, undefined, false, 1.5, 10n, Symbol('s'), () => 1, {}, [], new Float64Array(1)]
    expect(values.map(show)).toEqual([
      'null',
      'undefined',
      'false',
      '1.5',
      'a bigint',
      'a symbol',
      'a function',
      'an object',
      'an array',
      'an array',
    ])
  })
})
