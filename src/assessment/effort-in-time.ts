import { checkNumber, checkOptions, fail, type Scope, within } from '../internal/check.js'
import type { IsolationModel } from '../isolation/model.js'
import { multiply, rowsOf, rowTimes } from '../linear/dense.js'
import { lastExit } from '../linear/last-exit.js'
import { denseSystem } from '../systems/dense-system.js'
import { inputSamples, simulate } from '../systems/simulate.js'
import type { StateSpace } from '../systems/types.js'
import { checkMove, type Move } from './check-move.js'
import { type Extent, extentOf } from './effort.js'
import { moveRecord, periodicStart, pushedSystem, restAfterMove, stateAfterMove } from './move-response.js'

/** Samples of anything that enters a model, such as a floor that is shaken. */
export interface EffortRecord {
  /** Samples by input of the closed model, all of one length, such as `floorVelocity` [m/s]; absent inputs are zero */
  readonly inputs: { readonly [port: string]: readonly number[] | Float64Array }
  /** [s], above 0 */
  readonly sampleTime: number
}

/** Of its largest value during a move; what comes after counts until it stays below that. */
const faded = 0.01

/** Samples of a move, and of all that follows it, at least. */
const [perMove, mostSamples] = [2000, 50_000]

/** Extents of some outputs under a record, from rest: at the samples, and of the rates at both ends of every straight line. */
export function extentsInRecord(
  scope: Scope,
  system: StateSpace,
  record: EffortRecord,
  names: readonly string[],
): Map<string, Extent> {
  const { inputs, sampleTime } = checkOptions(scope, record, ['inputs', 'sampleTime'])
  checkNumber(scope, 'sampleTime', sampleTime, { unit: 's', above: 0 })
  const { samples, count } = inputSamples(scope, system.inputs, inputs)
  if (count < 2) fail('out-of-range', within(scope, 'inputs'), 'must hold at least two samples')
  const m = system.inputs.length
  const rows = names.map((name) => system.outputs.indexOf(name))
  const { A, B, C, D } = denseSystem(system, undefined, rows)
  const slopes = simulate(
    {
      ...system,
      C: [...rowsOf(C), ...rowsOf(multiply(C, A))],
      D: [...rowsOf(D), ...rowsOf(multiply(C, B))],
      outputs: [...names, ...names.map((name) => `${name}Rate`)],
    },
    { inputs, sampleTime },
  ).outputs
  const steps = Float64Array.from({ length: (count - 1) * m }, (_, i) => (samples[i + m] - samples[i]) / sampleTime)
  return new Map(
    names.map((name, o) => {
      const [values, slope] = [slopes[name], slopes[`${name}Rate`]]
      let [value, rate] = [0, 0]
      for (let k = 0; k < count; k++) {
        value = Math.max(value, Math.abs(values[k]))
        for (const line of [k - 1, k]) {
          if (line < 0 || line > count - 2) continue
          rate = Math.max(rate, Math.abs(slope[k] + rowTimes(D, o, steps.subarray(line * m), 0)))
        }
      }
      const extent = extentOf(values, { value, rate, sampleTime, over: (count - 1) * sampleTime })
      if (!Object.values(extent).every(Number.isFinite))
        fail('out-of-range', scope, `takes ${name} beyond the range of numbers`)
      return [name, extent]
    }),
  )
}

/** Extents of some outputs under a move and after it; the rms as over the time from one move to the next, or over the move. */
export function extentsInMove(
  scope: Scope,
  { closed }: Pick<IsolationModel, 'closed'>,
  system: StateSpace,
  given: Move,
  outputs: readonly string[],
): Map<string, Extent> {
  const move = checkMove(scope, given, closed.inputs.includes('reactionForce') ? 'one' : 'six')
  const pushed = pushedSystem(scope, system, { ...move, outputs, velocities: [] })
  const { A, C } = pushed
  const { duration } = move.profile
  const every = move.repeatEvery
  const start = every === null ? new Float64Array(A.rows) : periodicStart(scope, pushed, move, every)
  const during = moveRecord(scope, pushed, move, start, duration / perMove, perMove + 1)
  const rest = restAfterMove(scope, pushed, move)
  const away = stateAfterMove(scope, pushed, move, start).map((value, i) => value - rest[i])
  const exits = during.peaks.map((peak, k) => {
    if (every !== null || !(peak > 0)) return 0
    const row = { rows: 1, columns: A.rows, data: C.data.slice(k * A.rows, (k + 1) * A.rows) }
    const exit = lastExit(A, row, away, -faded * peak, faded * peak)
    if (typeof exit === 'string') fail(exit, scope, `leaves ${outputs[k]} in a motion whose end cannot be proved`)
    return exit
  })
  const until = every ?? duration + Math.max(...exits)
  const sampleTime = Math.max(duration / perMove, until / mostSamples)
  const { series, peaks, rates } = moveRecord(
    scope,
    pushed,
    move,
    start,
    sampleTime,
    Math.ceil((until / sampleTime) * (1 - 1e-9)) + 1,
  )
  return new Map(
    outputs.map((name, k) => [
      name,
      extentOf(series[k], { value: peaks[k], rate: rates[k], sampleTime, over: every ?? duration }),
    ]),
  )
}
