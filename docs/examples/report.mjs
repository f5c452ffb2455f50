// A report on one design at one site, as a single file without script or network.
//
//     npm run build && node docs/examples/report.mjs [DESIGN.json [REPORT.html]]
//
// DESIGN.json holds `title`, `design` (options of a concept), `site` (as for `assess`, without moves) and `moves` (options of
// `motionProfile` with `movingMass`); docs/examples/report/design.json is an invented one.
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { fileURLToPath } from 'node:url'
import { isIsolationError } from 'restmass'
import { reportPage } from './report/report-page.js'

const [given, wanted] = process.argv.slice(2)
const source = given ?? fileURLToPath(new URL('report/design.json', import.meta.url))
const out = new URL('../../out/', import.meta.url)
try {
  const { version } = createRequire(import.meta.url)('restmass/package.json')
  const html = await reportPage({ ...JSON.parse(readFileSync(source, 'utf8')), version })
  mkdirSync(out, { recursive: true })
  const target = wanted ?? fileURLToPath(new URL('assessment.html', out))
  writeFileSync(target, html)
  console.log(`Report: ${target}`)
} catch (error) {
  if (!(isIsolationError(error) || error instanceof SyntaxError || error.code === 'ENOENT')) throw error
  console.error(`report: ${error.message}`)
  process.exitCode = 1
}
