import { describe, expect, it } from 'vitest'
import { must, scopeOf, show, within } from '../../../src/internal/check.js'
import { refusal } from '../refusal.js'

describe('must', () => {
  it('hands on what there is, 0 included, and refuses what there is not', () => {
    const at = within(scopeOf('poles'), 'system')
    expect(must(0, 'singular', at, 'has none')).toBe(0)
    const { code, details, message } = refusal(() => must(null, 'singular', at, 'has none'))
    expect([code, details.function, details.path, message]).toEqual([
      'singular',
      'poles',
      'system',
      'poles: system has none',
    ])
  })
})

describe('show', () => {
  it('cuts a long text short', () => {
    expect(show('a'.repeat(40))).toBe(`'${'a'.repeat(40)}'`)
    expect(show('a'.repeat(41))).toBe(`'${'a'.repeat(40)}…'`)
  })
})
