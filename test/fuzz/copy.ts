/** A frozen deep copy: what is called with it cannot change it unnoticed.
 *
 * Functions and handles without own properties stay themselves; typed arrays, which cannot be frozen, are copied.
 */
export function frozenCopy(value: unknown, seen = new Map<unknown, unknown>()): unknown {
  if (typeof value !== 'object' || value === null) return value
  const known = seen.get(value)
  if (known !== undefined) return known
  if (ArrayBuffer.isView(value)) return copyTyped(value)
  if (Array.isArray(value)) {
    const list: unknown[] = new Array(value.length)
    seen.set(value, list)
    for (const key of Object.keys(value)) list[Number(key)] = frozenCopy(value[Number(key)], seen)
    return Object.freeze(list)
  }
  const prototype = Object.getPrototypeOf(value)
  if ((prototype !== Object.prototype && prototype !== null) || Reflect.ownKeys(value).length === 0) return value
  const record = Object.create(prototype)
  seen.set(value, record)
  for (const key of Object.keys(value)) {
    setOwn(record, key, frozenCopy((value as Record<string, unknown>)[key], seen))
  }
  return Object.freeze(record)
}

/** A deep copy that may be changed. */
export function looseCopy(value: unknown, seen = new Map<unknown, unknown>()): unknown {
  if (typeof value !== 'object' || value === null) return value
  const known = seen.get(value)
  if (known !== undefined) return known
  if (ArrayBuffer.isView(value)) return copyTyped(value)
  if (Array.isArray(value)) {
    const list: unknown[] = []
    seen.set(value, list)
    for (const entry of value) list.push(looseCopy(entry, seen))
    return list
  }
  const prototype = Object.getPrototypeOf(value)
  if ((prototype !== Object.prototype && prototype !== null) || Reflect.ownKeys(value).length === 0) return value
  const record = Object.create(prototype)
  seen.set(value, record)
  for (const [key, entry] of Object.entries(value)) setOwn(record, key, looseCopy(entry, seen))
  return record
}

/** Sets a property of its own whatever its name, '__proto__' included. */
export function setOwn(record: object, key: string, value: unknown): void {
  Object.defineProperty(record, key, { value, enumerable: true, configurable: true, writable: true })
}

function copyTyped(value: ArrayBufferView): ArrayBufferView {
  return (value as Float64Array).slice()
}
