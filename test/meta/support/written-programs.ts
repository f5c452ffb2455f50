import ts from 'typescript'
import { readText, trackedFiles } from './repository.js'

/** A block of a program in a document. */
export interface Piece {
  readonly code: string
  /** The block marked `text` that follows it before the next code: what its last expression gives; null without. */
  readonly quoted: string | null
}

/** A program in a document: a block marked `ts`, and those marked `ts continued` that go on with it. */
export interface WrittenProgram {
  readonly name: string
  readonly pieces: readonly Piece[]
  readonly code: string
}

/** Every program in the readme and the docs. */
export function writtenPrograms(): WrittenProgram[] {
  return trackedFiles()
    .filter((path) => path === 'README.md' || /^docs\/.*\.md$/.test(path))
    .flatMap((path) => programsIn(path, readText(path)))
}

export function programsIn(path: string, text: string): WrittenProgram[] {
  const programs: Piece[][] = []
  for (const [, mark, code = '', rest = ''] of text.matchAll(
    /^```ts( continued)?\n(.*?)^```$(.*?)(?=^```(?!text)\w|(?![\s\S]))/gms,
  )) {
    const quoted = rest.match(/^```text\n(.*?)\n```$/ms)?.[1] ?? null
    if (mark === undefined) programs.push([])
    const program = programs.at(-1)
    if (program === undefined) throw new Error(`${path}: a program begins with a continued block`)
    program.push({ code, quoted })
  }
  return programs.map((pieces, i) => ({
    name: `${path}, program ${i + 1}`,
    pieces,
    code: pieces.map(({ code }) => code).join('\n'),
  }))
}

/** The value of each piece as an export `value0`, `value1` and so on, and the literals behind their last expressions. */
export function runnablePieces({ pieces }: WrittenProgram): { code: string; stated: (string | null)[] } {
  const stated: (string | null)[] = []
  const code = pieces.map((piece, i) => {
    const source = ts.createSourceFile('piece.ts', piece.code, ts.ScriptTarget.ES2022, true)
    const last = source.statements.at(-1)
    const isValue = last !== undefined && ts.isExpressionStatement(last)
    stated.push(
      isValue
        ? (piece.code
            .slice(last.end)
            .match(/^[ \t]*\/\/ ?(.*)\s*$/)?.[1]
            ?.trim() ?? null)
        : null,
    )
    return isValue
      ? `${piece.code.slice(0, last.getStart())}export const value${i} = (${last.expression.getText()})\n`
      : piece.code
  })
  return { code: code.join('\n'), stated }
}
