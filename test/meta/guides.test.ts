import { join } from 'node:path'
import { afterAll, describe, expect, it } from 'vitest'
import { runnable } from './support/examples.js'
import { readText, trackedFiles } from './support/repository.js'
import { exampleFolder, runExample } from './support/run-example.js'

/** A program and the text that the guide says it gives. */
const quoted = trackedFiles()
  .filter((path) => /^docs\/guides\/.*\.md$/.test(path))
  .flatMap((path) =>
    [...readText(path).matchAll(/^```ts\n(.*?)^```$(?:(?!^```).)*?^```text\n(.*?)\n```$/gms)].map(
      ([, code, text]) => [path, code, text] as const,
    ),
  )
const { path: folder, remove } = exampleFolder()
afterAll(remove)

describe('a guide', () => {
  it('of some kind exists', () => {
    expect(quoted.length).toBeGreaterThan(0)
  })

  it.each(quoted)('%s quotes what its program gives', async (path, code, text) => {
    const file = join(folder, `${path.replace(/\W/g, '-')}-${quoted.findIndex((entry) => entry[1] === code)}.ts`)
    expect(await runExample(file, runnable(code as string).code)).toBe(text)
  })
})
