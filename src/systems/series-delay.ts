import { block, type Dense, identity, multiply, rowsOf, sum, times } from '../linear/dense.js'
import { solve } from '../linear/solve.js'
import { denseSystem } from './dense-system.js'
import type { InternalDelays, StateSpace } from './types.js'

/** A channel written as e^(−s·seconds) times a system without delays. */
export interface DelayedInSeries {
  readonly seconds: number
  readonly rational: StateSpace
}

/** A single channel with its delay pulled out; null where its delays are not all in series.
 *
 * Every signal on the way gets the time it lags behind the input. Where all ways to it agree, a state that lags by τ is
 * e^(−sτ) times the same state of the system without delays; a loop around a delay, or two ways of different delay, do not
 * agree.
 * @param channel - one input, one output, all of it on a way from one to the other */
export function delayInSeries(channel: StateSpace): DelayedInSeries | null {
  const { delays } = channel
  if (delays === null) return { seconds: 0, rational: channel }
  const seconds = totalLag(channel, delays)
  const rational = seconds === null ? null : withoutDelays(channel)
  return seconds === null || rational === null ? null : { seconds, rational }
}

/** Lag of the output, by following every way from the input; null where two ways differ. */
function totalLag(channel: StateSpace, delays: InternalDelays): number | null {
  const n = channel.A.length
  // Signals in order: the input, the states, the delayed signals, the output.
  const output = 1 + n + delays.seconds.length
  const lags: (number | undefined)[] = [0]
  const open = [0]
  const equal = 1e-12 * delays.seconds.reduce((total, tau) => total + tau, 0)
  for (let from = open.pop(); from !== undefined; from = open.pop()) {
    for (let to = 1; to <= output && from < output; to++) {
      if (transfer(channel, delays, from, to) === 0) continue
      const lag = (lags[from] as number) + (to > n && to < output ? delays.seconds[to - 1 - n] : 0)
      const known = lags[to]
      if (known === undefined) {
        lags[to] = lag
        open.push(to)
      } else if (Math.abs(known - lag) > equal) return null
    }
  }
  // All of the channel is on a way to the output.
  return lags[output] as number
}

/** What one signal puts into another. */
function transfer({ A, B, C, D }: StateSpace, delays: InternalDelays, from: number, to: number): number {
  const n = A.length
  const [state, delayed] = [from - 1, from - 1 - n]
  if (to <= n) return from === 0 ? B[to - 1][0] : delayed < 0 ? A[to - 1][state] : delays.B[to - 1][delayed]
  const into = to - 1 - n
  if (into === delays.seconds.length) return from === 0 ? D[0][0] : delayed < 0 ? C[0][state] : delays.D12[0][delayed]
  return from === 0 ? delays.D21[into][0] : delayed < 0 ? delays.C[into][state] : delays.D22[into][delayed]
}

/** Every delay replaced by a straight wire. */
export function withoutDelays(channel: StateSpace): StateSpace | null {
  const { A, B, C, D, seconds } = denseSystem(channel)
  const [n, d] = [A.rows, seconds.length]
  const loop = sum(identity(d), times(block(D, 1, 1, d, d), -1))
  const states = solve(loop, block(C, 1, 0, d, n))
  const input = solve(loop, block(D, 1, 0, d, 1))
  if (states === null || input === null) return null
  const closed = (direct: Dense, back: Dense, through: Dense) => rowsOf(sum(direct, multiply(back, through)))
  const [intoStates, intoOutput] = [block(B, 0, 1, n, d), block(D, 0, 1, 1, d)]
  return {
    ...channel,
    A: closed(A, intoStates, states),
    B: closed(block(B, 0, 0, n, 1), intoStates, input),
    C: closed(block(C, 0, 0, 1, n), intoOutput, states),
    D: closed(block(D, 0, 0, 1, 1), intoOutput, input),
    delays: null,
  }
}
