/** 2 to a whole exponent, which scales without rounding; kept among the numbers that have all their digits. */
export function powerOfTwo(exponent: number): number {
  return 2 ** Math.max(-1022, Math.min(1023, exponent))
}
