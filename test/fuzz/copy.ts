/** A frozen deep copy: what is called with it cannot change it unnoticed. Typed arrays, which cannot be frozen, are copied. */
export function frozenCopy(value: unknown): unknown {
  return copied(value, Object.freeze)
}

/** A deep copy that may be changed. */
export function looseCopy(value: unknown): unknown {
  return copied(value, (copy) => copy)
}

/** Functions and handles without properties of their own stay themselves, holes stay holes, cycles are kept. */
function copied(value: unknown, finish: (copy: object) => object, seen = new Map<unknown, unknown>()): unknown {
  if (typeof value !== 'object' || value === null) return value
  if (seen.has(value)) return seen.get(value)
  if (ArrayBuffer.isView(value)) {
    const copy = (value as Float64Array).slice()
    seen.set(value, copy)
    return copy
  }
  const prototype = Object.getPrototypeOf(value)
  const isError = value instanceof Error
  const isPlain = Array.isArray(value) || isError || prototype === Object.prototype || prototype === null
  if (!isPlain || (!Array.isArray(value) && Reflect.ownKeys(value).length === 0)) return value
  const copy: object = Array.isArray(value) ? new Array(value.length) : Object.create(prototype)
  seen.set(value, copy)
  // Message and stack of an error are not enumerable.
  for (const key of isError ? Object.getOwnPropertyNames(value) : Object.keys(value))
    setOwn(copy, key, copied((value as Record<string, unknown>)[key], finish, seen))
  return finish(copy)
}

/** Sets a property of its own whatever its name, '__proto__' included. */
export function setOwn(record: object, key: string, value: unknown): void {
  if (key !== '__proto__') (record as Record<string, unknown>)[key] = value
  else Object.defineProperty(record, key, { value, enumerable: true, configurable: true, writable: true })
}
