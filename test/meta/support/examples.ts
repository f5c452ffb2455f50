import { join } from 'node:path'
import ts from 'typescript'
import { readText, root, trackedFiles } from './repository.js'

/** A complete program from the documentation. */
export interface Example {
  /** Where it stands. */
  readonly name: string
  readonly code: string
}

/** The program of every `@example` in src. */
export function documentedExamples(): Example[] {
  return trackedFiles()
    .filter((path) => /^src\/.*\.ts$/.test(path))
    .flatMap((path) => examplesIn(path))
}

/** The programs of every `@example` in a file. */
export function examplesIn(path: string): Example[] {
  const source = ts.createSourceFile(join(root, path), readText(path), ts.ScriptTarget.ES2022, true)
  const found: Example[] = []
  const visit = (node: ts.Node): void => {
    if (ts.isJSDocUnknownTag(node) && node.tagName.text === 'example') {
      const line = source.getLineAndCharacterOfPosition(node.getStart()).line + 1
      found.push({ name: `${path}:${line}`, code: `${(ts.getTextOfJSDocComment(node.comment) ?? '').trim()}\n` })
    }
    for (const child of ts.isJSDoc(node) ? (node.tags ?? []) : node.getChildren(source)) visit(child)
  }
  visit(source)
  return found
}

/** An example made into a module that exports the value of its last expression. */
export interface Runnable {
  readonly code: string
  /** The literal behind the last expression; null where there is none. */
  readonly stated: string | null
}

/** Splits off the last expression and the literal that its comment states. */
export function runnable(code: string): Runnable {
  const source = ts.createSourceFile('example.ts', code, ts.ScriptTarget.ES2022, true)
  const last = source.statements.at(-1)
  if (last === undefined || !ts.isExpressionStatement(last)) return { code, stated: null }
  const comment = code.slice(last.end).match(/^[ \t]*\/\/ ?(.*)\s*$/)
  return {
    code: `${code.slice(0, last.getStart())}export const lastValue = (${last.expression.getText()})\n`,
    stated: comment?.[1]?.trim() ?? null,
  }
}
