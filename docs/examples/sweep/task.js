// What a thread of the pool does: one part of the sweep.
import { sweep } from 'restmass'
import { evaluate, grid } from './design-point.js'

/** Rows of one part. */
export function task({ steps, shard, resume }) {
  return sweep({ parameters: grid(steps), evaluate, shard, resume }).rows
}
