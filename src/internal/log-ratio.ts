/** ln(a/b) for positive numbers whose ratio may leave the range of numbers. */
export function logRatio(a: number, b: number): number {
  const ratio = a / b
  return ratio > 0 && ratio < Infinity ? Math.log(ratio) : Math.log(a) - Math.log(b)
}
