// Prints `passed failed` of a vitest JSON report. A suite that fails without a failing test in it counts as one failure.
import { readFileSync } from 'node:fs'

const report = JSON.parse(readFileSync(process.argv[2], 'utf8'))
const broken = report.testResults.filter(
  (suite) => suite.status === 'failed' && !suite.assertionResults.some((test) => test.status === 'failed'),
)
console.log(`${report.numPassedTests} ${report.numFailedTests + broken.length}`)
