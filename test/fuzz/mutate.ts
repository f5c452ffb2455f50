import { looseCopy, setOwn } from './copy.js'

type Random = () => number
type Container = Record<string, unknown>

/** A copy of the arguments with one to three places changed: to other valid values, to edges, or to nonsense; no list gets
 * longer than `longest`, but for nonsense. */
export function mutated(args: readonly unknown[], random: Random, longest: number): unknown[] {
  const copy = looseCopy([...args]) as unknown[]
  const changes = random() < 0.1 ? 0 : 1 + Math.floor(3 * random())
  for (let i = 0; i < changes; i++) changeOne(copy, random, longest)
  return copy
}

function changeOne(args: unknown[], random: Random, longest: number): void {
  const [holder, key] = place(args as unknown as Container, random)
  const value = holder[key]
  const other = random() < 0.15 ? pick(nonsense, random)(args) : variant(value, random, longest)
  if (ArrayBuffer.isView(holder)) {
    if (typeof other === 'number') (holder as unknown as Float64Array)[Number(key)] = other
  } else if (other !== removed) setOwn(holder, key, other)
  else if (Array.isArray(holder)) holder.splice(Number(key), 1)
  else delete holder[key]
}

/** A random place in the tree; shallow places are as likely as deep ones. */
function place(root: Container, random: Random): [Container, string] {
  let holder = root
  let key = pick(keysOf(holder), random) ?? '0'
  for (;;) {
    const inner = holder[key]
    const keys = typeof inner === 'object' && inner !== null ? keysOf(inner as Container) : []
    if (keys.length === 0 || random() < 0.2) return [holder, key]
    holder = inner as Container
    key = pick(keys, random)
  }
}

function keysOf(value: Container): string[] {
  if (ArrayBuffer.isView(value))
    return Array.from({ length: Math.min(64, (value as unknown as Float64Array).length) }, (_, i) => `${i}`)
  return Object.keys(value)
}

const removed = Symbol('removed')

function variant(value: unknown, random: Random, longest: number): unknown {
  if (typeof value === 'number') return numberVariant(value, random)
  if (typeof value === 'string') return pick(stringVariants, random)(value)
  if (Array.isArray(value) || ArrayBuffer.isView(value)) return listVariant(value as unknown[], random, longest)
  if (typeof value === 'object' && value !== null) return recordVariant(value as Container, random)
  return pick(nonsense, random)([])
}

function numberVariant(value: number, random: Random): unknown {
  const draw = random()
  if (draw < 0.45) return value * 10 ** (random() < 0.5 ? 2 * random() - 1 : 0.1 * random())
  if (draw < 0.6) return value * 10 ** (12 * random() - 6)
  return pick(edges, random)(value)
}

const edges: ((value: number) => unknown)[] = [
  (value) => -value,
  () => 0,
  () => -0,
  () => 1,
  () => NaN,
  () => Infinity,
  () => -Infinity,
  () => 1e300,
  () => 1e-300,
  () => Number.MAX_VALUE,
  () => 5e-324,
  () => 2 ** 53 + 2,
  () => 1e9,
  (value) => value + 0.5,
  (value) => `${value}`,
  () => null,
  () => undefined,
  () => removed,
  () => 10n,
  (value) => [value],
  (value) => ({ value }),
]

const stringVariants: ((value: string) => unknown)[] = [
  (value) => `${value}x`,
  (value) => value.toUpperCase(),
  () => '',
  () => '__proto__',
  () => 'constructor',
  () => 'toString',
  () => 'x'.repeat(100_000),
  () => 0,
  () => null,
  () => undefined,
  () => removed,
  (value) => [value],
]

function listVariant(list: unknown[], random: Random, longest: number): unknown {
  const entries = Array.from(list)
  const typed = ArrayBuffer.isView(list)
  const at = Math.floor(entries.length * random())
  const next: unknown = pick<() => unknown>(
    [
      () => [],
      () => entries.slice(0, at),
      () => [...entries, ...entries],
      () => entries.reverse(),
      () => entries.map((_, i) => entries[(i + at) % entries.length]),
      () => entries.slice(0, 1),
      () => new Array(3),
      () => repeated(entries, Math.min(longest, 20)),
      () => repeated(entries, Math.min(longest, 900)),
      () => repeated(entries, longest),
      () => stretched(entries, longest),
      () => (entries.every((entry) => typeof entry === 'number') ? Float32Array.from(entries as number[]) : entries),
      () => (entries.every((entry) => typeof entry === 'number') ? Float64Array.from(entries as number[]) : entries),
      () => ({ length: 3, 0: 1, 1: 2, 2: 3 }),
      () => removed,
    ],
    random,
  )()
  return typed && Array.isArray(next) && random() < 0.8 ? Float64Array.from(next as number[]) : next
}

function repeated(entries: readonly unknown[], length: number): unknown[] {
  return Array.from({ length }, (_, i) => entries[i % Math.max(1, entries.length)])
}

/** A list of numbers with as many more between them, so that what ascends still does. */
function stretched(entries: readonly unknown[], length: number): unknown {
  if (entries.length < 2 || !entries.every((entry) => typeof entry === 'number')) return entries
  return Array.from({ length }, (_, i) => {
    const place = (i / (length - 1)) * (entries.length - 1)
    const k = Math.min(Math.floor(place), entries.length - 2)
    const [from, to] = [entries[k] as number, entries[k + 1] as number]
    return from + (place - k) * (to - from)
  })
}

function recordVariant(record: Container, random: Random): unknown {
  const keys = Object.keys(record)
  const key = pick(keys, random) ?? 'x'
  const other = pick(keys, random) ?? 'y'
  return pick<() => unknown>(
    [
      () => ({ ...record, unknownKey: 1 }),
      () => Object.fromEntries(Object.entries(record).filter(([name]) => name !== key)),
      () => ({ ...record, [key]: record[other], [other]: record[key] }),
      () => ({ ...record, [key]: record[other] }),
      () => withOwn(record, '__proto__', record[key]),
      () => withOwn(record, 'constructor', record[key]),
      () => ({ ...record, kind: 'Spectrum' }),
      () => withOwn(record, key, record),
      () => Object.assign(Object.create(null), record),
      () => [record],
      () => ({}),
      () => removed,
    ],
    random,
  )()
}

/** Values that no option takes; each gets all arguments, for a cycle. */
const nonsense: ((args: unknown[]) => unknown)[] = [
  (args) => args,
  () => nested(2000),
  () => new Date(0),
  () => new Map([['mass', 1]]),
  () => /x/,
  () => Symbol('x'),
  () => () => 1,
  () => true,
  () => '__proto__',
  () => JSON.parse('{"__proto__": {"mass": 1}}'),
  () => new Float64Array(100_000),
  () => new Uint8Array(4),
  () => Object.create({ mass: 1 }),
  () => new Proxy({}, {}),
]

function nested(depth: number): unknown {
  let value: unknown = 1
  for (let i = 0; i < depth; i++) value = i % 2 === 0 ? [value] : { value }
  return value
}

function withOwn(record: Container, key: string, value: unknown): Container {
  const copy = { ...record }
  setOwn(copy, key, value)
  return copy
}

function pick<T>(list: readonly T[], random: Random): T {
  return list[Math.floor(list.length * random())] as T
}
