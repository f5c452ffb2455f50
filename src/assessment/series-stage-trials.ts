import type { Scope } from '../internal/check.js'
import type { IsolationModel } from '../isolation/model.js'
import { type Complex, complexTimes } from '../linear/complex.js'
import { type ComplexDense, complexZeros } from '../linear/complex-lu.js'
import { hypotenuse } from '../linear/hypotenuse.js'
import { logFrequencies } from '../systems/log-frequencies.js'
import { rms as rootMeanSquare } from '../vibration/rms.js'
import { overOnePlus, type PlantPoint, sampledPlant } from './controlled-plant.js'
import { factorAtMargin } from './gain-at-margin.js'
import { noiseDrives, velocitySpectrum } from './noise-budget.js'
import { type Drive, driveDensity } from './predicted-density.js'
import { type Corners, controllerAt, start } from './series-stage-search.js'

/** What is asked of a series stage. */
export interface StageTask {
  readonly margin: number
  readonly improvement: number
  /** [Hz] */
  readonly band: readonly [number, number]
  /** null without a floor */
  readonly drives: readonly Drive[] | null
}

/** What one controller comes to, read off the samples. */
export interface StageTrial {
  readonly gain: number
  readonly modulusMargin: number
  /** Of the widest active band */
  readonly octaves: number
  /** [m/s]; null without a floor */
  readonly rms: number | null
}

/** Controllers tried on one stage, whose responses without controller are sampled once; `share` is that of the gain at the
 * margin; null where no gain up to the inverse of what is negligible meets it. */
export function stageTrials(
  scope: Scope,
  model: IsolationModel,
  { margin, improvement, band, drives }: StageTask,
): (corners: Corners, share: number) => StageTrial | null {
  const all: Drive[] = drives === null ? [] : [...drives, ...noiseDrives(model.noiseSources, 'nothing')]
  const inputs = drives === null ? ['floorVelocity'] : all.map(({ input }) => input)
  const densities = all.map(driveDensity)
  const [lower, upper] = drives === null ? [0, 0] : [densities[0].from, densities[0].to]
  const covered = densities.flatMap(({ corners }) => corners).filter((place) => place >= lower && place <= upper)
  const grid = logFrequencies({ from: band[0], to: band[1], count: 241 })
  const points = sampledPlant(scope, model, {
    controller: 'controller',
    inputs,
    output: 'payloadVelocity',
    places: [...grid, ...covered, lower, upper].filter((place) => place > 0).map((place) => 2 * Math.PI * place),
    like: (omega) => controllerAt(start, omega),
  })
  const hertz = Float64Array.from(points, ({ omega }) => omega / (2 * Math.PI))
  const inside = (from: number, to: number) =>
    points.flatMap((_, k) => (hertz[k] >= from * (1 - 1e-9) && hertz[k] <= to * (1 + 1e-9) ? [k] : []))
  const shown = inside(band[0], band[1])
  const counted = drives === null ? [] : inside(lower, upper)
  const still = shown.map((k) => Math.hypot(points[k].direct[0].re, points[k].direct[0].im))
  const given = densities.map(({ at }) => counted.map((k) => at(Math.min(upper, Math.max(lower, hertz[k])))))
  return (corners, share) => {
    // Numbers in two lists, not a record for each: with a long delay there are a hundred thousand places.
    const [control, loop] = [complexZeros(points.length, 1), complexZeros(points.length, 1)]
    points.forEach((point, k) => {
      const by = controllerAt(corners, point.omega)
      const around = complexTimes(by, point.loop)
      control.re[k] = by.re
      control.im[k] = by.im
      loop.re[k] = around.re
      loop.im[k] = around.im
    })
    const gain = share * sampledFactor(hertz, loop, margin)
    if (!Number.isFinite(gain)) return null
    const path = (k: number) =>
      overOnePlus(complexTimes({ re: control.re[k], im: control.im[k] }, points[k].commanded), {
        re: gain * loop.re[k],
        im: gain * loop.im[k],
      })
    const moved = (k: number, through: Complex, input: number) => size(points[k], through, input, gain)
    const excess = shown.map((k, i) => Math.log(still[i] / moved(k, path(k), 0) / improvement))
    const density = Float64Array.from(counted, (k, i) => {
      const through = path(k)
      return given.reduce((sum, level, input) => sum + level[i] * moved(k, through, input) ** 2, 0)
    })
    const frequency = Float64Array.from(counted, (k) => hertz[k])
    return {
      gain,
      modulusMargin: loop.re.reduce(
        (least, re, k) => Math.min(least, hypotenuse(1 + gain * re, gain * loop.im[k])),
        Infinity,
      ),
      octaves: widest(
        shown.map((k) => hertz[k]),
        excess,
      ),
      rms: drives === null ? null : rootMeanSquare(velocitySpectrum({ frequency, density })),
    }
  }
}

/** Modulus of the response from one input, `through` being C/(1 + L) times what a command does. */
function size({ direct, measured }: PlantPoint, through: Complex, input: number, gain: number): number {
  const by = complexTimes(through, measured[input])
  return hypotenuse(direct[input].re + gain * by.re, direct[input].im + gain * by.im)
}

/** Largest gain at a margin, its least place between samples taken from a parabola over the logarithms. */
function sampledFactor(frequency: Float64Array, loop: ComplexDense, margin: number): number {
  const bounds = Float64Array.from(loop.re, (re, k) => Math.log(factorAtMargin({ re, im: loop.im[k] }, margin)))
  let least = 0
  for (let k = 1; k < bounds.length; k++) if (bounds[k] < bounds[least]) least = k
  const [a, b, c] = [bounds[least - 1], bounds[least], bounds[least + 1]]
  if (!(Number.isFinite(a) && Number.isFinite(c) && a + c > 2 * b)) return Math.exp(b)
  const [before, after] = [frequency[least] / frequency[least - 1], frequency[least + 1] / frequency[least]].map(
    Math.log,
  )
  const curve = ((c - b) / after + (a - b) / before) / (before + after)
  const slope = (c - b) / after - curve * after
  return Math.exp(b - (curve > 0 ? slope ** 2 / (4 * curve) : 0))
}

/** Octaves of the widest interval in which the excess is positive, its ends by straight lines over log frequency. */
function widest(frequency: ArrayLike<number>, excess: ArrayLike<number>): number {
  const octaves = (k: number, share: number) =>
    Math.log2(frequency[k]) + share * Math.log2(frequency[k + 1] / frequency[k])
  let from = excess[0] > 0 ? octaves(0, 0) : null
  let most = 0
  for (let k = 0; k + 1 < frequency.length; k++) {
    if (excess[k] > 0 === excess[k + 1] > 0) continue
    const place = octaves(k, excess[k] / (excess[k] - excess[k + 1]))
    if (from !== null) most = Math.max(most, place - from)
    from = from === null ? place : null
  }
  return from === null ? most : Math.max(most, Math.log2(frequency[frequency.length - 1]) - from)
}
