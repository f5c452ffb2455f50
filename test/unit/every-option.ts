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

/** The calls that the documented examples of a floor make of each of its own functions. */
function callsOf(face: object, floor: string): Map<string, readonly (readonly unknown[])[]> {
  const calls = new Map<string, readonly (readonly unknown[])[]>()
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

const isOptions = (value: unknown): value is Options =>
  typeof value === 'object' && value !== null && Object.getPrototypeOf(value) === Object.prototype && !('kind' in value)

const unknownKey = 'an unknown key in '

/** A call with one part of its arguments exchanged for `value`; `path` says which. */
type Put = (value: unknown, path: string) => string

/** What a call says of what means nothing there: code, and the words behind the name of the function. */
function said(call: AnyFunction, args: readonly unknown[], path: string): string {
  try {
    const { code, message, details } = refusal(() => call(...args))
    return `${code}: ${message.slice(details.function.length + 2)}`
  } catch (error) {
    if (path.startsWith(unknownKey)) return `${path.slice(unknownKey.length)} may have keys of its own`
    throw new Error(`${path} in place of what is there: ${error}`)
  }
}

/** Every option that `value` has or may have, in turn NaN, and one that it cannot have; what is said of each. */
function probe(value: unknown, path: string, put: Put): string[] {
  const lines = [put(Number.NaN, `NaN at ${path}`)]
  if (Array.isArray(value) && value.length > 0) {
    const [first, ...rest] = value
    return [...lines, ...probe(first, `${path}[0]`, (one, at) => put([one, ...rest], at))]
  }
  if (!isOptions(value)) return lines
  const unknown = put({ ...value, nonsense: 1 }, `${unknownKey}${path}`)
  const options = /options are (.*)$/.exec(unknown)?.[1].split(', ') ?? []
  const keys = [...new Set([...Object.keys(value), ...options])]
  const inside = (key: string) => probe(value[key], `${path}.${key}`, (one, at) => put({ ...value, [key]: one }, at))
  return [...lines, unknown, ...keys.flatMap(inside)]
}

/** Holds what is said of every option of a floor against the list in `file`, where ranges and units can be read: those that
 * documented examples give, and those of `further` calls by the name of the function. */
export function everyOption(
  face: object,
  floor: string,
  file: string,
  further: Readonly<Record<string, readonly (readonly unknown[])[]>> = {},
): void {
  const calls = callsOf(face, floor)
  for (const [name, more] of Object.entries(further)) calls.set(name, [...(calls.get(name) ?? []), ...more])

  describe('every option that means nothing is refused by name, range and unit', () => {
    it.each([...calls.keys()].sort())('of %s', async (name) => {
      const call = (face as Record<string, AnyFunction>)[name]
      const lines = (calls.get(name) ?? []).flatMap((args) =>
        args.flatMap((arg, i) =>
          probe(arg, `argument ${i + 1}`, (one, path) =>
            said(call, [...args.slice(0, i), one, ...args.slice(i + 1)], path),
          ),
        ),
      )
      await expect(`${[...new Set(lines)].join('\n')}\n`).toMatchFileSnapshot(`${file}/${name}.txt`)
    })
  })
}
