import type { RecordCheck, RecordFinding } from './record-types.js'

/** What looks wrong in readings; `samples` are the same in SI units. */
export function recordFindings(
  readings: Float64Array,
  samples: Float64Array,
  fullScale: number | null,
  plausible: number,
): RecordFinding[] {
  const runs = runsOf(readings)
  const clipped =
    fullScale === null ? plateaus(readings, runs) : where(readings, (value) => Math.abs(value) >= fullScale)
  const still = runs.reduce((longest, run) => (run.count > longest.count ? run : longest), none)
  const dead = still.count > 0 && still.count >= Math.min(readings.length, Math.max(16, readings.length / 100))
  const bits = dead ? [] : stuckBits(readings)
  const wild = where(samples, (value) => Math.abs(value) > plausible)
  return [
    finding('clipping', clipped, 'samples are at the end of the range'),
    finding('dead', dead ? still : none, 'samples in a row are all the same'),
    finding(
      'stuck-bit',
      { count: bits.length, first: 0 },
      `bits never change (${bits.join(', ')}, from the lowest as 0)`,
    ),
    finding('impossible', wild, `samples exceed ${plausible} in SI units; is the scale right?`),
  ].flat()
}

interface Place {
  readonly count: number
  readonly first: number
}

const none: Place = { count: 0, first: 0 }

function finding(check: RecordCheck, { count, first }: Place, says: string): RecordFinding[] {
  return count === 0 ? [] : [{ check, count, first, says: `${count} ${says}` }]
}

function where(list: Float64Array, test: (value: number) => boolean): Place {
  let count = 0
  for (const value of list) if (test(value)) count++
  return { count, first: Math.max(0, list.findIndex(test)) }
}

/** Runs of equal samples that were entered or left in one step of four quanta or more, or are all there is: a slow signal that
 * is merely coarse rises to its crest, and leaves it, one quantum at a time. */
function runsOf(list: Float64Array): Place[] {
  let quantum = Number.POSITIVE_INFINITY
  for (let i = 1; i < list.length; i++) {
    const step = Math.abs(list[i] - list[i - 1])
    if (step > 0 && step < quantum) quantum = step
  }
  const runs: Place[] = []
  for (let start = 0; start < list.length; ) {
    let end = start + 1
    while (end < list.length && list[end] === list[start]) end++
    const before = start === 0 ? 0 : Math.abs(list[start] - list[start - 1])
    const after = end === list.length ? 0 : Math.abs(list[start] - list[end])
    const all = end - start === list.length
    if (end - start >= 3 && (all || Math.max(before, after) >= 4 * quantum))
      runs.push({ count: end - start, first: start })
    start = end
  }
  return runs
}

/** All runs at the lowest or the highest value of a record that has both. */
function plateaus(list: Float64Array, runs: readonly Place[]): Place {
  let lowest = list[0]
  let highest = list[0]
  for (const value of list) {
    lowest = Math.min(lowest, value)
    highest = Math.max(highest, value)
  }
  if (lowest === highest) return none
  const atEnds = runs.filter(({ first }) => list[first] === lowest || list[first] === highest)
  return { count: atEnds.reduce((sum, { count }) => sum + count, 0), first: atEnds[0]?.first ?? 0 }
}

/** Bits of whole-numbered readings, in two's complement, that are the same in all of at least 64 readings although their
 * range spans eight times their weight. */
function stuckBits(list: Float64Array): number[] {
  if (list.length < 64 || !list.every((value) => Number.isInteger(value) && Math.abs(value) < 2 ** 31)) return []
  let ones = -1
  let any = 0
  let lowest = list[0]
  let highest = list[0]
  for (const value of list) {
    ones &= value
    any |= value
    lowest = Math.min(lowest, value)
    highest = Math.max(highest, value)
  }
  const bits: number[] = []
  for (let bit = 0; 8 * 2 ** bit <= highest - lowest; bit++) {
    if ((ones >> bit) & 1 || !((any >> bit) & 1)) bits.push(bit)
  }
  return bits
}
