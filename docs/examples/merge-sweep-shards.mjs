// The shards of a sweep joined into one file, refused if a point is missing or stands in two of them.
//
//     node docs/examples/merge-sweep-shards.mjs out/sweep.json out/sweep-*-of-*.json
import { readFileSync, writeFileSync } from 'node:fs'
import { mergeSweeps } from 'restmass'
import { fromJson, toJson } from 'restmass/json'

const [out, ...files] = process.argv.slice(2)
const whole = mergeSweeps(files.map((file) => fromJson(readFileSync(file, 'utf8'), { kind: 'SweepResult' })))
writeFileSync(out, toJson(whole))
console.log(`${out}: ${whole.rows.length} points from ${files.length} shards, ${whole.failed} without result`)
