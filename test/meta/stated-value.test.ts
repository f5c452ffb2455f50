import { describe, expect, it } from 'vitest'
import { runnable } from './support/examples.js'
import { disagreement } from './support/stated-value.js'

describe('a value stated in an example', () => {
  it.each([
    ['8.34', 8.344],
    ['8.34', 8.336],
    ['-8.34', -8.3449],
    ['1.2e-5', 1.249e-5],
    ['3e4', 34_999],
    ['1250', 1250.4],
    ['0', 1e-15],
    ["'stable'", 'stable'],
    ['true', true],
    ['null', null],
    ['Infinity', Infinity],
    ['-Infinity', -Infinity],
    ['[1, 2.5]', [1, 2.53]],
    ['[1, 2]', Float64Array.of(1, 2)],
    ["{ kind: 'Pole', re: -0.5, list: [[1]] }", { kind: 'Pole', re: -0.52, list: [[1]] }],
  ])('%s agrees with %s', (literal, value) => {
    expect(disagreement(literal, value)).toBeNull()
  })

  it.each([
    ['8.34', 8.346],
    ['8.34', 8.334],
    ['8.340', 8.341],
    ['8.34', -8.34],
    ['8.34', Number.NaN],
    ['8.34', '8.34'],
    ['1.2e-5', 1.26e-5],
    ['0', 0.1],
    ['0', undefined],
    ["'stable'", 'unstable'],
    ['true', false],
    ['null', undefined],
    ['Infinity', -Infinity],
    ['[1, 2]', [1]],
    ['[1, 2]', [1, 3]],
    ['[1]', 1],
    ['{ re: 1 }', { re: 1, im: 2 }],
    ['{ re: 1 }', { im: 1 }],
    ['{ re: 1 }', null],
    ['5.03 Hz', 5.03],
    ['about 5', 5],
    ['sqrt(2)', Math.SQRT2],
  ])('%s disagrees with %s', (literal, value) => {
    expect(disagreement(literal, value)).not.toBeNull()
  })
})

describe('an example', () => {
  it('exports its last expression and the literal behind it', () => {
    expect(runnable("const a = 'x // y'\na.length // 6\n")).toEqual({
      code: "const a = 'x // y'\nexport const lastValue = (a.length)\n",
      stated: '6',
    })
  })

  it('states nothing without a comment behind its last expression', () => {
    expect(runnable('const a = 1\na\n').stated).toBeNull()
    expect(runnable('const a = 1 // 1\n').stated).toBeNull()
  })
})
