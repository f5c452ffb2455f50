import { fork } from 'node:child_process'
import { once } from 'node:events'
import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Finding, Share, UnderWay } from './share.js'

/** What to go through, and how long and how large a call may get before it is ended from outside. */
export interface Task {
  /** Program that waits for its {@link Share}, sends what it finds, and in the end how many calls it made. */
  readonly worker: string
  readonly seed: number
  readonly from: number
  readonly runs: number
  readonly processes: number
  /** Time that may go by at one call, beyond four times what it may work [ms]: other work keeps the machine busy. */
  readonly grace: number
  /** Largest heap and largest process [MB]. */
  readonly memory: { readonly heap: number; readonly process: number }
}

type Tell = (finding: Finding) => void

/** Makes calls in processes of their own and goes on behind a call that does not return or takes its process along. */
export async function oversee(task: Task, tell: Tell): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'restmass-fuzz-'))
  try {
    const shares = Array.from({ length: Math.min(task.processes, task.runs) }, (_, i) => {
      return goThrough(task, task.from + i, join(folder, `${i}`), tell)
    })
    await Promise.all(shares)
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

async function goThrough(task: Task, start: number, progress: string, tell: Tell): Promise<void> {
  const step = task.processes
  const end = task.from + task.runs
  let lost: Finding | null = null
  for (let first = start; first < end || lost !== null; ) {
    rmSync(progress, { force: true })
    const { made, problem } = await oneProcess(task, { seed: task.seed, first, step, end, progress, lost }, tell)
    const wanted = Math.max(0, Math.ceil((end - first) / step))
    if (problem === null && made === wanted) return
    const at = underWay(progress)
    if (problem === null || at === null)
      throw new Error(`a process ${problem ?? 'ends'} after ${made} of ${wanted} calls`)
    lost = { number: at.number, name: at.name, problem, args: '' }
    first = at.number + step
  }
}

interface Outcome {
  readonly made: number
  /** Why the process ended before it was done; null if it was. */
  readonly problem: string | null
}

async function oneProcess(task: Task, share: Share, tell: Tell): Promise<Outcome> {
  const child = fork(task.worker, {
    execArgv: [...process.execArgv, `--max-old-space-size=${task.memory.heap}`],
    serialization: 'advanced',
    // The programs of the documentation print what they find, and a heap that is full what it held.
    stdio: ['ignore', 'ignore', 'pipe', 'ipc'],
  })
  let made = 0
  let problem: string | null = null
  let said = ''
  child.stderr?.on('data', (text) => {
    said = `${said}${text}`.slice(-2000)
  })
  child.on('message', (message: Finding | number) => {
    if (typeof message === 'number') made = message
    else tell(message)
  })
  child.send(share)
  const late = stopwatch(share.progress, task.grace)
  const watch = setInterval(() => {
    if (late()) problem = 'does not return'
    else if (residentMegabytes(child.pid) > task.memory.process) problem = `takes over ${task.memory.process} MB`
    if (problem !== null) child.kill('SIGKILL')
  }, 250)
  const [code] = (await once(child, 'close')) as [number | null]
  clearInterval(watch)
  if (problem === null && code !== 0) problem = /heap out of memory/.test(said) ? 'fills the heap' : 'ends its process'
  if (problem === 'ends its process') process.stderr.write(said)
  return { made, problem }
}

/** Tells whether the call under way has been so for too long; the start before the first call may take two minutes. */
function stopwatch(progress: string, grace: number): () => boolean {
  let number: number | undefined
  let since = performance.now()
  return () => {
    const at = underWay(progress)
    if (at?.number !== number) {
      number = at?.number
      since = performance.now()
    }
    return performance.now() - since > (at === null ? 120_000 : grace + 4 * at.patience)
  }
}

/** The call under way; null before the first, and for the moment in which it is written. */
function underWay(progress: string): UnderWay | null {
  try {
    return JSON.parse(readFileSync(progress, 'utf8'))
  } catch {
    return null
  }
}

/** Memory that a process holds, lists of numbers outside the heap included; 0 where the system does not tell. */
function residentMegabytes(id: number | undefined): number {
  try {
    const pages = readFileSync(`/proc/${id}/statm`, 'utf8').split(' ')[1]
    return (Number(pages) * 4096) / 2 ** 20
  } catch {
    return 0
  }
}
