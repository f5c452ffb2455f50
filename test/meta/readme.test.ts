import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { runnable } from './support/examples.js'
import { readText } from './support/repository.js'
import { exampleFolder, runExample } from './support/run-example.js'
import { writtenPrograms } from './support/written-programs.js'

const readme = readText('README.md')
const first = writtenPrograms().find(({ name }) => name.startsWith('README.md'))?.code ?? ''
const { path: folder, remove } = exampleFolder()
afterAll(remove)

describe('the first result in the readme', () => {
  let assessment: { verdict: string; reasons: string[] }
  beforeAll(async () => {
    assessment = (await runExample(join(folder, 'readme.ts'), runnable(first).code)) as typeof assessment
  })

  it('takes ten lines that end in the assessment', () => {
    const lines = first.trim().split('\n')
    expect(lines).toHaveLength(10)
    expect(lines.at(-1)).toBe("assess(model, { floor, criterion: 'VC-E' })")
  })

  it('has the verdict and the reasons that the readme quotes', () => {
    expect(readme).toContain(`The \`verdict\` is \`'${assessment.verdict}'\``)
    expect(assessment.reasons.length).toBeGreaterThan(0)
    expect(readme).toContain(`\`\`\`text\n${assessment.reasons.join('\n')}\n\`\`\``)
  })

  it('comes with the two commands on one line each', () => {
    expect(readme).toContain('\nnpm ci && npm run demo\nnpm cit\n')
  })
})
