import { describe, expect, it } from 'vitest'
import * as everything from '../../src/index.js'

type Call = (...given: unknown[]) => unknown

const functions = Object.entries<unknown>({ ...everything }).filter(
  (entry): entry is [string, Call] => typeof entry[1] === 'function' && entry[0] !== 'IsolationError',
)

/** What no function means anything by, in the first place and in the first two. */
const nonsense: readonly unknown[] = [undefined, null, [], {}, 'x', 42, true, new Float64Array(2)]
const argumentLists = [[], ...nonsense.map((value) => [value]), ...nonsense.map((value) => [value, value])]

/** Whether NaN stands anywhere in plain data. */
function holdsNaN(value: unknown): boolean {
  if (typeof value === 'number') return Number.isNaN(value)
  if (ArrayBuffer.isView(value)) return (value as Float64Array).some(Number.isNaN)
  return typeof value === 'object' && value !== null && Object.values(value).some(holdsNaN)
}

/** What came of a call that is neither a plain result nor an error of the package; null where all is well. */
function complaint(call: () => unknown): string | null {
  try {
    return holdsNaN(call()) ? 'returned NaN' : null
  } catch (error) {
    return everything.isIsolationError(error) ? null : `threw ${error}`
  }
}

describe('every function, given nothing or nonsense, returns a result or throws the one error', () => {
  it('knows the functions of the package', () => {
    expect(functions.length).toBeGreaterThan(150)
  })

  it.each(functions)('%s', (_, call) => {
    const complaints = argumentLists.flatMap((given) => {
      const found = complaint(() => call(...given))
      return found === null ? [] : [`(${given.map(String).join()}) ${found}`]
    })
    expect(complaints).toEqual([])
  })

  it('tells a wrong error and NaN from the right ones', () => {
    expect(complaint(() => (null as unknown as { a: number }).a)).toContain('TypeError')
    expect(complaint(() => ({ value: [1, Number.NaN] }))).toBe('returned NaN')
  })
})
