import { resolve } from 'node:path'
import { defineConfig } from 'vitest/config'

const source = resolve(import.meta.dirname, '../src')

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
    include: ['test/unit/**/*.test.ts', 'test/property/**/*.test.ts', 'test/reference/**/*.test.ts'],
    setupFiles: ['test/seed.ts'],
    testTimeout: 30_000,
  },
})
