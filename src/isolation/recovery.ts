import { leastOf, mostOf } from '../internal/extremes.js'
import { type Dense, denseFrom, multiply, times } from '../linear/dense.js'
import { lastExit } from '../linear/last-exit.js'
import { solve } from '../linear/solve.js'
import { stability } from '../systems/stability.js'
import type { Escape } from './escape.js'
import type { LimitedPlant } from './limited-plant.js'
import type { LimitedRun } from './limited-run.js'

/** How a model with limits ends. */
export type RecoveryVerdict = 'free' | 'recovered' | 'limited' | 'lost'

/** The verdict, and whether it is proved or only what the record shows. */
export interface Recovery {
  readonly verdict: RecoveryVerdict
  readonly evidence: 'proof' | 'record'
  readonly recoveredAt: number | null
  readonly lostAt: number | null
}

export function recoveryOf(plant: LimitedPlant, run: LimitedRun, watch: Escape, sampleTime: number): Recovery {
  const { limited, modes, end } = run
  const since = watch.since()
  const verdict = (verdict: RecoveryVerdict, evidence: Recovery['evidence']): Recovery => ({
    verdict,
    evidence,
    recoveredAt: verdict === 'recovered' ? mostOf(limited.map(({ to }) => to)) : null,
    lostAt: verdict === 'lost' ? (since as number) * sampleTime : null,
  })
  if (since !== null) return verdict('lost', 'proof')
  if (modes.some((mode) => mode !== 'free')) return verdict('limited', 'record')
  if (limited.length === 0) return verdict('free', 'record')
  const free = freeForEver(plant, run)
  if (free !== null) return verdict(free ? 'recovered' : 'limited', 'proof')
  const [first, last] = [leastOf(limited.map(({ from }) => from)), mostOf(limited.map(({ to }) => to))]
  return verdict(end - last >= last - first ? 'recovered' : 'limited', 'record')
}

/** Whether the free motion from the end on, inputs kept as they are, never meets a limit; null where that cannot be told. */
function freeForEver({ system, bounds, outputs, steps }: LimitedPlant, run: LimitedRun): boolean | null {
  if (steps.length > 0) return null
  const { verdict } = stability(system)
  if (verdict !== 'stable') return verdict === 'unstable' ? false : null
  const n = system.A.length
  const A = denseFrom(system.A, n)
  const B = denseFrom(system.B, system.inputs.length)
  const inputs: Dense = { rows: system.inputs.length, columns: 1, data: new Float64Array(system.inputs.length) }
  inputs.data.set(run.inputs)
  const rest = solve(A, times(multiply(B, inputs), -1))
  if (rest === null) return null
  const away = run.state.map((value, i) => value - rest.data[i])
  const row = (matrix: readonly (readonly number[])[], k: number) => denseFrom([matrix[outputs + k]], matrix[0].length)
  for (let k = 0; k < bounds.length; k++) {
    const C = row(system.C, k)
    const still = multiply(C, rest).data[0] + multiply(row(system.D, k), inputs).data[0]
    const { value, rate } = bounds[k]
    if (Math.abs(still) >= value) return false
    if (value < Number.POSITIVE_INFINITY) {
      const exit = lastExit(A, C, away, -value - still, value - still)
      if (exit !== 0) return typeof exit === 'string' ? null : false
    }
    if (rate === Number.POSITIVE_INFINITY) continue
    const exit = lastExit(A, multiply(C, A), away, -rate, rate)
    if (exit !== 0) return typeof exit === 'string' ? null : false
  }
  return true
}
