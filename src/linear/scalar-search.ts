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
 * of the rounding unit. Golden sections, and parabolas through the three best points where they keep within.
 * @source R. P. Brent, Algorithms for Minimization without Derivatives, 1973, chapter 5 */
export function localMinimum(
  f: (x: number) => number,
  a: number,
  b: number,
  tolerance = 1e-9,
): { x: number; value: number } {
  const section = (3 - Math.sqrt(5)) / 2
  let [low, high] = [a, b]
  let x = low + section * (high - low)
  let value = f(x)
  // The second and third best points and values, and the last two steps.
  let [second, third, fSecond, fThird] = [x, x, value, value]
  let [step, before] = [0, 0]
  for (let iteration = 0; iteration < 100; iteration++) {
    const middle = (low + high) / 2
    const least = (tolerance / 4) * Math.abs(high)
    if (Math.abs(x - middle) <= 2 * least - (high - low) / 2) break
    const proposal = parabolicStep(x, value, second, fSecond, third, fThird)
    const place = x + proposal
    const usable = Math.abs(proposal) < Math.abs(before) / 2 && place > low && place < high
    before = usable ? step : x < middle ? high - x : low - x
    step = usable ? proposal : section * before
    if (usable && (place - low < 2 * least || high - place < 2 * least)) step = x < middle ? least : -least
    const next = x + (Math.abs(step) >= least ? step : Math.sign(step) * least)
    const fNext = f(next)
    if (fNext <= value) {
      if (next < x) high = x
      else low = x
      ;[third, fThird, second, fSecond, x, value] = [second, fSecond, x, value, next, fNext]
    } else {
      if (next < x) low = next
      else high = next
      if (fNext <= fSecond || second === x) [third, fThird, second, fSecond] = [second, fSecond, next, fNext]
      else if (fNext <= fThird || third === x || third === second) [third, fThird] = [next, fNext]
    }
  }
  return { x, value }
}

/** From x to the vertex of the parabola through three points; not a number where there is none. */
function parabolicStep(x: number, fx: number, w: number, fw: number, v: number, fv: number): number {
  const r = (x - w) * (fx - fv)
  const q = (x - v) * (fx - fw)
  return ((x - w) * r - (x - v) * q) / (2 * (q - r))
}

function interpolatedStep(y: number, fy: number, p: number, fp: number, x: number, fx: number): number {
  if (fp !== fx && fp !== fy && fy !== fx) {
    // Inverse quadratic interpolation through three points.
    const r = fy / fx
    const s = fy / fp
    const t = fp / fx
    return (s * (t * (r - t) * (x - y) - (1 - r) * (y - p))) / ((t - 1) * (r - 1) * (s - 1))
  }
  return (-fy * (x - y)) / (fx - fy)
}
