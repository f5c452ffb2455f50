/** A number to four significant digits, for sentences only. */
export function fourDigits(value: number): string {
  return `${Number(value.toPrecision(4))}`
}
