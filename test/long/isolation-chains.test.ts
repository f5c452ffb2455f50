import { expect, it } from 'vitest'
import {
  type FrequencyResponse,
  frequencyResponse,
  logFrequencies,
  mechanicalSystem,
  stateSpace,
} from '../../src/systems/index.js'
import { generator } from './random.js'

// Truth: the dynamic stiffness K + jωC − ω²M solved directly, with a bound on its own error. The bound asked for is 1e-8 of
// the largest response of the row; where the truth itself is not that sure (on resonances far below the stiffest spring,
// where rounding of the data alone moves the response), its own bound counts, and such places must be few.
const bound = 1e-8
const models = 20
const masses = 30
const frequencies = logFrequencies({ from: 0.01, to: 1e4, count: 1000 })

it(`answers within ${bound} at 1000 frequencies on ${models} chains of masses 0.1 to 1e5 kg and springs 1e3 to 1e9 N/m`, () => {
  const random = generator(7)
  let unsure = 0
  for (let k = 0; k < models; k++) {
    const { worst, unsureShare } = compared(random)
    expect(worst).toBeLessThan(1)
    unsure += unsureShare / models
  }
  expect(unsure).toBeLessThan(0.1)
})

function compared(random: () => number) {
  const logarithmic = (from: number, to: number) => from * (to / from) ** random()
  const mass = Array.from({ length: masses }, () => logarithmic(0.1, 1e5))
  const zero = () => Array.from({ length: masses }, () => new Array<number>(masses).fill(0))
  const [K, C] = [zero(), zero()]
  for (let i = 0; i < masses + 8; i++) {
    const p = i < masses ? i : Math.floor(masses * random())
    const q = i < masses ? i - 1 : Math.floor(masses * random())
    if (p === q) continue
    const k = logarithmic(1e3, 1e9)
    const c = 0.02 * random() * Math.sqrt(k * Math.min(mass[p], q < 0 ? mass[p] : mass[q]))
    for (const [matrix, value] of [
      [K, k],
      [C, c],
    ] as const) {
      matrix[p][p] += value
      if (q < 0) continue
      matrix[q][q] += value
      matrix[p][q] -= value
      matrix[q][p] -= value
    }
  }
  const places = [0, 9, 20, 29]
  const unit = (p: number) => Array.from({ length: masses }, (_, i) => (i === p ? 1 : 0))
  // The state matrix holds K/m and C/m rounded to doubles; the truth is that of the same rounded numbers.
  const perMass = (matrix: number[][]) => matrix.map((row, i) => row.map((value) => value / mass[i]))
  const [Km, Cm] = [perMass(K), perMass(C)]
  const direct = mechanicalSystem({
    mass: mass.map((_, i) => unit(i)),
    damping: Cm,
    stiffness: Km,
    inputs: Object.fromEntries(places.map((p) => [`f${p}`, unit(p).map((one) => one / mass[p])])),
    outputs: Object.fromEntries(places.map((p) => [`x${p}`, { displacement: unit(p) }])),
  })
  const states = stateSpace({
    A: [
      ...mass.map((_, i) => [...new Array<number>(masses).fill(0), ...unit(i)]),
      ...mass.map((_, i) => [...Km[i].map((v) => -v), ...Cm[i].map((v) => -v)]),
    ],
    B: [...mass.map(() => places.map(() => 0)), ...mass.map((m, i) => places.map((p) => (p === i ? 1 / m : 0)))],
    C: places.map((p) => [...unit(p), ...new Array<number>(masses).fill(0)]),
  })
  const truth = frequencyResponse(direct, frequencies, { errorBound: 'residual' })
  return rowErrors(frequencyResponse(states, frequencies), truth)
}

/** Largest error of an entry over what is allowed for it, and the share of entries of which the truth is not sure. */
function rowErrors(found: FrequencyResponse, truth: FrequencyResponse): { worst: number; unsureShare: number } {
  const count = frequencies.length
  const m = truth.inputs.length
  const own = truth.errorBound as Float64Array
  let worst = 0
  let unsure = 0
  for (let k = 0; k < count; k++) {
    for (let o = 0; o < truth.outputs.length; o++) {
      const at = Array.from({ length: m }, (_, i) => (o * m + i) * count + k)
      const size = Math.max(...at.map((p) => Math.hypot(truth.re[p], truth.im[p])))
      for (const p of at) {
        const error = Math.hypot(found.re[p] - truth.re[p], found.im[p] - truth.im[p]) / size
        worst = Math.max(worst, error / Math.max(bound, own[p] / size))
        if (own[p] / size > bound) unsure += 1
      }
    }
  }
  return { worst, unsureShare: unsure / truth.re.length }
}
