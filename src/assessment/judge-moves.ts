import { checkList, checkOptional, checkOptions, fail, type Scope, within } from '../internal/check.js'
import type { IsolationModel } from '../isolation/model.js'
import type { Move } from './check-move.js'
import { boundedOf, type Extent, type Extents, largestExtents } from './effort.js'
import { type MoveSettling, type SettlingOptions, settledMove } from './move-and-settle.js'

/** When the payload of a site counts as settled. */
export interface SiteSettling extends SettlingOptions {
  /** Longest time to settle, from the end of a move [s]. @defaultValue it only has to settle, before the next move */
  readonly within?: number
  /** Of the samples that peaks are taken from [s]. @defaultValue a 200th of the move, but no more than 20 000 samples */
  readonly sampleTime?: number
}

/** A move of the site, judged. */
export interface SettledMove extends Omit<MoveSettling, 'kind' | 'time' | 'displacement' | 'stretch'> {
  /** Longest settling time allowed [s]; null where it only has to settle */
  readonly within: number | null
  readonly verdict: 'pass' | 'fail'
}

/** Every move of a site by itself, and what the bounded outputs come to over all of them; null without moves. */
export function judgeMoves(
  scope: Scope,
  model: IsolationModel,
  moves: readonly Move[] | undefined,
  settling: SiteSettling | undefined,
): { readonly settled: readonly SettledMove[]; readonly extents: Extents } {
  if (moves === undefined || settling === undefined) return { settled: [], extents: null }
  const at = within(scope, 'settling')
  const longest = checkOptional(at, 'within', settling.within, { unit: 's', atLeast: 0 }, null)
  const step = checkOptional(at, 'sampleTime', settling.sampleTime, { unit: 's', above: 0 }, null)
  const follow = [...new Set(boundedOf(model).map(({ output }) => output))]
  const all: ReadonlyMap<string, Extent>[] = []
  const settled = moves.map((move, k): SettledMove => {
    const place = within(within(scope, 'moves'), k)
    const sampling = (until: number) => step ?? Math.max(move.profile.duration / 200, until / 20_000)
    const found = settledMove(at, place, model, move, settling, sampling, follow)
    all.push(found.extents)
    const { kind: _kind, time: _time, displacement: _displacement, stretch: _stretch, ...rest } = found.settling
    const { settlingTime } = rest
    const late = settlingTime === null || (longest !== null && settlingTime > longest)
    return { ...rest, within: longest, verdict: late ? 'fail' : 'pass' }
  })
  return { settled, extents: largestExtents(all) }
}

/** Refuses moves without what settled means, and the other way round. */
export function checkMoves(scope: Scope, moves: unknown, settling: unknown): void {
  if (moves !== undefined) checkList(scope, 'moves', moves as unknown[], 0, 100)
  if (moves !== undefined || settling !== undefined) {
    checkOptions(within(scope, 'settling'), settling as object, ['band', 'point', 'padeOrder', 'within', 'sampleTime'])
  }
  if (moves === undefined && settling !== undefined)
    fail('invalid-option', within(scope, 'settling'), 'must come with moves')
}
