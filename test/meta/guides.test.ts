import { join } from 'node:path'
import { afterAll, describe, expect, it } from 'vitest'
import { exampleFolder, runProgram } from './support/run-example.js'
import { disagreement } from './support/stated-value.js'
import { programsIn, runnablePieces, writtenPrograms } from './support/written-programs.js'

const programs = writtenPrograms()
const { path: folder, remove } = exampleFolder()
afterAll(remove)

describe('a document', () => {
  it.each(programs.map((program) => [program.name, program] as const))(
    '%s gives what it quotes',
    async (name, program) => {
      const { code, stated } = runnablePieces(program)
      const values = await runProgram(join(folder, `${name.replace(/\W/g, '-')}.ts`), code)
      expect(stated.some((literal) => literal !== null) || program.pieces.some(({ quoted }) => quoted !== null)).toBe(
        true,
      )
      for (const [i, { quoted }] of program.pieces.entries()) {
        const value = values[`value${i}`]
        // The readme quotes a part of its result, which has a test of its own.
        if (quoted !== null && !name.startsWith('README.md')) expect(value).toBe(quoted)
        const literal = stated[i]
        if (literal !== undefined && literal !== null) expect(disagreement(literal, value)).toBeNull()
      }
    },
  )

  it('stands for every guide and note of theory', () => {
    for (const kind of ['docs/guides/', 'docs/theory/', 'README.md']) {
      expect(
        programs.some(({ name }) => name.startsWith(kind)),
        kind,
      ).toBe(true)
    }
  })
})

describe('programs in a document', () => {
  const text = [
    '```ts',
    'const a = 2',
    'a // 2',
    '```',
    'Words.',
    '```text',
    'two',
    '```',
    '```ts continued',
    "import { gain } from 'restmass'",
    'a + 1 // 3',
    '```',
    '```sh',
    'npm test',
    '```',
    '```ts',
    "'x'",
    '```',
    '```text',
    'x',
    '```',
  ].join('\n')

  it('are blocks with those that continue them, each with the text behind it', () => {
    const [first, second, ...more] = programsIn('some.md', text)
    expect(more).toEqual([])
    expect(first?.pieces.map(({ quoted }) => quoted)).toEqual(['two', null])
    expect(second?.pieces).toEqual([{ code: "'x'\n", quoted: 'x' }])
  })

  it('export the value of each block and keep the literals stated', () => {
    const [first] = programsIn('some.md', text)
    const { code, stated } = runnablePieces(first as NonNullable<typeof first>)
    expect(stated).toEqual(['2', '3'])
    expect(code).toContain('export const value0 = (a)')
    expect(code).toContain('export const value1 = (a + 1)')
  })

  it('cannot begin with a continued block', () => {
    expect(() => programsIn('some.md', '```ts continued\n1\n```')).toThrow('begins with a continued block')
  })
})
