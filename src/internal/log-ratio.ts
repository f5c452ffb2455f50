/** ln(a/b) for positive numbers whose ratio may leave the range of numbers. */
export function logRatio(a: number, b: number): number {
  const ratio = a / b
  return ratio > 0 && ratio < Infinity ? Math.log(ratio) : Math.log(a) - Math.log(b)
}

/** a^(1 − share)·b^share of positive numbers whose ratio may leave the range of numbers. */
export function geometricMean(a: number, b: number, share: number): number {
  const ratio = b / a
  return ratio > 0 && ratio < Infinity ? a * ratio ** share : Math.exp(Math.log(a) + share * logRatio(b, a))
}
