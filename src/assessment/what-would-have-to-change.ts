import type { Scope } from '../internal/check.js'
import { summaryOf } from '../isolation/isolation-summary.js'
import type { IsolationModel } from '../isolation/model.js'
import type { ModelAtSite } from './assess.js'
import { knobsOf } from './knobs.js'
import { meetsSite, type Trials } from './meets-site.js'
import { digits } from './reasons.js'
import { portEnd, type Site, type SiteAxis } from './site.js'

/** What alone would make a model pass that does not. */
export interface Change {
  /** What is changed, such as `gain of controller` */
  readonly parameter: string
  /** Factor on it from which the model passes all that is asked, the nearest to 1; null where none between 1/30 and 30 does */
  readonly factor: number | null
  /** Where |T| then has its peak [Hz]; null without a factor, and where the model stays as it is */
  readonly peakFrequency: number | null
  /** In a sentence */
  readonly says: string
}

const most = 30
/** Factors tried per decade before the edge is sought. */
const perDecade = 8
/** Relative width to which the edge is found. */
const width = 1e-3

/** The least change of each parameter that makes a model pass by itself.
 *
 * Factors are tried outwards from 1, eight to the decade, each on the changed model and against all that the site asks; the
 * edge of the first that passes is found to 1e-3. A window of factors narrower than a third can be missed.
 */
export function whatWouldHaveToChange(
  scope: Scope,
  model: IsolationModel,
  site: Site,
  axis: SiteAxis | null,
  atSite: ModelAtSite,
): Change[] {
  const { conditions } = atSite
  const end = portEnd(model, axis)
  let trials: Trials = { ...atSite, site, suspect: null }
  const passes = (changed: IsolationModel, drives = conditions.drives) => {
    const found = meetsSite(scope, changed, { ...trials, conditions: { ...conditions, drives } })
    trials = { ...trials, suspect: found.suspect }
    return found.passes
  }
  const quieter = (factor: number) =>
    conditions.drives.map((drive) => {
      const { spectrum } = drive
      const density = spectrum.density.map((value) => value * factor ** 2)
      return drive.input.startsWith('floorVelocity') ? { ...drive, spectrum: { ...spectrum, density } } : drive
    })
  const changes = knobsOf(scope, model).map(({ parameter, turned }): Change => {
    const factor = nearestFactor((value) => passes(turned(value)), [1, -1])
    const peakFrequency = factor === null ? null : summaryOf(scope, turned(factor).closed, end).peakFrequency
    return { parameter, factor, peakFrequency, says: sentence(parameter, factor, peakFrequency) }
  })
  const parameter = 'motion of the floor'
  const factor = nearestFactor((value) => passes(model, quieter(value)), [-1])
  return [...changes, { parameter, factor, peakFrequency: null, says: sentence(parameter, factor, null) }]
}

function sentence(parameter: string, factor: number | null, peakFrequency: number | null): string {
  if (factor === null) return `${parameter}: no factor from 1/${most} to ${most} is enough by itself`
  const bound = factor < 1 ? 'at most' : 'at least'
  const peak = peakFrequency === null ? '' : `, which puts the peak of |T| at ${digits(peakFrequency)} Hz`
  return `${parameter}: ${bound} ${digits(factor)} times what it is${peak}`
}

/** The factor nearest to 1 that passes, in the given directions; the side of the edge on which it does. */
function nearestFactor(passes: (factor: number) => boolean, directions: readonly (1 | -1)[]): number | null {
  const step = 10 ** (1 / perDecade)
  const count = Math.floor(Math.log10(most) * perDecade)
  for (let k = 1; k <= count; k++) {
    for (const direction of directions) {
      let good = step ** (direction * k)
      if (!passes(good)) continue
      let bad = step ** (direction * (k - 1))
      while (Math.abs(Math.log(good / bad)) > width) {
        const middle = Math.sqrt(good * bad)
        if (passes(middle)) good = middle
        else bad = middle
      }
      return good
    }
  }
  return null
}
