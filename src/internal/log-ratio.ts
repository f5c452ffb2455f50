/** ln(a/b) for positive numbers whose ratio may leave the range of numbers. */
export function logRatio(a: number, b: number): number {
  const ratio = a / b
  return ratio > 0 && ratio < Infinity ? Math.log(ratio) : Math.log(a) - Math.log(b)
}

/** a·(b/a)^share for positive numbers whose ratio may leave the range of numbers. */
export function inRatio(a: number, b: number, share: number): number {
  const ratio = b / a
  return ratio > 0 && ratio < Infinity ? a * ratio ** share : Math.exp(Math.log(a) + share * logRatio(b, a))
}

/** A log-log line from (x0, a) to (x1, b) at x, all positive, whose ratios may leave the range of numbers. */
export function logLogBetween(x: number, x0: number, a: number, x1: number, b: number): number {
  return inRatio(a, b, logRatio(x, x0) / logRatio(x1, x0))
}
