import {
  checkGrid,
  checkNumber,
  checkNumbers,
  checkOneOf,
  checkOptions,
  fail,
  must,
  type Scope,
  scopeOf,
  within,
} from '../internal/check.js'
import { zeros } from '../linear/dense.js'
import { nonNegativeLeastSquares } from '../linear/non-negative-least-squares.js'
import { localMinimum } from '../linear/scalar-search.js'
import { angularFrequency } from '../systems/frequency-response.js'
import type { FloorMode } from './floor-mobility.js'

/** A measured mobility: velocity per force [m/s/N] at one point, over frequency. */
export interface MeasuredMobility {
  readonly kind?: 'ComplexSeries'
  /** [Hz], ascending, above 0 */
  readonly frequency: ArrayLike<number>
  readonly re: ArrayLike<number>
  readonly im: ArrayLike<number>
}

/** Options of {@link mobilityModes}. */
export interface MobilityModesOptions {
  /** Number of modes within the measured band, 1 to 12 */
  readonly count: number
}

/** Modes fitted to a mobility; made by {@link mobilityModes}. */
export interface MobilityModes {
  readonly kind: 'MobilityModes'
  /** Ascending in frequency; the last may stand for the give of everything above the band */
  readonly modes: readonly FloorMode[]
  /** Root mean square of what the modes leave over that of the mobility; a few hundredths are a good fit */
  readonly residual: number
}

interface Shape {
  readonly omega: number
  readonly dampingRatio: number
}

interface Fit {
  readonly shapes: readonly Shape[]
  readonly amplitudes: readonly number[]
  /** Sum of squares left */
  readonly left: number
}

/** Modes of a floor, or another structure, from its measured mobility at the point where the isolation will stand.
 *
 * Y = Σ s/(m_i (s² + 2ζ_i ω_i s + ω_i²)) with positive modal masses, so that the floor stays passive whatever noise there
 * is in the data. Modes are added one by one where they help most, and all are refined after each; the masses come from
 * least squares with that sign. One more mode far above the band takes up what lies there. The data count as they are, so
 * that peaks weigh most. Read `residual` before using it.
 * @param mobility - velocity per force, same point and direction
 * @param options - see {@link MobilityModesOptions}
 * @returns see {@link MobilityModes}; `{ modes }` is a floor for every concept
 * @throws {@link IsolationError} `invalid-option`, `out-of-range`, `dimension-mismatch`; `no-convergence` where no mode with
 * positive mass fits, as with a wrong sign
 * @source D. J. Ewins, Modal Testing, 2nd edition 2000, chapter 2 (modal form of mobility); least squares derived here
 * @example
 * import { channel, frequencyResponse, mobilityModes, transferFunction } from 'restmass'
 * const floor = transferFunction({ numerator: [1, 0], denominator: [5000, 2e4, 2.8e7] })
 * const frequency = [2, 4, 6, 8, 10, 11, 12, 13, 14, 16, 20, 30]
 * const mobility = channel(frequencyResponse(floor, frequency), { input: 'u1', output: 'y1' })
 * mobilityModes(mobility, { count: 1 }).modes[0].modalMass // 5000
 */
export function mobilityModes(mobility: MeasuredMobility, options: MobilityModesOptions): MobilityModes {
  const scope = scopeOf('mobilityModes')
  checkOptions(scope, options, ['count'])
  const count = checkNumber(scope, 'count', options.count, { integer: true, atLeast: 1, atMost: 12 })
  const { omega, target } = checkMobility(within(scope, 'mobility'), mobility)
  const far = { omega: 10 * omega[omega.length - 1], dampingRatio: 0.05 }
  let fit: Fit = { shapes: [], amplitudes: [], left: square(target) }
  for (let k = 0; k < count; k++) {
    const fitted = (shapes: readonly Shape[]) => fitOf(scope, omega, target, shapes, far)
    const added = [...fit.shapes, bestShape(omega, residualOf(omega, target, fit, far))]
    fit = refined(fitted, added)
  }
  const modes = [...fit.shapes, far].map(({ omega: place, dampingRatio }, i) => ({
    modalMass: 1 / fit.amplitudes[i],
    naturalFrequency: place / (2 * Math.PI),
    dampingRatio,
  }))
  const found = modes.filter(({ modalMass }) => Number.isFinite(modalMass))
  const residual = Math.sqrt(fit.left / square(target))
  if (found.length === 0 || residual > 0.9) {
    fail('no-convergence', scope, `finds no modes of positive mass (${residual.toFixed(2)} is left); check the sign`)
  }
  found.sort((a, b) => a.naturalFrequency - b.naturalFrequency)
  return { kind: 'MobilityModes', modes: found, residual }
}

