/** A root of f between a and b, where f changes sign, to the last digits.
 * @source R. P. Brent, Algorithms for Minimization without Derivatives, 1973, chapter 4 */
export function bracketedRoot(
  f: (x: number) => number,
  a: number,
  b: number,
  fa: number = f(a),
  fb: number = f(b),
): number {
  let [x, fx, y, fy] = Math.abs(fa) < Math.abs(fb) ? [b, fb, a, fa] : [a, fa, b, fb]
  // y is the best estimate, x its counterpart of other sign.
  let previous = x
  let fPrevious = fx
  let step = y - x
  let before = step
  for (let iteration = 0; iteration < 200 && fy !== 0; iteration++) {
    const tolerance = 2 * Number.EPSILON * Math.abs(y)
    const half = (x - y) / 2
    if (Math.abs(half) <= tolerance) break
    const proposal = interpolatedStep(y, fy, previous, fPrevious, x, fx)
    const usable = Math.abs(proposal) < Math.min(0.75 * Math.abs(2 * half), Math.abs(before / 2)) && proposal * half > 0
    before = usable ? step : half
    step = usable ? proposal : half
    previous = y
    fPrevious = fy
    y += Math.abs(step) > tolerance ? step : Math.sign(half) * tolerance
    fy = f(y)
    if (fy > 0 === fx > 0) {
      x = previous
      fx = fPrevious
    }
    if (Math.abs(fx) < Math.abs(fy)) {
      previous = y
      fPrevious = fy
      ;[x, fx, y, fy] = [y, fy, x, fx]
    }
  }
  return y
}

/** Place of a local minimum of f between a and b, to a tolerance relative to the upper end; by default about the square root
 * of the rounding unit.
 * @source R. P. Brent, Algorithms for Minimization without Derivatives, 1973, chapter 5 (golden section) */
export function localMinimum(
  f: (x: number) => number,
  a: number,
  b: number,
  tolerance = 1e-9,
): { x: number; value: number } {
  const ratio = (Math.sqrt(5) - 1) / 2
  let low = a
  let high = b
  let left = high - ratio * (high - low)
  let right = low + ratio * (high - low)
  let fLeft = f(left)
  let fRight = f(right)
  for (let iteration = 0; iteration < 100 && high - low > tolerance * Math.abs(high); iteration++) {
    if (fLeft < fRight) {
      high = right
      right = left
      fRight = fLeft
      left = high - ratio * (high - low)
      fLeft = f(left)
    } else {
      low = left
      left = right
      fLeft = fRight
      right = low + ratio * (high - low)
      fRight = f(right)
    }
  }
  return fLeft < fRight ? { x: left, value: fLeft } : { x: right, value: fRight }
}

function interpolatedStep(y: number, fy: number, p: number, fp: number, x: number, fx: number): number {
  if (fp !== fx && fp !== fy && fy !== fx) {
    // Inverse quadratic interpolation through three points.
    const r = fy / fx
    const s = fy / fp
    const t = fp / fx
    return (s * (t * (r - t) * (x - y) - (1 - r) * (y - p))) / ((t - 1) * (r - 1) * (s - 1))
  }
  return fx === fy ? 0 : (-fy * (x - y)) / (fx - fy)
}
