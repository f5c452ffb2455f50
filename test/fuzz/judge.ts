import { fromJson, isIsolationError, toJson } from '../../src/index.js'
import { frozenCopy, looseCopy } from './copy.js'

export type AnyFunction = (...args: readonly unknown[]) => unknown

/** What a call may do. */
export interface Allowance {
  /** Time that it may work [ms] */
  readonly patience: number
  /** Whether a number in its result may be infinite though no record says so */
  readonly infinite: boolean
}

/** What is wrong with one call; null if it gave a finite result or refused as promised, in time, and changed nothing. */
export function fault(call: AnyFunction, args: readonly unknown[], { patience, infinite }: Allowance): string | null {
  const given = frozenCopy(args) as readonly unknown[]
  const before = looseCopy(given)
  const start = performance.now()
  let problem: string | null
  try {
    problem = resultFault(call(...given), infinite)
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

function resultFault(result: unknown, infinite: boolean): string | null {
  const nan = placeOf(result, Number.isNaN)
  if (nan !== null) return `gives NaN at ${nan}`
  const kind = (result as { kind?: unknown } | null | undefined)?.kind
  const isRecord = typeof result === 'object' && typeof kind === 'string'
  if (isRecord && isLong(result)) return null
  const text = isRecord ? textOf(result) : null
  // The text form knows which numbers of a record may be infinite.
  if (text !== null) return roundTripFault(text, kind as string, result)
  const endless = infinite ? null : placeOf(result, (value) => Math.abs(value) === Infinity)
  return endless === null ? null : `gives Infinity at ${endless}`
}

/** Text of hundreds of thousands of numbers takes longer than all other calls together. */
function isLong(value: unknown): boolean {
  const lists = typeof value === 'object' && value !== null ? Object.values(value) : []
  return lists.some((list) => ArrayBuffer.isView(list) && (list as Float64Array).length > 50_000)
}

/** Where such a number stands in a result, with its indices taken out so that like faults read alike. */
function placeOf(
  value: unknown,
  wanted: (value: number) => boolean,
  path = '',
  seen = new Set<unknown>(),
): string | null {
  if (typeof value === 'number') return wanted(value) ? path || 'the result' : null
  if (typeof value !== 'object' || value === null || seen.has(value)) return null
  seen.add(value)
  if (ArrayBuffer.isView(value)) return (value as Float64Array).some(wanted) ? `${path}[]` : null
  for (const [key, entry] of Object.entries(value)) {
    const found = placeOf(entry, wanted, Array.isArray(value) ? `${path}[]` : `${path}.${key}`, seen)
    if (found !== null) return found
  }
  return null
}

/** A record as text; null for one that the text form does not know or refuses. */
function textOf(record: unknown): string | null {
  try {
    return toJson(record as never)
  } catch (error) {
    if (isIsolationError(error)) return null
    throw error
  }
}

/** A record must come back equal from its text. */
function roundTripFault(text: string, kind: string, result: unknown): string | null {
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
