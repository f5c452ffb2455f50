// `npm run fuzz -- [--runs 100000] [--seed 1] [--from 0]`: calls every public function with valid, odd and hostile
// arguments. A call must give a finite result or an IsolationError within a second and leave its input as it was.
import { parseArgs } from 'node:util'
import { Worker } from 'node:worker_threads'
import type { Finding, Share } from './worker.js'

const { values } = parseArgs({
  options: {
    runs: { type: 'string', default: '100000' },
    seed: { type: 'string', default: '1' },
    from: { type: 'string', default: '0' },
    threads: { type: 'string', default: '2' },
  },
})
const [runs, seed, from, threads] = [values.runs, values.seed, values.from, values.threads].map(Number) as [
  number,
  number,
  number,
  number,
]

/** A worker that stays at one call for longer than this hangs [ms]. */
const longest = 30_000

const findings: Finding[] = []

async function share(first: number): Promise<void> {
  const progress = new Int32Array(new SharedArrayBuffer(4))
  Atomics.store(progress, 0, -1)
  const workerData: Share = { seed, first, step: threads, end: from + runs, progress }
  const worker = new Worker(new URL('./worker.js', import.meta.url), { workerData })
  let hung: number | null = null
  let seen = -2
  const watch = setInterval(() => {
    const at = Atomics.load(progress, 0)
    if (at === seen && at >= 0) {
      hung = at
      void worker.terminate()
    }
    seen = at
  }, longest)
  await new Promise<void>((resolve, reject) => {
    worker.on('message', (finding: Finding | null) => {
      if (finding !== null) findings.push(finding)
    })
    worker.on('error', reject)
    worker.on('exit', () => resolve())
  }).finally(() => clearInterval(watch))
  if (hung === null) return
  findings.push({ number: hung, name: `call ${hung}`, problem: 'does not return', args: '' })
  await share(hung + threads)
}

const start = performance.now()
await Promise.all(Array.from({ length: Math.min(threads, runs) }, (_, i) => share(from + i)))
const groups = grouped(findings)
for (const [what, group] of groups) {
  console.log(`${what}\n   ${group.length} times, first: --from ${group[0]?.number} --runs 1, with\n${group[0]?.args}`)
}
const seconds = ((performance.now() - start) / 1000).toFixed(0)
console.log(
  `${runs} calls with seed ${seed} in ${seconds} s: ${groups.size} kinds of fault in ${findings.length} calls`,
)
process.exitCode = findings.length === 0 ? 0 : 1

function grouped(list: readonly Finding[]): Map<string, Finding[]> {
  const map = new Map<string, Finding[]>()
  for (const finding of list) {
    const key = `${finding.name} ${finding.problem}`
    map.set(key, [...(map.get(key) ?? []), finding])
  }
  return map
}
