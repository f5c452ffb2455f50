import { expect } from 'vitest'
import { IsolationError } from '../../src/internal/errors.js'

// What DEVELOPERS.md says of every message: the function, the path of the option, then words without gaps, names apart.
const names = /'[^']*'|"[^"]*"|\[[^\]]*\]|\{[^}]*\}/g
const gaps = / {2}| [,.;]|\( | \)|,,|[\s,;(:]$|\b(be|are|is|got),/

function wellPut({ message, details }: IsolationError): void {
  expect(details.function, 'the function that refuses').toMatch(/^[a-z]\w+$/)
  const head = `${details.function}: `
  const whole = message.endsWith('…') || message.includes(details.path)
  expect(message.startsWith(head) && whole, `"${message}" names ${head}${details.path}`).toBe(true)
  const behind = message.slice(head.length)
  const subject = `${details.path} `
  const says = (behind.startsWith(subject) ? behind.slice(subject.length) : behind).replace(names, 'name')
  expect(says.split(' ').length, `"${message}" says why`).toBeGreaterThan(1)
  expect(says).not.toMatch(gaps)
  expect(details.allowed).not.toBe('')
}

/** The error of this package that a call throws, well put; a test fails where it throws none or another one. */
export function refusal(call: () => unknown): IsolationError {
  try {
    call()
  } catch (error) {
    if (!(error instanceof IsolationError)) throw error
    wellPut(error)
    return error
  }
  throw new Error('nothing was refused')
}
