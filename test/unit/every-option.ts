import { readdirSync } from 'node:fs'
import { join } from 'node:path'
import ts from 'typescript'
import { describe, expect, it } from 'vitest'
import * as restmass from '../../src/index.js'
import { examplesIn } from '../meta/support/examples.js'
import { root } from '../meta/support/repository.js'
import { refusal } from './refusal.js'

type AnyFunction = (...args: unknown[]) => unknown
type Options = Readonly<Record<string, unknown>>
/** Lists of arguments by the name of a function. */
type Calls = Readonly<Record<string, readonly (readonly unknown[])[]>>

/** The calls that the documented examples of a floor make of each of its own functions. */
function callsOf(face: object, floor: string): Map<string, unknown[][]> {
  const calls = new Map<string, unknown[][]>()
  const own = Object.entries(face).filter(([name, value]) => typeof value === 'function' && name !== 'IsolationError')
  const listening: Record<string, unknown> = { ...restmass }
  for (const [name, call] of own as [string, AnyFunction][]) {
    listening[name] = (...args: unknown[]) => {
      calls.set(name, [...(calls.get(name) ?? []), args])
      return call(...args)
    }
  }
  for (const file of readdirSync(join(root, 'src', floor)).filter((name) => name.endsWith('.ts'))) {
    for (const { code } of examplesIn(join('src', floor, file))) {
      const { outputText } = ts.transpileModule(code, { compilerOptions: { module: ts.ModuleKind.CommonJS } })
      new Function('require', 'exports', outputText)(() => listening, {})
    }
  }
  return calls
}

const isPlain = (value: unknown): value is Options =>
  typeof value === 'object' && value !== null && Object.getPrototypeOf(value) === Object.prototype

/** A call with one part of its arguments exchanged for `value`; what is said of it, or null where it is taken. */
type Put = (value: unknown) => string | null

/** What a call says of what means nothing there: code, and the words behind the name of the function, if that is its own. */
function said(name: string, call: AnyFunction, args: readonly unknown[]): string | null {
  try {
    call(...args)
  } catch (thrown) {
    const { code, message, details } = refusal(() => {
      throw thrown
    })
    return `${code}: ${details.function === name ? message.slice(name.length + 2) : message}`
  }
  return null
}

/** Every option that `value` has or may have, in turn NaN, and one that it cannot have; what is said of each. Records that
 * functions return are looked into where `records` says so, and may hold more than another function reads. */
function probe(value: unknown, path: string, records: boolean, put: Put): string[] {
  const refused = put(Number.NaN)
  if (refused === null && !records) throw new Error(`NaN at ${path} is taken`)
  const lines = [refused ?? `${path} is not looked at`]
  if (Array.isArray(value) && value.length > 0) {
    const [first, ...rest] = value
    return [...lines, ...probe(first, `${path}[0]`, records, (one) => put([one, ...rest]))]
  }
  if (!isPlain(value) || ('kind' in value && !records)) return lines
  const unknown = put({ ...value, nonsense: 1 }) ?? `${path} may have keys of its own`
  const options = /options are (.*)$/.exec(unknown)?.[1].split(', ') ?? []
  const keys = [...new Set([...Object.keys(value), ...options])]
  const inside = (key: string) => probe(value[key], `${path}.${key}`, records, (one) => put({ ...value, [key]: one }))
  return [...lines, unknown, ...keys.flatMap(inside)]
}

/** Holds what is said of every option of a floor against the lists in the folder `options` beside the test, where ranges and
 * units can be read: of those that documented examples give, of `further` calls, and of calls whose `records` are looked into. */
export function everyOption(face: object, floor: string, further: Calls = {}, records: Calls = {}): void {
  const calls = callsOf(face, floor)
  const names = new Set([...calls.keys(), ...Object.keys(further), ...Object.keys(records)])

  describe('every option that means nothing is refused by name, range and unit', () => {
    it.each([...names].sort())('of %s', async (name) => {
      const call = (face as Record<string, AnyFunction>)[name]
      const probed = (args: readonly unknown[], into: boolean) =>
        args.flatMap((arg, i) => {
          const put: Put = (one) => said(name, call, [...args.slice(0, i), one, ...args.slice(i + 1)])
          return probe(arg, `argument ${i + 1}`, into, put)
        })
      const lines = [
        ...[...(calls.get(name) ?? []), ...(further[name] ?? [])].flatMap((args) => probed(args, false)),
        ...(records[name] ?? []).flatMap((args) => probed(args, true)),
      ]
      await expect(`${[...new Set(lines)].join('\n')}\n`).toMatchFileSnapshot(`options/${name}.txt`)
    })
  })
}
