import { fourierPlan, powerOfTwoFrom } from './fourier.js'

/** Σ w_i w_(i+lag) for lags from 0 to the length of the list less one, up to a common factor, by two transforms. */
export function autocorrelation(list: Float64Array): Float64Array {
  const plan = fourierPlan(powerOfTwoFrom(2 * list.length))
  const data = new Float64Array(2 * plan.length)
  const out = new Float64Array(2 * plan.length)
  for (let i = 0; i < list.length; i++) data[2 * i] = list[i]
  plan.transform(out, data)
  for (let i = 0; i < data.length; i += 2) data[i] = out[i] * out[i] + out[i + 1] * out[i + 1]
  plan.transform(out, data)
  return list.map((_, lag) => out[2 * lag])
}
