/** Value that a chi-squared variable with `freedom` degrees of freedom, whole or not, stays below with a given probability
 * between 0 and 1, by bisection of the incomplete gamma function to 1e-12; above 10 000 degrees of freedom from the cube
 * root, which is normal to 1e-7 there.
 * @source M. Abramowitz, I. A. Stegun, Handbook of Mathematical Functions, 1964, 6.5.29, 6.5.31, 26.4.17 and 26.4.19
 */
export function chiSquaredQuantile(probability: number, freedom: number): number {
  if (freedom > 1e4) {
    const deviate = Math.sign(probability - 0.5) * Math.sqrt(chiSquaredQuantile(Math.abs(2 * probability - 1), 1))
    const spread = 2 / (9 * freedom)
    return freedom * (1 - spread + deviate * Math.sqrt(spread)) ** 3
  }
  const shape = freedom / 2
  let low = -800
  let high = Math.log(shape + 10) + 5
  while (high - low > 1e-12 * (1 + Math.abs(low))) {
    const middle = (low + high) / 2
    if (lowerGamma(shape, Math.exp(middle)) < probability) low = middle
    else high = middle
  }
  return 2 * Math.exp((low + high) / 2)
}

/** Regularised lower incomplete gamma function P(a, x). */
function lowerGamma(a: number, x: number): number {
  const front = Math.exp(a * Math.log(x) - x - logGamma(a))
  if (x < a + 1) {
    let term = 1 / a
    let sum = term
    for (let n = 1; term > 1e-17 * sum; n++) {
      term *= x / (a + n)
      sum += term
    }
    return front * sum
  }
  // Q = front / (x + 1 − a − 1·(1 − a)/(x + 3 − a − …)), from a depth at which it stands.
  let tail = 0
  for (let n = 60 + Math.ceil(20 * Math.sqrt(a)); n >= 1; n--) tail = (n * (a - n)) / (x + 2 * n + 1 - a + tail)
  return 1 - front / (x + 1 - a + tail)
}

/** ln Γ(a) for a > 0 by Stirling's series, raised to arguments of at least 10 first. */
function logGamma(a: number): number {
  let shift = 0
  let z = a
  for (; z < 10; z++) shift -= Math.log(z)
  const inverse = 1 / (z * z)
  const series = (1 / 12 - inverse * (1 / 360 - inverse * (1 / 1260 - inverse / 1680))) / z
  return shift + (z - 0.5) * Math.log(z) - z + 0.5 * Math.log(2 * Math.PI) + series
}
