import { execFileSync } from 'node:child_process'
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import ts from 'typescript'

export const root = fileURLToPath(new URL('../../..', import.meta.url))

export const floors = ['systems', 'elements', 'isolation', 'vibration', 'assessment', 'plots', 'json']

/** Paths of the files under version control that a test may read, relative to the root. */
export function trackedFiles(): string[] {
  const listed = execFileSync('git', ['ls-files', '-z', '--cached'], { cwd: root, encoding: 'utf8' })
  const removed = execFileSync('git', ['ls-files', '-z', '--deleted'], { cwd: root, encoding: 'utf8' }).split('\0')
  return listed.split('\0').filter((path) => path !== '' && !removed.includes(path))
}

export function readText(path: string): string {
  return readFileSync(join(root, path), 'utf8')
}

/** A program over the given files, with the compiler options of a tsconfig of this repository. */
export function programOf(files: readonly string[], tsconfig: string, more: ts.CompilerOptions = {}): ts.Program {
  const path = join(root, tsconfig)
  const { config } = ts.readConfigFile(path, ts.sys.readFile)
  const { options } = ts.parseJsonConfigFileContent(config, ts.sys, join(path, '..'))
  return ts.createProgram(files, { ...options, noEmit: true, ...more })
}

/** The exports of a module, aliases resolved, by name. */
export function exportsOf(program: ts.Program, path: string): Map<string, ts.Symbol> {
  const checker = program.getTypeChecker()
  const source = program.getSourceFile(join(root, path))
  const module = source === undefined ? undefined : checker.getSymbolAtLocation(source)
  const symbols = module === undefined ? [] : checker.getExportsOfModule(module)
  return new Map(symbols.map((symbol) => [symbol.name, resolved(checker, symbol)]))
}

function resolved(checker: ts.TypeChecker, symbol: ts.Symbol): ts.Symbol {
  return symbol.flags & ts.SymbolFlags.Alias ? checker.getAliasedSymbol(symbol) : symbol
}
