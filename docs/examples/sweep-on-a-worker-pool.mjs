// Ten thousand design points of stiffness, gain and delay on all cores of a machine, or one shard of them among many machines.
//
//     npm run build && node docs/examples/sweep-on-a-worker-pool.mjs
//     node docs/examples/sweep-on-a-worker-pool.mjs --shard 3/7 --threads 4 --steps 20x25x20 --out out/sweep-3.json
//
// Stopped and started again, it goes on where its file ends. Needs the package tinypool.
import { availableParallelism } from 'node:os'
import { parseArgs } from 'node:util'
import Tinypool from 'tinypool'
import { progressBar } from './sweep/progress-bar.js'
import { rowsOf, writeRows } from './sweep/shard-file.js'

const { values } = parseArgs({
  options: {
    shard: { type: 'string', default: '0/1' },
    steps: { type: 'string', default: '20x25x20' },
    threads: { type: 'string', default: `${availableParallelism()}` },
    out: { type: 'string' },
  },
})
const [index, count] = numbers(values.shard, '/', 2)
const steps = numbers(values.steps, 'x', 3)
const out = values.out ?? `out/sweep-${index}-of-${count}.json`
const total = steps.reduce((product, value) => product * value, 1)
const own = Math.max(0, Math.ceil((total - index) / count))

// Many more parts than threads, so that none waits long for the last one; part k takes every count·parts-th point.
const parts = Math.max(1, Math.ceil(own / 50))
const earlier = rowsOf(out)
const pool = new Tinypool({
  filename: new URL('sweep/task.js', import.meta.url).href,
  minThreads: Number(values.threads),
  maxThreads: Number(values.threads),
})
const rows = []
const show = progressBar(process.stderr, own)
let written = 0
await Promise.all(
  Array.from({ length: parts }, async (_, part) => {
    const shard = { index: index + count * part, count: count * parts }
    const resume = earlier.filter((row) => row.index % shard.count === shard.index)
    rows.push(...(await pool.run({ steps, shard, resume }, { name: 'task' })))
    show(rows.length)
    if (rows.length - written < own / 10) return
    writeRows(out, total, rows)
    written = rows.length
  }),
)
writeRows(out, total, rows)
await pool.destroy()
const failed = rows.filter(({ error }) => error !== null).length
const unstable = rows.filter(({ result }) => result?.closedLoop === 'unstable').length
console.log(`${out}: ${rows.length} of ${total} points, ${unstable} unstable, ${failed} without result`)

function numbers(text, separator, length) {
  const list = text.split(separator).map(Number)
  if (list.length === length && list.every((value) => Number.isInteger(value) && value >= 0)) return list
  console.error(`'${text}' must be ${length} whole numbers with ${separator} between`)
  process.exit(1)
}
