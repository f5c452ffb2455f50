import { refusal } from '../refusal.js'

/** What a refused call says in all: code, message, and the plain data that goes with it. */
export function told(call: () => unknown): string {
  const { code, message, details } = refusal(call)
  const { function: _, path: __, ...data } = details
  return `${code}: ${message}${Object.keys(data).length === 0 ? '' : ` ${JSON.stringify(data)}`}`
}
