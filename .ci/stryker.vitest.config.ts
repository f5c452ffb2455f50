import { resolve } from 'node:path'
import { defineConfig } from 'vitest/config'

const source = resolve(import.meta.dirname, '../src')

const { RESTMASS_FLOOR: floor = 'internal' } = process.env
// What stands on the lowest floor is tested through the others, most of all through the options of elements.
const floors = floor === 'internal' ? '{internal,elements}' : floor

// The tests that judge a mutant: those of the modules and of their laws, in one project, without coverage of their own.
export default defineConfig({
  root: resolve(import.meta.dirname, '..'),
  resolve: {
    alias: [
      { find: /^restmass$/, replacement: `${source}/index.ts` },
      { find: /^restmass\/(\w+)$/, replacement: `${source}/$1/index.ts` },
    ],
  },
  test: {
    include: [`test/unit/${floors}/**/*.test.ts`, `test/{property,reference}/${floors}*.test.ts`],
    setupFiles: ['test/seed.ts'],
    testTimeout: 900_000,
    isolate: false,
  },
})
