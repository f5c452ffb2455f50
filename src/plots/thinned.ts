/** Indices of the samples that a line of given width [px] can show: in each column the first, the last and both extremes. */
export function thinned(values: ArrayLike<number>, width: number): number[] {
  const { length } = values
  if (length <= 4 * width) return Array.from({ length }, (_, k) => k)
  return Array.from({ length: width }, (_, column) => {
    const first = Math.floor((column * length) / width)
    const last = Math.floor(((column + 1) * length) / width) - 1
    let [low, high] = [first, first]
    for (let k = first; k <= last; k++) {
      if (values[k] < values[low]) low = k
      if (values[k] > values[high]) high = k
    }
    return [...new Set([first, low, high, last])].sort((a, b) => a - b)
  }).flat()
}
