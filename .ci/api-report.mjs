// The public surface as text: what each entry offers, and the declaration of every export and of every type those mention.
// `npm run api` writes .ci/api-report.txt, and refuses to where the surface has changed since but "Unreleased" of the changelog
// has not; `--check` fails where the surface is not the committed one. Both read files only, so any clone will do.
import { createHash } from 'node:crypto'
import { existsSync, readFileSync, writeFileSync } from 'node:fs'
import { posix } from 'node:path'
import { fileURLToPath } from 'node:url'
import ts from 'typescript'

const root = fileURLToPath(new URL('..', import.meta.url))
const reportPath = `${root}.ci/api-report.txt`
const read = (path) => readFileSync(`${root}${path}`, 'utf8')

const modules = new Map()
const declarations = new Map()
const entries = Object.keys(JSON.parse(read('package.json')).exports).flatMap(entryOf)
const sections = [...declarations].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, text]) => text)
const surface = [...entries, ...sections].join('\n\n')
const unreleased = read('CHANGELOG.md').match(/^## \[Unreleased\]\n(.*?)(?=^## |(?![\s\S]))/ms)?.[1] ?? ''
const digest = createHash('sha256').update(unreleased.replace(/\s+/g, ' ').trim()).digest('hex').slice(0, 16)

const committed = existsSync(reportPath) ? readFileSync(reportPath, 'utf8') : ''
const [, knownDigest = '', known = ''] = committed.match(/^Changelog: (\w+)\n\n(.*)\n$/ms) ?? []
const changes = changesOf(known.split('\n\n'), surface.split('\n\n'))

if (changes.length === 0) {
  console.log(`api report: ${declarations.size} declarations, as committed`)
} else if (process.argv.includes('--check')) {
  refuse('the public surface is not that of .ci/api-report.txt; say what changed in CHANGELOG.md and run `npm run api`')
} else if (known !== '' && digest === knownDigest) {
  refuse('the public surface has changed; say so in CHANGELOG.md under Unreleased first')
} else {
  writeFileSync(
    reportPath,
    `Public surface of restmass, written by \`npm run api\`.\nChangelog: ${digest}\n\n${surface}\n`,
  )
  console.log(`api report: ${declarations.size} declarations, ${changes.length} changes`)
}

function refuse(why) {
  console.error(`api report: ${why}\n${changes.slice(0, 40).join('\n')}`)
  process.exitCode = 1
}

/** First lines of the paragraphs that are only in one of two reports. */
function changesOf(before, after) {
  const only = (list, other, mark) =>
    list.filter((text) => text !== '' && !other.has(text)).map((text) => `${mark} ${text.split('\n')[0]}`)
  return [...only(before, new Set(after), '-'), ...only(after, new Set(before), '+')]
}

/** The names an entry of the package offers; an entry that is no floor of its own is only named. */
function entryOf(entry) {
  const index = entry === '.' ? 'src/index.ts' : `src/${entry.slice(2)}/index.ts`
  if (!existsSync(`${root}${index}`)) return [`entry ${entry}`]
  const names = moduleOf(index).exported
  for (const [name, place] of names) declare(place.module, place.name, name)
  return [
    `entry ${entry}\n${[...names.keys()]
      .sort()
      .map((name) => `  ${name}`)
      .join('\n')}`,
  ]
}

/** What a module exports from elsewhere, imports and declares, without bodies and comments. */
function moduleOf(path) {
  const known = modules.get(path)
  if (known !== undefined) return known
  const compilerOptions = { removeComments: true, isolatedDeclarations: true, target: ts.ScriptTarget.ES2022 }
  const { outputText } = ts.transpileDeclaration(read(path), { fileName: path, compilerOptions })
  const source = ts.createSourceFile(path, outputText, ts.ScriptTarget.ES2022, true)
  const found = { exported: new Map(), imported: new Map(), declared: new Map() }
  for (const statement of source.statements) {
    const from = statement.moduleSpecifier?.text
    const module = from?.startsWith('.') ? posix.join(posix.dirname(path), from.replace(/\.js$/, '.ts')) : undefined
    if (module !== undefined) {
      const [list, elements] = ts.isExportDeclaration(statement)
        ? [found.exported, statement.exportClause.elements]
        : [found.imported, statement.importClause.namedBindings.elements]
      for (const { name, propertyName } of elements) list.set(name.text, { module, name: (propertyName ?? name).text })
    } else {
      const names = ts.isVariableStatement(statement) ? statement.declarationList.declarations : [statement]
      for (const { name } of names) if (name !== undefined) declareIn(found.declared, name.text, statement)
    }
  }
  modules.set(path, found)
  return found
}

/** Overloads stand under one name. */
function declareIn(declared, name, statement) {
  declared.set(name, [...(declared.get(name) ?? []), statement])
}

/** Takes in a declaration and whatever it mentions. */
function declare(path, name, shown = name) {
  const key = `${shown} ${path}`
  if (declarations.has(key)) return
  const { declared, imported, exported } = moduleOf(path)
  const elsewhere = exported.get(name)
  if (elsewhere !== undefined) return declare(elsewhere.module, elsewhere.name, shown)
  const statements = declared.get(name) ?? []
  if (statements.length === 0) throw new Error(`no declaration of ${name} in ${path}`)
  declarations.set(
    key,
    statements.map((statement) => statement.getText().replace(/^(export )?(declare )?/, '')).join('\n'),
  )
  const visit = (node) => {
    if (ts.isIdentifier(node)) {
      const place = imported.get(node.text)
      if (place !== undefined) declare(place.module, place.name)
      else if (declared.has(node.text)) declare(path, node.text)
    }
    ts.forEachChild(node, visit)
  }
  for (const statement of statements) visit(statement)
}
