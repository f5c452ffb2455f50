import { resolve } from 'node:path'
import { defineConfig } from 'vitest/config'

const source = resolve(import.meta.dirname, '../src')

const { RESTMASS_FLOOR = 'internal' } = process.env
const floor = RESTMASS_FLOOR === 'internal' ? '*' : RESTMASS_FLOOR

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
    include: [`test/unit/${floor}/**/*.test.ts`, `test/{property,reference}/${floor}*.test.ts`],
    setupFiles: ['test/seed.ts'],
    testTimeout: 30_000,
  },
})
