// Writes src/index.ts: the errors and whatever the index of each floor exports, once each. A meta test holds it to that.
import { execFileSync } from 'node:child_process'
import { readFileSync, writeFileSync } from 'node:fs'
import { posix } from 'node:path'
import { fileURLToPath } from 'node:url'
import ts from 'typescript'

const floors = ['systems', 'elements', 'vibration', 'isolation', 'assessment', 'plots', 'json']
const sourceFolder = fileURLToPath(new URL('../src/', import.meta.url))
const errors = [
  'type ErrorCode',
  'type ErrorDetails',
  'type ErrorRecord',
  'errorRecord',
  'IsolationError',
  'isIsolationError',
]

const namesByModule = new Map([['./internal/errors.js', new Set(errors)]])
for (const floor of floors) collect(floor)

const blocks = [...namesByModule].map(([module, names]) => `export { ${[...names].join(', ')} } from '${module}'`)
writeFileSync(
  `${sourceFolder}index.ts`,
  `// The public face: named re-exports only. Written by \`npm run face\` from the faces of the floors.\n\n${blocks.join('\n')}\n`,
)
const biome = fileURLToPath(new URL('../node_modules/@biomejs/biome/bin/biome', import.meta.url))
execFileSync(process.execPath, [biome, 'check', '--write', `${sourceFolder}index.ts`], { stdio: 'ignore' })

function collect(floor) {
  const path = `${sourceFolder}${floor}/index.ts`
  const source = ts.createSourceFile(path, readFileSync(path, 'utf8'), ts.ScriptTarget.ES2022, true)
  for (const statement of source.statements) {
    if (!ts.isExportDeclaration(statement)) throw new Error(`${path} holds more than re-exports`)
    if (statement.moduleSpecifier === undefined) continue
    const module = `./${posix.join(floor, statement.moduleSpecifier.text)}`
    const names = namesByModule.get(module) ?? new Set()
    for (const element of statement.exportClause.elements) {
      names.add(`${statement.isTypeOnly ? 'type ' : ''}${element.getText()}`)
    }
    namesByModule.set(module, names)
  }
}
