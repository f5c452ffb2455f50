import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest'
import { readText } from './support/repository.js'
import { exampleFolder, runProgram } from './support/run-example.js'
import { writtenPrograms } from './support/written-programs.js'

const readme = readText('README.md')
const first = writtenPrograms().find(({ name }) => name.startsWith('README.md'))?.code ?? ''
const { path: folder, remove } = exampleFolder()
afterAll(remove)

describe('the first result in the readme', () => {
  const printed: string[] = []
  beforeAll(async () => {
    const log = vi.spyOn(console, 'log').mockImplementation((line) => printed.push(line))
    await runProgram(join(folder, 'readme.ts'), first)
    log.mockRestore()
  })

  it('takes ten lines', () => {
    expect(first.trim().split('\n')).toHaveLength(10)
  })

  it('prints the verdict and the reasons that the readme quotes', () => {
    expect(printed).toHaveLength(1)
    expect(printed[0]).toMatch(/^(pass|fail|undecided)\n./)
    expect(readme).toContain(`\`\`\`text\n${printed[0]}\n\`\`\``)
  })

  it('comes with the two commands on one line each', () => {
    expect(readme).toContain('\nnpm ci && npm run demo\nnpm cit\n')
  })
})
