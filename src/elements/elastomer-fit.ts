import { fail, must, type Scope } from '../internal/check.js'
import { zeros } from '../linear/dense.js'
import { nonNegativeLeastSquares } from '../linear/non-negative-least-squares.js'
import { relaxationAt } from './dynamic-stiffness.js'
import type { Relaxation } from './types.js'

/** (jω/ω_r)^α / cos(πα/2) between two angular frequencies [rad/s], ω_r their geometric mean: Re = 1 at ω_r. */
export interface ElastomerLaw {
  readonly lossFactor: number
  readonly lower: number
  readonly upper: number
}

/** Relaxing branches for a unit stiffness at ω_r, and how well they follow the law. */
export interface RelaxationFit {
  /** 1/K(0) */
  readonly staticRatio: number
  readonly branches: readonly Relaxation[]
  readonly stiffnessDeviation: number
  readonly lossFactorDeviation: number
}

const timesPerDecade = 1.5
const pointsPerDecade = 20
const stiffnessWeight = 1 / 0.02
const lossWeight = 1 / 0.05
/** Holds Re K(ω_r) to about 1e-8 before the final scaling makes it exact. */
const centreWeight = 1e4

/** Fits a spring and relaxing branches of non-negative stiffness to the law, or refuses. */
export function fitElastomer(scope: Scope, law: ElastomerLaw, staticRatio: number | undefined): RelaxationFit {
  const natural = naturalRatio(law)
  const ratio = staticRatio ?? natural
  const rest = 1 - 1 / ratio
  const times = branchTimes(law, ratio > natural)
  const { matrix, wanted } = equations(law, times, 1 / ratio)
  const says = 'could not fit the relaxing branches to the band'
  const raw = must(nonNegativeLeastSquares(matrix, wanted), 'no-convergence', scope, says)
  const centre = Math.sqrt(law.lower) * Math.sqrt(law.upper)
  const sum = raw.reduce((total, weight, i) => total + weight * relaxationAt(centre * times[i]).re, 0)
  const branches = Array.from(raw, (weight, i) => ({ stiffness: (weight * rest) / sum, time: times[i] }))
  const kept = branches.filter(({ stiffness }) => stiffness > 0)
  if (kept.length === 0) fail('no-convergence', scope, says)
  return { staticRatio: ratio, branches: kept, ...deviations(law, kept, 1 / ratio) }
}

/** Exponent α of the law. */
function exponentOf({ lossFactor }: ElastomerLaw): number {
  return (2 / Math.PI) * Math.atan(lossFactor)
}

/** 1/K(0) where the relaxation spectrum of the law, sin(πα)/(πα)·d(τ^−α), ends a decade below the band. */
function naturalRatio(law: ElastomerLaw): number {
  const alpha = exponentOf(law)
  const slowest = 10 * Math.sqrt(law.upper / law.lower)
  const sinc = Math.sin(Math.PI * alpha) / (Math.PI * alpha)
  return (Math.cos((Math.PI * alpha) / 2) / sinc) * slowest ** alpha
}

/** Times from a decade below to a decade above the band, and slower ones where K(0) is to be less than natural. */
function branchTimes({ lossFactor, lower, upper }: ElastomerLaw, slower: boolean): number[] {
  const decades = Math.log10(upper / lower) + 2
  const intervals = Math.ceil(timesPerDecade * decades)
  const times = Array.from({ length: intervals + 1 }, (_, i) => 10 ** ((decades * i) / intervals) / (10 * upper))
  // The slowest is a spring all over the band: its loss is a thousandth of the loss factor.
  return slower ? [...times, 100 / lower, 1000 / (Math.min(lossFactor, 1) * lower)] : times
}

/** Rows for Re K and Im K over the band, each relative to the law, and one row that holds Re K(ω_r). */
function equations(law: ElastomerLaw, times: readonly number[], static0: number) {
  const grid = bandGrid(law, Math.max(9, Math.ceil(pointsPerDecade * Math.log10(law.upper / law.lower)) + 1))
  const matrix = zeros(2 * grid.length + 1, times.length)
  const wanted = new Float64Array(2 * grid.length + 1)
  const { lossFactor } = law
  grid.forEach((omega, k) => {
    const re = realPart(law, omega)
    wanted[2 * k] = stiffnessWeight * (1 - static0 / re)
    wanted[2 * k + 1] = lossWeight
    times.forEach((time, j) => {
      const branch = relaxationAt(omega * time)
      matrix.data[2 * k * times.length + j] = (stiffnessWeight * branch.re) / re
      matrix.data[(2 * k + 1) * times.length + j] = (lossWeight * branch.im) / (re * lossFactor)
    })
  })
  const centre = Math.sqrt(law.lower) * Math.sqrt(law.upper)
  const weight = centreWeight * Math.max(stiffnessWeight, lossWeight / lossFactor)
  wanted[2 * grid.length] = weight * (1 - static0)
  times.forEach((time, j) => {
    matrix.data[2 * grid.length * times.length + j] = weight * relaxationAt(centre * time).re
  })
  return { matrix, wanted }
}

/** Largest relative deviations on a grid much finer than the spacing of the times. */
function deviations(law: ElastomerLaw, branches: readonly Relaxation[], static0: number) {
  let stiffnessDeviation = 0
  let lossFactorDeviation = 0
  for (const omega of bandGrid(law, 50 + Math.ceil(100 * Math.log10(law.upper / law.lower)))) {
    let re = static0
    let im = 0
    for (const { stiffness, time } of branches) {
      const branch = relaxationAt(omega * time)
      re += stiffness * branch.re
      im += stiffness * branch.im
    }
    stiffnessDeviation = Math.max(stiffnessDeviation, Math.abs(re / realPart(law, omega) - 1))
    lossFactorDeviation = Math.max(lossFactorDeviation, Math.abs(im / re / law.lossFactor - 1))
  }
  return { stiffnessDeviation, lossFactorDeviation }
}

function realPart(law: ElastomerLaw, omega: number): number {
  return (omega / Math.sqrt(law.lower) / Math.sqrt(law.upper)) ** exponentOf(law)
}

function bandGrid({ lower, upper }: ElastomerLaw, count: number): number[] {
  return Array.from({ length: count }, (_, k) => lower * (upper / lower) ** (k / (count - 1)))
}
