// `npm run fuzz -- [--runs 100000] [--seed 1] [--from 0]`: calls every public function with valid, odd and hostile
// arguments. A call must give a finite result or an IsolationError within a second and leave its input as it was.
import { fork } from 'node:child_process'
import { once } from 'node:events'
import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { parseArgs } from 'node:util'
import type { Finding, Share } from './worker.js'

const { values } = parseArgs({
  options: {
    runs: { type: 'string', default: '100000' },
    seed: { type: 'string', default: '1' },
    from: { type: 'string', default: '0' },
    processes: { type: 'string', default: '2' },
  },
})
const [runs, seed, from, processes] = [values.runs, values.seed, values.from, values.processes].map(Number) as [
  number,
  number,
  number,
  number,
]

/** A process that stays at one call for longer than this hangs, however busy the machine is [ms]. */
const longest = 240_000

const findings: Finding[] = []
const folder = mkdtempSync(join(tmpdir(), 'restmass-fuzz-'))

/** Makes every so-manieth call in a process of its own, and goes on behind a call that does not return. */
async function share(first: number): Promise<void> {
  const progress = join(folder, `${first}`)
  const child = fork(fileURLToPath(new URL('./worker.js', import.meta.url)), {
    serialization: 'advanced',
    // The programs of the documentation print what they find.
    stdio: ['ignore', 'ignore', 'inherit', 'ipc'],
  })
  let made = 0
  child.on('message', (message: Finding | number) => {
    if (typeof message === 'number') made = message
    else findings.push(message)
  })
  child.send({ seed, first, step: processes, end: from + runs, progress } satisfies Share)
  let hung: number | null = null
  let seen = ''
  const watch = setInterval(() => {
    const at = readFileSync(progress, { encoding: 'utf8', flag: 'a+' })
    if (at === seen && at !== '') {
      hung = Number(at)
      child.kill('SIGKILL')
    }
    seen = at
  }, longest)
  const [code] = await once(child, 'exit')
  clearInterval(watch)
  if (hung !== null) {
    findings.push({ number: hung, name: `call ${hung}`, problem: 'does not return', args: '' })
    return share(hung + processes)
  }
  const last = readFileSync(progress, { encoding: 'utf8', flag: 'a+' })
  if (code !== 0 && last !== '') {
    const at = Number(last)
    findings.push({ number: at, name: `call ${at}`, problem: 'ends its process, as for want of memory', args: '' })
    return share(at + processes)
  }
  const wanted = Math.max(0, Math.ceil((from + runs - first) / processes))
  if (code !== 0 || made !== wanted) throw new Error(`a process ended with ${code} after ${made} of ${wanted} calls`)
}

const start = performance.now()
let lost: unknown = null
try {
  await Promise.all(Array.from({ length: Math.min(processes, runs) }, (_, i) => share(from + i)))
} catch (error) {
  lost = error
} finally {
  rmSync(folder, { recursive: true, force: true })
}
const groups = grouped(findings)
for (const [what, group] of groups) {
  console.log(`${what}\n   ${group.length} times, first: --from ${group[0]?.number} --runs 1, with\n${group[0]?.args}`)
}
const seconds = ((performance.now() - start) / 1000).toFixed(0)
console.log(
  `${runs} calls with seed ${seed} in ${seconds} s: ${groups.size} kinds of fault in ${findings.length} calls`,
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
