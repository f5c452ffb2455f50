export function sumOfSquares(list: Float64Array): number {
  let sum = 0
  for (const value of list) sum += value * value
  return sum
}
