import { type ErrorCode, type ErrorDetails, IsolationError } from './errors.js'

/** Where a check happens: the exported function and the path of the options object inside its argument. */
export interface Scope {
  readonly fn: string
  readonly path: string
}

/** Bounds of a number. Everything that is not given is unbounded. */
export interface Range {
  readonly unit?: string
  readonly above?: number
  readonly atLeast?: number
  readonly below?: number
  readonly atMost?: number
  readonly integer?: boolean
}

export function scopeOf(fn: string): Scope {
  return { fn, path: '' }
}

/** The scope of an options object one level deeper; `within(scope, 'payload')` makes paths like `payload.mass`. */
export function within(scope: Scope, key: string | number): Scope {
  return { fn: scope.fn, path: pathOf(scope, key) }
}

const longestMessage = 1200

/** Throws the one error of this package: `fn: path says what`, with details as data. */
export function fail(code: ErrorCode, scope: Scope, says: string, details: Partial<ErrorDetails> = {}): never {
  const subject = scope.path === '' ? '' : `${scope.path} `
  const message = `${scope.fn}: ${subject}${says}`
  const short = message.length > longestMessage ? `${message.slice(0, longestMessage)}…` : message
  throw new IsolationError(code, short, { function: scope.fn, path: scope.path, ...details })
}

/** The value of a computation, refused where there is none. */
export function must<T>(value: T | null, code: ErrorCode, scope: Scope, says: string): T {
  if (value === null) fail(code, scope, says)
  return value
}

/** Checks that `value` is a record. */
export function checkRecord<T>(scope: Scope, value: T, keys: readonly string[] = []): T {
  if (typeof value === 'object' && value !== null && !Array.isArray(value) && !ArrayBuffer.isView(value)) return value
  fail(
    'invalid-option',
    scope,
    `must be an object${keys.length > 0 ? ` with ${keys.join(', ')}` : ''}, got ${show(value)}`,
  )
}

/** Checks that `value` is a record and that it has no key outside `keys`. */
export function checkOptions<T>(scope: Scope, value: T, keys: readonly string[]): T {
  checkRecord(scope, value, keys)
  for (const key of Object.keys(value as object)) {
    if (!keys.includes(key)) {
      fail('invalid-option', within(scope, key), `is not an option here; options are ${keys.join(', ')}`)
    }
  }
  return value
}

/** Checks one finite number against a range and returns it. */
export function checkNumber(scope: Scope, key: string | number, value: unknown, range: Range): number {
  const unit = range.unit === undefined ? '' : ` [${range.unit}]`
  if (typeof value === 'number' && inRange(value, range)) return value
  const allowed = `a ${range.integer ? 'whole' : 'finite'} number${describe(range)}${unit}`
  const code = typeof value !== 'number' ? 'invalid-option' : Number.isFinite(value) ? 'out-of-range' : 'not-finite'
  const shown = plain(value)
  fail(code, within(scope, key), `must be ${allowed}, got ${show(value)}`, {
    ...(shown === undefined ? {} : { value: shown }),
    allowed,
    ...(range.unit === undefined ? {} : { unit: range.unit }),
  })
}

/** Like {@link checkNumber}, with a default for an absent option. */
export function checkOptional<D>(scope: Scope, key: string, value: unknown, range: Range, fallback: D): number | D {
  return value === undefined ? fallback : checkNumber(scope, key, value, range)
}

/** Checks that a value is one of a few literals. */
export function checkOneOf<T extends string>(scope: Scope, key: string, value: unknown, allowed: readonly T[]): T {
  if (typeof value === 'string' && (allowed as readonly string[]).includes(value)) return value as T
  const list = allowed.map((entry) => `'${entry}'`).join(', ')
  fail('invalid-option', within(scope, key), `must be one of ${list}, got ${show(value)}`, { allowed: list })
}

/** Checks that a value is text. */
export function checkText(scope: Scope, key: string | number, value: unknown): string {
  return typeof value === 'string'
    ? value
    : fail('invalid-option', within(scope, key), `must be text, got ${show(value)}`)
}

