import { type Complex, complexTimes } from '../linear/complex.js'
import { leadLag } from '../systems/lead-lag.js'
import { series } from '../systems/series.js'
import { transferFunction } from '../systems/transfer-function.js'
import type { StateSpace } from '../systems/types.js'

/** Corners of the controller of a series stage [Hz]. */
export interface Corners {
  readonly highPass: number
  readonly lowPass: number
  readonly leadCorner: number
  readonly lagCorner: number
}

/** Corners, and the share of the largest gain at the margin that is used. */
export interface Knobs extends Corners {
  readonly share: number
}

export const start: Corners = { highPass: 0.05, lowPass: 100, leadCorner: 100, lagCorner: 100 }

/** gain · 1/(s + ω_h) · ω_l/(s + ω_l) · (1 + s/ω_lead)/(1 + s/ω_lag), the last where the two differ. */
export function controllerOf({ highPass, lowPass, leadCorner, lagCorner }: Corners, gain: number): StateSpace {
  const [high, low] = [2 * Math.PI * highPass, 2 * Math.PI * lowPass]
  const base = transferFunction({ numerator: [gain * low], denominator: [1, high + low, high * low] })
  return leadCorner === lagCorner ? base : (series(base, leadLag({ leadCorner, lagCorner })) as StateSpace)
}

/** The same with unit gain at one ω [rad/s]. */
export function controllerAt({ highPass, lowPass, leadCorner, lagCorner }: Corners, omega: number): Complex {
  const pole = (corner: number): Complex => {
    const a = 2 * Math.PI * corner
    const size = a ** 2 + omega ** 2
    return { re: a / size, im: -omega / size }
  }
  const low = 2 * Math.PI * lowPass
  const base = complexTimes(pole(highPass), pole(lowPass))
  const zero = { re: low, im: (low * omega) / (2 * Math.PI * leadCorner) }
  const lag = pole(lagCorner)
  const pair = { re: lag.re * 2 * Math.PI * lagCorner, im: lag.im * 2 * Math.PI * lagCorner }
  return leadCorner === lagCorner
    ? { re: low * base.re, im: low * base.im }
    : complexTimes(base, complexTimes(zero, pair))
}

const names = ['highPass', 'lowPass', 'leadCorner', 'lagCorner', 'share'] as const
const steps = [2, 1.5, 1.2, 1.1, 1.05]
const [mostRounds, descents] = [10, 2]

/** The least cost found: from the best of a coarse grid, each knob stepped up and down, the steps shrinking.
 * @param range - in which corners stay [Hz]
 * @param least - share of the gain, 1 where all of it is to be used */
export function searched(
  cost: (knobs: Knobs) => number,
  [lowest, highest]: readonly [number, number],
  least: number,
): Knobs {
  const inside = (corner: number) => Math.min(highest, Math.max(lowest, corner))
  const known = new Map<string, Judged>()
  const judged = (knobs: Knobs) => {
    const key = names.map((name) => knobs[name]).join()
    const found = known.get(key) ?? { knobs, value: cost(knobs) }
    known.set(key, found)
    return found
  }
  for (const lowPass of [10, 30, 100, 300, 1000].map(inside)) {
    for (const highPass of [0.05, 0.5, 2].map(inside)) {
      const corners = { ...start, highPass, lowPass, share: 1 }
      judged({ ...corners, leadCorner: inside(100), lagCorner: inside(100) })
      for (const ratio of [1 / 4, 4]) {
        for (const place of [0.3, 30, 200]) {
          const [leadCorner, lagCorner] = [inside(place / Math.sqrt(ratio)), inside(place * Math.sqrt(ratio))]
          judged({ ...corners, leadCorner, lagCorner })
        }
      }
    }
  }
  const seeds = [...known.values()].sort((a, b) => a.value - b.value).slice(0, descents)
  const found = seeds.map((seed) => {
    let best = seed
    for (const step of steps) {
      for (let round = 0, before = Number.POSITIVE_INFINITY; round < mostRounds && best.value < before; round++) {
        before = best.value
        best = names.flatMap((name) => [step, 1 / step].map((factor) => ({ name, factor }))).reduce(stepped, best)
      }
    }
    return best
  })
  return found.reduce((a, b) => (b.value < a.value ? b : a)).knobs

  function stepped(best: Judged, { name, factor }: { name: (typeof names)[number]; factor: number }): Judged {
    const [from, to] = name === 'share' ? [least, 1] : [lowest, highest]
    const moved = Math.min(to, best.knobs[name] * factor)
    if (!(moved >= from) || moved === best.knobs[name]) return best
    const next = judged({ ...best.knobs, [name]: moved })
    return next.value < best.value ? next : best
  }
}

interface Judged {
  readonly knobs: Knobs
  readonly value: number
}
