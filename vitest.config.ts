import { fileURLToPath } from 'node:url'
import { defineConfig } from 'vitest/config'

const source = fileURLToPath(new URL('src/', import.meta.url))

const runtime = (name: string, more: object = {}) => ({
  // Examples import the package by its name.
  resolve: {
    alias: [
      { find: /^restmass$/, replacement: `${source}index.ts` },
      { find: /^restmass\/(\w+)$/, replacement: `${source}$1/index.ts` },
    ],
  },
  test: {
    name,
    include: [`test/${name}/**/*.test.ts`],
    setupFiles: ['test/seed.ts'],
    testTimeout: 30_000,
    isolate: false,
    ...more,
  },
})

// Thousands of random cases, minutes long: `npm run test:long`, not part of `npm test`.
const long = process.env.RESTMASS_LONG === '1' ? [runtime('long', { testTimeout: 900_000 })] : []

// The site in a real browser, after `npm run docs`: `npm run test:browser`, not part of `npm test`, which needs no browser.
const browser =
  process.env.RESTMASS_BROWSER === '1' ? [runtime('browser', { testTimeout: 120_000, hookTimeout: 120_000 })] : []
// Only `npm run bench` has benchmarks.
const bench = process.argv.includes('bench')
  ? [runtime('bench', { include: [], benchmark: { include: ['bench/**/*.bench.ts'] } })]
  : []

export default defineConfig({
  test: {
    projects: [
      runtime('unit'),
      runtime('property'),
      runtime('reference'),
      ...long,
      ...browser,
      ...bench,
      runtime('meta', { testTimeout: 60_000, hookTimeout: 60_000 }),
      runtime('package', { globalSetup: 'test/package/pack.ts', testTimeout: 30_000 }),
      {
        test: {
          name: 'types',
          include: [],
          typecheck: {
            enabled: true,
            only: true,
            include: ['test/types/**/*.test-d.ts'],
            tsconfig: 'test/tsconfig.json',
            // Faults in src are the business of `npm run typecheck`; these tests judge only themselves.
            ignoreSourceErrors: true,
          },
        },
      },
    ],
    coverage: {
      provider: 'v8',
      include: ['src/**/*.ts'],
      exclude: ['src/**/index.ts', 'src/**/types.ts'],
      reporter: ['text-summary', 'json-summary', 'html'],
      reportOnFailure: true,
      // Raised as tests arrive, never lowered.
      thresholds: { statements: 99, branches: 98, functions: 99, lines: 99 },
    },
  },
})