/** Angular frequencies, and real parts before imaginary parts in one list. */
function checkMobility(scope: Scope, mobility: MeasuredMobility): { omega: Float64Array; target: Float64Array } {
  checkOptions(scope, mobility, ['kind', 'frequency', 're', 'im'])
  if (mobility.kind !== undefined) checkOneOf(scope, 'kind', mobility.kind, ['ComplexSeries'])
  const frequency = checkGrid(scope, 'frequency', mobility.frequency, { unit: 'Hz', above: 0 })
  const parts = (['re', 'im'] as const).map((key) => {
    const values = checkNumbers(scope, key, mobility[key])
    if (values.length !== frequency.length) {
      fail('dimension-mismatch', within(scope, key), `must have ${frequency.length} entries, got ${values.length}`)
    }
    return Array.from(values)
  })
  const target = Float64Array.from(parts.flat())
  if (square(target) === 0) fail('out-of-range', scope, 'must not be zero everywhere')
  return { omega: frequency.map(angularFrequency), target }
}

/** s/(s² + 2ζω₀s + ω₀²) at each frequency, real parts before imaginary parts. */
function columnOf(omega: Float64Array, { omega: place, dampingRatio }: Shape): Float64Array {
  const column = new Float64Array(2 * omega.length)
  omega.forEach((w, k) => {
    const [real, imaginary] = [place * place - w * w, 2 * dampingRatio * place * w]
    const size = real * real + imaginary * imaginary
    column[k] = (w * imaginary) / size
    column[omega.length + k] = (w * real) / size
  })
  return column
}

function fitOf(scope: Scope, omega: Float64Array, target: Float64Array, shapes: readonly Shape[], far: Shape): Fit {
  const columns = [...shapes, far].map((shape) => columnOf(omega, shape))
  const norms = columns.map((column) => Math.sqrt(square(column)))
  const matrix = zeros(target.length, columns.length)
  columns.forEach((column, j) => {
    column.forEach((value, i) => {
      matrix.data[i * columns.length + j] = value / norms[j]
    })
  })
  const says = 'finds no modes of positive mass'
  const found = must(nonNegativeLeastSquares(matrix, target), 'no-convergence', scope, says)
  const amplitudes = norms.map((norm, j) => found[j] / norm)
  const left = target.map((value, i) => columns.reduce((rest, column, j) => rest - amplitudes[j] * column[i], value))
  return { shapes, amplitudes, left: square(left) }
}

function residualOf(omega: Float64Array, target: Float64Array, { shapes, amplitudes }: Fit, far: Shape): Float64Array {
  const columns = shapes.length === 0 ? [] : [...shapes, far].map((shape) => columnOf(omega, shape))
  return target.map((value, i) => columns.reduce((rest, column, j) => rest - amplitudes[j] * column[i], value))
}

/** The one mode that takes most of a residual: on the measured frequencies, over a range of damping ratios. */
function bestShape(omega: Float64Array, residual: Float64Array): Shape {
  let best = { omega: omega[0], dampingRatio: 0.05 }
  let most = 0
  for (const place of omega) {
    for (const dampingRatio of [0.005, 0.015, 0.05, 0.15]) {
      const column = columnOf(omega, { omega: place, dampingRatio })
      const share = column.reduce((sum, value, i) => sum + value * residual[i], 0) / Math.sqrt(square(column))
      if (share > most) [best, most] = [{ omega: place, dampingRatio }, share]
    }
  }
  return best
}

/** Frequencies and damping ratios searched one after another until the sum of squares stands. */
function refined(fitted: (shapes: readonly Shape[]) => Fit, start: readonly Shape[]): Fit {
  const leftOf = (shapes: readonly Shape[]) => fitted(shapes).left
  let shapes = start
  let least = leftOf(shapes)
  for (let round = 0, reach = 0.3; round < 40; round++) {
    const before = least
    shapes.forEach((_, j) => {
      for (const key of ['omega', 'dampingRatio'] as const) {
        const changed = (log: number) =>
          shapes.map((shape, i) => (i === j ? { ...shape, [key]: shape[key] * Math.exp(log - 1) } : shape))
        const span = key === 'omega' ? reach / 10 : 3 * reach
        const { x, value } = localMinimum((log) => leftOf(changed(log)), 1 - span, 1 + span, 0.02 * span)
        if (value < least) [shapes, least] = [changed(x), value]
      }
    })
    if (reach < 1e-4 && before - least < 1e-3 * before) break
    if (before - least < 0.3 * before) reach *= 0.5
  }
  return fitted(shapes)
}

function square(values: Float64Array): number {
  return values.reduce((sum, value) => sum + value * value, 0)
}
