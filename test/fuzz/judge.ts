import { fromJson, isIsolationError, toJson } from '../../src/index.js'
import { frozenCopy, looseCopy } from './copy.js'

export type AnyFunction = (...args: readonly unknown[]) => unknown

/** What is wrong with one call; null if it gave a finite result or refused as promised, in time, and changed nothing. */
export function fault(call: AnyFunction, args: readonly unknown[], patience: number): string | null {
  const given = frozenCopy(args) as readonly unknown[]
  const before = looseCopy(given)
  const start = performance.now()
  let problem: string | null
  try {
    problem = resultFault(call(...given))
  } catch (error) {
    problem = errorFault(error)
  }
  const took = performance.now() - start
  if (problem !== null) return problem
  if (!same(before, given)) return 'changes its input'
  return took > patience && secondTime(call, given) > patience ? `takes longer than ${patience} ms` : null
}

/** Time that a call keeps this process at work [ms]: on a busy machine less than what goes by. */
function secondTime(call: AnyFunction, args: readonly unknown[]): number {
  const start = performance.now()
  const before = process.cpuUsage()
  try {
    call(...args)
  } catch {
    // Only the time counts here.
  }
  const { user, system } = process.cpuUsage(before)
  return Math.min(performance.now() - start, (user + system) / 1000)
}

function errorFault(error: unknown): string | null {
  if (!isIsolationError(error)) {
    const { name = typeof error, message = '', stack = '' } = error as Partial<Error>
    const where = stack.split('\n').find((line) => line.includes('/src/')) ?? ''
    return `throws ${name}: ${message.slice(0, 120)} ${where.trim()}`
  }
  // What was given may be NaN; a value that the library worked out may not.
  if (/\bNaN\b/.test(error.message.replace(/(got|is) .*/, ''))) return `says: ${error.message}`
  if (error.message.length > 1500) return 'has a message of more than 1500 characters'
  return null
}

function resultFault(result: unknown): string | null {
  const at = notANumber(result, '', new Set())
  if (at !== null) return `gives NaN at ${at}`
  return isLong(result) ? null : roundTripFault(result)
}

/** Text of hundreds of thousands of numbers takes longer than all other calls together. */
function isLong(value: unknown): boolean {
  const lists = typeof value === 'object' && value !== null ? Object.values(value) : []
  return lists.some((list) => ArrayBuffer.isView(list) && (list as Float64Array).length > 50_000)
}

/** Where NaN stands in a result, with its indices taken out so that like faults read alike. */
function notANumber(value: unknown, path: string, seen: Set<unknown>): string | null {
  if (typeof value === 'number') return Number.isNaN(value) ? path || 'the result' : null
  if (typeof value !== 'object' || value === null || seen.has(value)) return null
  seen.add(value)
  if (ArrayBuffer.isView(value)) return (value as Float64Array).some(Number.isNaN) ? `${path}[]` : null
  for (const [key, entry] of Object.entries(value)) {
    const found = notANumber(entry, Array.isArray(value) ? `${path}[]` : `${path}.${key}`, seen)
    if (found !== null) return found
  }
  return null
}

/** A record that the text form knows must come back equal. */
function roundTripFault(result: unknown): string | null {
  const kind = (result as { kind?: unknown } | null | undefined)?.kind
  if (typeof result !== 'object' || typeof kind !== 'string') return null
  let text: string
  try {
    text = toJson(result as never)
  } catch (error) {
    return isIsolationError(error) ? null : `toJson throws ${error}`
  }
  try {
    return same(fromJson(text, { kind: kind as never }), result) ? null : `comes back from JSON changed (${kind})`
  } catch (error) {
    return `does not come back from JSON (${kind}): ${(error as Error).message.slice(0, 200)}`
  }
}

function same(a: unknown, b: unknown, seen = new Map<unknown, unknown>()): boolean {
  if (Object.is(a, b)) return true
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false
  if (seen.get(a) === b) return true
  seen.set(a, b)
  if (ArrayBuffer.isView(a) || ArrayBuffer.isView(b)) return sameTyped(a as Float64Array, b as Float64Array)
  const keys = definedKeys(a)
  if (keys.length !== definedKeys(b).length) return false
  return keys.every((key) => same((a as Record<string, unknown>)[key], (b as Record<string, unknown>)[key], seen))
}

function sameTyped(a: Float64Array, b: Float64Array): boolean {
  return a.length === b.length && a.every((entry, i) => Object.is(entry, b[i]))
}

function definedKeys(value: object): string[] {
  return Object.keys(value).filter((key) => (value as Record<string, unknown>)[key] !== undefined)
}
