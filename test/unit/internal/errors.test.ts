import { describe, expect, it } from 'vitest'
import { scopeOf } from '../../../src/internal/check.js'
import { errorRecord, IsolationError, isIsolationError } from '../../../src/internal/errors.js'
import { whole } from '../../../src/internal/whole.js'
import { refusal } from '../refusal.js'

const details = { function: 'poles', path: 'system.a', value: 3, allowed: 'a matrix', unit: '1/s' }
const error = new IsolationError('singular', 'poles: system.a has none', details)

describe('isIsolationError', () => {
  it('knows the error, its plain form, and a copy of another build', () => {
    const fromElsewhere = Object.assign(new Error('x'), { name: 'IsolationError', code: 'singular', details })
    for (const value of [error, errorRecord(error), structuredClone(errorRecord(error)), fromElsewhere])
      expect(isIsolationError(value)).toBe(true)
  })

  it.each([
    [null],
    ['IsolationError'],
    [new Error('other')],
    [{ code: 'singular', details }],
    [{ kind: 'ErrorRecord', details }],
    [{ kind: 'ErrorRecord', code: 'singular' }],
    [{ kind: 'ErrorRecord', code: 'singular', details: null }],
    [{ name: 'TypeError', code: 'singular', details }],
  ])('does not take %o for one', (value) => {
    expect(isIsolationError(value)).toBe(false)
  })
})

describe('errorRecord', () => {
  it('carries everything the error says', () => {
    expect(errorRecord(error)).toEqual({
      kind: 'ErrorRecord',
      code: 'singular',
      message: 'poles: system.a has none',
      details,
    })
    expect(errorRecord(errorRecord(error))).toEqual(errorRecord(error))
  })

  it('is not made of one whose function is a number', () => {
    const odd = { ...errorRecord(error), details: { ...details, function: Number.POSITIVE_INFINITY as never } }
    expect(refusal(() => errorRecord(odd)).code).toBe('invalid-option')
  })

  it('is made of nothing else', () => {
    const { code, message, details } = refusal(() => errorRecord(new Error('other') as IsolationError))
    expect({ code, message, details }).toEqual({
      code: 'invalid-option',
      message: 'errorRecord: needs an IsolationError or an ErrorRecord',
      details: { function: 'errorRecord', path: '' },
    })
  })
})

describe('whole', () => {
  it('tells what a record with a missing part made the reader stumble over', () => {
    const { code, message } = refusal(() =>
      whole(scopeOf('poles'), 'StateSpace', () => {
        throw new TypeError('no a')
      }),
    )
    expect([code, message]).toEqual(['invalid-option', 'poles: needs a whole StateSpace, as it was returned (no a)'])
  })

  it('hands on what was read, and errors that already say why', () => {
    expect(whole(scopeOf('poles'), 'StateSpace', () => 5)).toBe(5)
    expect(
      refusal(() =>
        whole(scopeOf('poles'), 'StateSpace', () => {
          throw error
        }),
      ),
    ).toBe(error)
  })
})
