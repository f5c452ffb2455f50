// `npm run fuzz -- [--runs 100000] [--seed 1] [--from 0]`: calls every public function with valid, odd and hostile
// arguments. A call must give a finite result or an IsolationError within a second and leave its input as it was.
import { fileURLToPath } from 'node:url'
import { parseArgs } from 'node:util'
import { oversee } from './oversee.js'
import type { Finding } from './share.js'

const { values } = parseArgs({
  options: {
    runs: { type: 'string', default: '100000' },
    seed: { type: 'string', default: '1' },
    from: { type: 'string', default: '0' },
    processes: { type: 'string', default: '2' },
  },
})
const start = performance.now()
const findings: Finding[] = []
let lost: unknown = null
const task = {
  worker: fileURLToPath(new URL('./worker.js', import.meta.url)),
  seed: Number(values.seed),
  from: Number(values.from),
  runs: Number(values.runs),
  processes: Number(values.processes),
  grace: 30_000,
  memory: { heap: 2048, process: 3072 },
}
try {
  await oversee(task, (finding) => {
    findings.push(finding)
    console.error(`${finding.number}: ${finding.name} ${finding.problem}`)
  })
} catch (error) {
  lost = error
}
const groups = grouped(findings)
for (const [what, group] of groups) {
  console.log(`${what}\n   ${group.length} times, first: --from ${group[0]?.number} --runs 1, with\n${group[0]?.args}`)
}
const seconds = ((performance.now() - start) / 1000).toFixed(0)
console.log(
  `${values.runs} calls with seed ${values.seed} in ${seconds} s: ${groups.size} kinds of fault in ${findings.length} calls`,
)
process.exitCode = findings.length === 0 ? 0 : 1
// What was found is told even where a process fell over.
if (lost !== null) throw lost

function grouped(list: readonly Finding[]): Map<string, Finding[]> {
  const map = new Map<string, Finding[]>()
  for (const finding of list) {
    const key = `${finding.name} ${finding.problem}`
    map.set(key, [...(map.get(key) ?? []), finding])
  }
  return map
}
