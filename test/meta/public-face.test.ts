import { join } from 'node:path'
import ts from 'typescript'
import { describe, expect, it } from 'vitest'
import { exportsOf, floors, programOf, root } from './support/repository.js'

const face = 'src/index.ts'
const faces = [face, 'src/internal/errors.ts', ...floors.map((floor) => `src/${floor}/index.ts`)]
const program = programOf(
  faces.map((path) => join(root, path)),
  'tsconfig.json',
)
const exported = [...exportsOf(program, face)]

const isValue = (symbol: ts.Symbol) => (symbol.flags & ts.SymbolFlags.Value) !== 0
const isConstant = (symbol: ts.Symbol) => {
  const type = program.getTypeChecker().getTypeOfSymbol(symbol)
  return (symbol.flags & ts.SymbolFlags.Variable) !== 0 && type.getCallSignatures().length === 0
}
const isClass = (symbol: ts.Symbol) => (symbol.flags & ts.SymbolFlags.Class) !== 0
const firstLine = (symbol: ts.Symbol) =>
  ts.displayPartsToString(symbol.getDocumentationComment(program.getTypeChecker())).split('\n')[0]
const hasTag = (symbol: ts.Symbol, name: string) =>
  symbol.getJsDocTags().some((tag) => tag.name === name && ts.displayPartsToString(tag.text).trim() !== '')
const without = (select: (symbol: ts.Symbol) => boolean, has: (symbol: ts.Symbol) => boolean) =>
  exported.filter(([, symbol]) => select(symbol) && !has(symbol)).map(([name]) => name)

describe('the public face', () => {
  it('is the union of the floors and the errors, the same thing under the same name', () => {
    const union = new Map(faces.slice(1).flatMap((path) => [...exportsOf(program, path)]))
    expect(exported.map(([name]) => name).sort()).toEqual([...union.keys()].sort())
    expect(exported.filter(([name, symbol]) => union.get(name) !== symbol).map(([name]) => name)).toEqual([])
  })

  it('is not empty', () => {
    expect(exported.map(([name]) => name)).toContain('isIsolationError')
  })
})

describe('the documentation of every export', () => {
  it('starts with a line in words', () => {
    expect(
      without(
        () => true,
        (symbol) => (firstLine(symbol) ?? '').length > 0,
      ),
    ).toEqual([])
  })

  it('names the source of every formula and constant', () => {
    expect(
      without(
        (symbol) => isValue(symbol) && !isClass(symbol),
        (symbol) => hasTag(symbol, 'source'),
      ),
    ).toEqual([])
  })

  it('carries an example for every function and class', () => {
    expect(
      without(
        (symbol) => isValue(symbol) && !isConstant(symbol),
        (symbol) => hasTag(symbol, 'example'),
      ),
    ).toEqual([])
  })
})