/** Checks that a value can be called. */
export function checkFunction(scope: Scope, key: string, value: unknown): void {
  if (typeof value !== 'function') fail('invalid-option', within(scope, key), `must be a function, got ${show(value)}`)
}

/** Checks an array of `least` to `most` entries, by default as many as hardware has parts of a kind; its holes, which forEach would skip, come back as undefined. */
export function checkList<T>(scope: Scope, key: string, value: readonly T[] | undefined, least = 0, most = 100): T[] {
  if (Array.isArray(value) && value.length >= least && value.length <= most) return Array.from(value as readonly T[])
  const allowed = `an array with ${least} to ${most} entries`
  return fail('invalid-option', within(scope, key), `must be ${allowed}, got ${show(value)}`, { allowed })
}

/** Checks a list of finite numbers (`number[]` or `Float64Array`) and returns it unchanged. */
export function checkNumbers(scope: Scope, key: string, value: unknown, range: Range = {}): ArrayLike<number> {
  if (!Array.isArray(value) && !(value instanceof Float64Array)) {
    fail('invalid-option', within(scope, key), `must be a number[] or a Float64Array, got ${show(value)}`)
  }
  const list = value as ArrayLike<number>
  for (let i = 0; i < list.length; i++) {
    const entry = list[i]
    if (typeof entry !== 'number' || !inRange(entry as number, range)) checkNumber(within(scope, key), i, entry, range)
  }
  return list
}

/** Checks a grid: at least one entry, finite, strictly ascending, each in range; returns a copy as Float64Array. */
export function checkGrid(scope: Scope, key: string, value: unknown, range: Range): Float64Array {
  const list = checkNumbers(scope, key, value, range)
  if (list.length === 0) fail('invalid-option', within(scope, key), 'must have at least one entry, got none')
  for (let i = 1; i < list.length; i++) {
    if (!((list[i] as number) > (list[i - 1] as number))) {
      fail('invalid-option', within(within(scope, key), i), `must ascend, got ${list[i]} after ${list[i - 1]}`)
    }
  }
  return new Float64Array(list)
}

/** How a value is shown in a message: short, and safe for anything. */
export function show(value: unknown): string {
  if (typeof value === 'string') return value.length > 40 ? `'${value.slice(0, 40)}…'` : `'${value}'`
  if (typeof value === 'number' || typeof value === 'boolean' || value === null || value === undefined)
    return `${value}`
  if (Array.isArray(value) || ArrayBuffer.isView(value)) return 'an array'
  return typeof value === 'object' ? 'an object' : `a ${typeof value}`
}

/** Names for a message. */
export function listed(names: Iterable<string>): string {
  return [...names].join(', ') || 'none'
}

function pathOf(scope: Scope, key: string | number): string {
  if (typeof key === 'number') return `${scope.path}[${key}]`
  return scope.path === '' ? key : `${scope.path}.${key}`
}

function inRange(value: number, range: Range): boolean {
  if (!Number.isFinite(value) || (range.integer && !Number.isInteger(value))) return false
  if (range.above !== undefined && !(value > range.above)) return false
  if (range.atLeast !== undefined && !(value >= range.atLeast)) return false
  if (range.below !== undefined && !(value < range.below)) return false
  return range.atMost === undefined || value <= range.atMost
}

function describe(range: Range): string {
  const parts: string[] = []
  if (range.above !== undefined) parts.push(`above ${range.above}`)
  if (range.atLeast !== undefined) parts.push(`of at least ${range.atLeast}`)
  if (range.below !== undefined) parts.push(`below ${range.below}`)
  if (range.atMost !== undefined) parts.push(`of at most ${range.atMost}`)
  return parts.length === 0 ? '' : ` ${parts.join(' and ')}`
}

function plain(value: unknown): unknown {
  const kind = typeof value
  return kind === 'number' || kind === 'string' || kind === 'boolean' || value === null ? value : undefined
}
