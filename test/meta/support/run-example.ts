import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { root } from './repository.js'

/** A new folder for generated programs, inside the repository so that they find its dependencies. */
export function exampleFolder(): { readonly path: string; readonly remove: () => void } {
  mkdirSync(join(root, 'out'), { recursive: true })
  const path = mkdtempSync(join(root, 'out', 'examples-'))
  return { path, remove: () => rmSync(path, { recursive: true, force: true }) }
}

/** Runs a program and returns what it exports. */
export async function runProgram(file: string, code: string): Promise<Record<string, unknown>> {
  writeFileSync(file, code)
  return (await import(/* @vite-ignore */ file)) as Record<string, unknown>
}

/** Runs a program written by `runnable` and returns the value of its last expression. */
export async function runExample(file: string, code: string): Promise<unknown> {
  return (await runProgram(file, code)).lastValue
}
