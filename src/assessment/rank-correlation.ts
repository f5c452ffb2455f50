/** Spearman's rank correlation of two lists of equal length; ties share their mean rank; null where one list is constant.
 * @source C. Spearman, Am. J. Psychol. 15 (1904) 72-101 */
export function rankCorrelation(a: readonly number[], b: readonly number[]): number | null {
  const x = ranks(a)
  const y = ranks(b)
  const mean = (a.length - 1) / 2
  let xy = 0
  let xx = 0
  let yy = 0
  for (let k = 0; k < x.length; k++) {
    xy += (x[k] - mean) * (y[k] - mean)
    xx += (x[k] - mean) ** 2
    yy += (y[k] - mean) ** 2
  }
  return xx === 0 || yy === 0 ? null : xy / Math.sqrt(xx * yy)
}

function ranks(values: readonly number[]): Float64Array {
  const order = Array.from(values.keys()).sort((i, k) => values[i] - values[k])
  const rank = new Float64Array(values.length)
  for (let from = 0; from < order.length; ) {
    let to = from
    while (to + 1 < order.length && values[order[to + 1]] === values[order[from]]) to++
    for (let k = from; k <= to; k++) rank[order[k]] = (from + to) / 2
    from = to + 1
  }
  return rank
}
