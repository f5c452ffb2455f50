import { type Scope, within } from '../internal/check.js'
import { loopMargins } from '../isolation/loop-margins.js'
import type { IsolationModel } from '../isolation/model.js'
import { stability } from '../systems/stability.js'
import { meanSquare } from '../vibration/mean-square.js'
import type { ModelAtSite } from './assess.js'
import { coveredBands } from './covered-bands.js'
import { effortOf } from './effort.js'
import { payloadHeld } from './judge-axis.js'
import { judgeMoves } from './judge-moves.js'
import { motionOf } from './motion-tolerance.js'
import { velocitySpectrum } from './noise-budget.js'
import { predictedDensity } from './predicted-density.js'
import type { Site } from './site.js'

/** A site that many models are held against, one after the other. */
export interface Trials extends ModelAtSite {
  readonly site: Site
  /** Where the last model failed, which is tried first */
  readonly suspect: { end: string; lower: number; upper: number; limit: number } | null
}

/** Whether a model passes all that `assess` asks, and where it fails if it is a band that does. */
export function meetsSite(
  scope: Scope,
  model: IsolationModel,
  { site, axes, conditions, least, suspect }: Trials,
): { readonly passes: boolean; readonly suspect: Trials['suspect'] } {
  const fails = { passes: false, suspect }
  const { closed } = model
  if (stability(closed).verdict !== 'stable') return fails
  const drives = [...conditions.drives, ...conditions.noise]
  const predicted = (end: string, range?: readonly [number, number]) =>
    velocitySpectrum(predictedDensity(scope, closed, `payloadVelocity${end}`, drives, range))
  if (suspect !== null) {
    const { end, lower, upper, limit } = suspect
    if (meanSquare(predicted(end, [lower, upper]), lower, upper) > (1 + 1e-3) * limit ** 2) return fails
  }
  for (const { end } of axes) {
    const bands = coveredBands(scope, predicted(end), conditions.criterion)
    const { verdict, worst } = payloadHeld(scope, closed, end, conditions, bands)
    if (verdict === 'pass') continue
    const [{ lower, upper }] = bands.bands.filter(({ nominal }) => nominal === worst.nominal)
    return { passes: false, suspect: worst.ratio > 1 ? { end, lower, upper, limit: worst.limit } : null }
  }
  const margins = loopMargins(model).map((loop) => loop.margins)
  if (margins.some(({ closedLoop, modulusMargin }) => closedLoop !== 'stable' || modulusMargin < least)) return fails
  const { settled, extents } = judgeMoves(scope, model, site.moves, site.settling)
  if (settled.some(({ verdict }) => verdict === 'fail')) return fails
  if (effortOf(scope, model, drives, extents).some(({ peak, limit }) => peak > limit)) return fails
  const { tolerance } = site
  const moves = tolerance === undefined ? 0 : motionOf(within(scope, 'tolerance'), model, tolerance, drives).ratio
  return { passes: moves <= 1, suspect }
}
