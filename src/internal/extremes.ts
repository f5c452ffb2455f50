/** The least number of a list of any length, which `Math.min(...list)` would not take; Infinity of none. */
export function leastOf(values: readonly number[]): number {
  return values.reduce((least, value) => Math.min(least, value), Number.POSITIVE_INFINITY)
}

/** The largest number of a list of any length; −Infinity of none. */
export function mostOf(values: readonly number[]): number {
  return values.reduce((most, value) => Math.max(most, value), Number.NEGATIVE_INFINITY)
}
