import ts from 'typescript'
import * as restmass from '../../src/index.js'
import { documentedExamples } from '../meta/support/examples.js'
import { writtenPrograms } from '../meta/support/written-programs.js'
import type { AnyFunction } from './judge.js'

/** One call of a public function, as a program of the documentation makes it. */
export interface RecordedCall {
  readonly name: string
  readonly args: readonly unknown[]
}

const face: Readonly<Record<string, unknown>> = { ...restmass }

/** Every call of a public function in the examples, the readme and the guides, in their order. */
export function recordedCalls(): readonly RecordedCall[] {
  const calls: RecordedCall[] = []
  const listening = listener((name, args) => {
    if (!args.some((arg) => isLong(arg))) calls.push({ name, args })
  })
  for (const { name, code } of [...documentedExamples(), ...writtenPrograms()]) runWith(listening, name, code)
  return calls
}

/** Records of minutes take longer than a call here may. */
function isLong(value: unknown, depth = 0): boolean {
  if (typeof value !== 'object' || value === null || depth > 3) return false
  const { length } = value as { length?: unknown }
  return typeof length === 'number' ? length > 20_000 : Object.values(value).some((entry) => isLong(entry, depth + 1))
}

/** The public functions by name. */
export function publicFunctions(): Readonly<Record<string, AnyFunction>> {
  const functions = Object.entries(face).filter(
    ([name, value]) => typeof value === 'function' && name !== 'IsolationError',
  )
  return Object.fromEntries(functions) as Record<string, AnyFunction>
}

function listener(heard: (name: string, args: readonly unknown[]) => void): Record<string, unknown> {
  const wrapped: Record<string, unknown> = { ...face }
  for (const [name, call] of Object.entries(publicFunctions())) {
    wrapped[name] = (...args: unknown[]) => {
      heard(name, args)
      return call(...args)
    }
  }
  return wrapped
}

function runWith(wrapped: Record<string, unknown>, name: string, code: string): void {
  const { outputText } = ts.transpileModule(code, { compilerOptions: { module: ts.ModuleKind.CommonJS } })
  const program = new Function('require', 'exports', outputText)
  const required = (path: string) => {
    if (/^restmass(\/\w+)?$/.test(path)) return wrapped
    throw new Error(`${name} imports ${path}`)
  }
  program(required, {})
}
