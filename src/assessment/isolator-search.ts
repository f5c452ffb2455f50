import type { TransferEstimate } from '../vibration/types.js'
import { formResponse, formStarts, type IsolatorForm } from './isolator-forms.js'

/** How many of the best places of the search a fit starts from. */
const kept = 3

/** Logarithms of the parameters from which a fit of a named form should start: the best places of a coarse grid. */
export function formSearch(
  form: IsolatorForm,
  estimate: TransferEstimate,
  lines: readonly number[],
  sigma: Float64Array,
): Float64Array[] {
  const stride = Math.max(1, Math.floor(lines.length / 200))
  const used = lines.map((_, i) => i).filter((i) => i % stride === 0)
  const frequency = Float64Array.from(used, (i) => estimate.frequency[lines[i]])
  const cost = (values: readonly number[]): number => {
    const { re, im } = formResponse(form, values, frequency)
    return used.reduce((sum, i, j) => {
      const k = lines[i]
      return sum + ((estimate.re[k] - re[j]) ** 2 + (estimate.im[k] - im[j]) ** 2) / sigma[i] ** 2
    }, 0)
  }
  const lowest = frequency[0] / 2
  const steps = 60
  const ratio = (frequency[frequency.length - 1] / lowest) ** (1 / (steps - 1))
  const places = combinations([Array.from({ length: steps }, (_, k) => lowest * ratio ** k), ...formStarts[form]])
  return places
    .map((values) => ({ values, cost: cost(values) }))
    .sort((a, b) => a.cost - b.cost)
    .slice(0, kept)
    .map(({ values }) => Float64Array.from(values, Math.log))
}

function combinations(lists: readonly (readonly number[])[]): number[][] {
  return lists.reduce<number[][]>((rows, list) => rows.flatMap((row) => list.map((value) => [...row, value])), [[]])
}
