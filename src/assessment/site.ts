import { checkOneOf, checkOptions, fail, type Scope, within } from '../internal/check.js'
import type { IsolationModel } from '../isolation/model.js'
import type { Criterion, CriterionName } from '../vibration/criterion-types.js'
import type { LevelStatistic, Spectrum, SpectrumLiteral } from '../vibration/types.js'
import type { Move } from './check-move.js'
import type { SiteSettling } from './judge-moves.js'
import type { MotionTolerance } from './motion-tolerance.js'
import { checkedForce, checkedVelocity } from './predict-payload.js'
import type { Drive } from './predicted-density.js'

/** A direction in space. */
export type SiteAxis = 'x' | 'y' | 'z'

/** Spectra by axis, at least one. */
export type SpectrumByAxis = { readonly [A in SiteAxis]?: Spectrum | SpectrumLiteral }

/** Where an isolation has to work and what is asked of it. */
export interface Site {
  /** Motion of the floor: acceleration, velocity or displacement; by axis or one for all. A model of one axis stands for
   * `axis`; one of six is judged along every axis given, their motions taken as independent */
  readonly floor: Spectrum | SpectrumLiteral | SpectrumByAxis
  /** Force on the payload [N²/Hz], independent of the floor; by axis as the floor. @defaultValue none */
  readonly payloadForce?: Spectrum | SpectrumLiteral | SpectrumByAxis
  /** Which axis a model of one axis stands for. @defaultValue z, or the only one given */
  readonly axis?: SiteAxis
  /** Limit on the payload's rms velocity in one-third-octave bands */
  readonly criterion: Criterion | CriterionName
  /** Least modulus margin of every loop, from 0 to 1. @defaultValue 0.5 (common practice, no source) */
  readonly minimumModulusMargin?: number
  /** Length of the floor record [s]: levels scatter, and a band whose limit lies within that is undecided.
   * @defaultValue levels are taken as exact */
  readonly duration?: number
  /** Probability with which each bound of a level holds; with `duration`. @defaultValue 0.95 */
  readonly confidence?: number
  /** How the levels were taken over time; stated in the result. @defaultValue what the floor spectrum says, else `'average'` */
  readonly statistic?: LevelStatistic
  /** Noise of the sensor that measured the floor: acceleration, velocity or displacement. What the levels may owe to it
   * leaves a band undecided. @defaultValue none */
  readonly sensorNoise?: Spectrum | SpectrumLiteral
  /** Moves of a stage on the payload, each judged by itself, with `settling`, at most 100. @defaultValue none */
  readonly moves?: readonly Move[]
  /** When the payload counts as settled after a move; with `moves` */
  readonly settling?: SiteSettling
  /** What a tool on the payload bears. @defaultValue nothing asked */
  readonly tolerance?: MotionTolerance
}

export const siteKeys: readonly (keyof Site)[] = [
  'floor',
  'payloadForce',
  'axis',
  'criterion',
  'minimumModulusMargin',
  'duration',
  'confidence',
  'statistic',
  'sensorNoise',
  'moves',
  'settling',
  'tolerance',
]

/** An axis along which a payload is judged. */
export interface JudgedAxis {
  /** null for a model of one axis on a floor without axes */
  readonly axis: SiteAxis | null
  /** What the ports of this axis end in */
  readonly end: '' | 'X' | 'Y' | 'Z'
  /** Velocity of the floor */
  readonly floor: Spectrum
}

const all: readonly SiteAxis[] = ['x', 'y', 'z']
const upper = { x: 'X', y: 'Y', z: 'Z' } as const

/** What the ports of a model along an axis end in. */
export function portEnd({ closed }: IsolationModel, axis: SiteAxis | null): JudgedAxis['end'] {
  return axis !== null && closed.inputs.includes('floorVelocityX') ? upper[axis] : ''
}

/** The axes that are judged, and what drives the model along them. */
export function siteAxes(
  scope: Scope,
  { closed }: IsolationModel,
  site: Site,
): { readonly axes: readonly JudgedAxis[]; readonly drives: readonly Drive[] } {
  const floors = byAxis(within(scope, 'floor'), site.floor, checkedVelocity)
  const forces =
    site.payloadForce === undefined ? {} : byAxis(within(scope, 'payloadForce'), site.payloadForce, checkedForce)
  const six = closed.inputs.includes('floorVelocityX')
  if (six && site.axis !== undefined) fail('unsupported', within(scope, 'axis'), 'is for a model of one axis')
  const chosen = six ? null : oneAxis(scope, site, floors)
  const picked = (list: Given) =>
    all
      .filter((axis) => six || axis === (chosen ?? 'z'))
      .flatMap((axis) => {
        const spectrum = list[axis]
        return spectrum === undefined ? [] : [{ axis, spectrum, end: six ? upper[axis] : ('' as const) }]
      })
  const axes = picked(floors).map(({ axis, spectrum, end }): JudgedAxis => {
    return { axis: six ? axis : chosen, end, floor: spectrum }
  })
  const pushes = picked(forces).map(({ spectrum, end }): Drive => ({ input: `payloadForce${end}`, spectrum }))
  return {
    axes,
    drives: [...axes.map(({ end, floor }) => ({ input: `floorVelocity${end}`, spectrum: floor })), ...pushes],
  }
}

type Given = { readonly [A in SiteAxis]?: Spectrum } & { readonly whole?: true }

/** Spectra by axis, each checked, whether it is judged or not; a single one stands for all. */
function byAxis(
  at: Scope,
  given: Spectrum | SpectrumLiteral | SpectrumByAxis,
  checked: (at: Scope, spectrum: Spectrum | SpectrumLiteral) => Spectrum,
): Given {
  const by = given as SpectrumByAxis | null | undefined
  if (!all.some((axis) => by?.[axis] !== undefined)) {
    const spectrum = checked(at, given as SpectrumLiteral)
    return { x: spectrum, y: spectrum, z: spectrum, whole: true }
  }
  return Object.fromEntries(
    Object.entries(checkOptions(at, by as SpectrumByAxis, all)).flatMap(([axis, spectrum]) =>
      spectrum === undefined ? [] : [[axis, checked(within(at, axis), spectrum)]],
    ),
  )
}

function oneAxis(scope: Scope, { axis }: Site, floors: Given): SiteAxis | null {
  if (axis !== undefined) checkOneOf(scope, 'axis', axis, all)
  if (floors.whole) return axis ?? null
  const given = all.filter((key) => floors[key] !== undefined)
  const chosen = axis ?? (given.length === 1 ? given[0] : 'z')
  if (floors[chosen] !== undefined) return chosen
  fail('invalid-option', within(scope, 'axis'), `must say which of ${given.join(', ')} the model stands for`)
}
