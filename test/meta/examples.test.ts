import { writeFileSync } from 'node:fs'
import { join } from 'node:path'
import ts from 'typescript'
import { afterAll, describe, expect, it } from 'vitest'
import { documentedExamples, runnable } from './support/examples.js'
import { programOf, root } from './support/repository.js'
import { exampleFolder, runExample } from './support/run-example.js'
import { disagreement } from './support/stated-value.js'
import { writtenPrograms } from './support/written-programs.js'

const { path: folder, remove } = exampleFolder()
afterAll(remove)

const documented = documentedExamples().map((example, i) => ({ ...example, file: join(folder, `documented-${i}.ts`) }))
const written = writtenPrograms().map((example, i) => ({ ...example, file: join(folder, `written-${i}.ts`) }))
const all = [...documented, ...written]
for (const { file, code } of all) writeFileSync(file, `${code}\nexport {}\n`)
const complaints = typeCheck(all.map(({ file }) => file))

/** What the compiler says of each file, as a user of the package would see it. */
function typeCheck(files: readonly string[]): ReadonlyMap<string, readonly string[]> {
  const paths = { restmass: [join(root, 'src/index.ts')], 'restmass/*': [join(root, 'src/*/index.ts')] }
  const program = programOf(files, 'test/tsconfig.json', { paths })
  const text = (diagnostic: ts.Diagnostic) => ts.flattenDiagnosticMessageText(diagnostic.messageText, '\n')
  return new Map(files.map((file) => [file, ts.getPreEmitDiagnostics(program, program.getSourceFile(file)).map(text)]))
}

/** Rows for a table of tests, which would shorten long names inside a record. */
function named<T extends { name: string }>(examples: readonly T[]): [string, T][] {
  return examples.map((example) => [example.name, example])
}

describe('the example of', () => {
  it.each(named(documented))('%s compiles, runs and gives what it states', async (_, { file, code }) => {
    expect(complaints.get(file)).toEqual([])
    expect(code.trim().split('\n').length).toBeLessThanOrEqual(10)
    const { code: program, stated } = runnable(code)
    expect(stated, 'the last line is `expression // literal`').not.toBeNull()
    expect(disagreement(stated as string, await runExample(file.replace(/\.ts$/, '.run.ts'), program))).toBeNull()
  })
})

// What they give is compared in guides.test.ts.
describe('the program in', () => {
  it.each(named(written))('%s compiles', (_, { file }) => {
    expect(complaints.get(file)).toEqual([])
  })
})
