/** A source of random numbers in [0, 1) that gives the same row for the same seed on every machine.
 *
 * xoshiro128** seeded by SplitMix32; 53 bits from two steps.
 * @source D. Blackman, S. Vigna, Scrambled linear pseudorandom number generators, ACM Trans. Math. Softw. 47 (2021) 36
 */
export function randomNumbers(seed: number): () => number {
  let mixed = seed >>> 0
  const word = () => {
    mixed = (mixed + 0x9e3779b9) | 0
    let z = Math.imul(mixed ^ (mixed >>> 16), 0x21f0aaad)
    z = Math.imul(z ^ (z >>> 15), 0x735a2d97)
    return z ^ (z >>> 15)
  }
  const state = [word(), word(), word(), word()]
  const next = () => {
    const product = Math.imul(state[1], 5)
    const result = Math.imul((product << 7) | (product >>> 25), 9) >>> 0
    const shifted = state[1] << 9
    state[2] ^= state[0]
    state[3] ^= state[1]
    state[1] ^= state[2]
    state[0] ^= state[3]
    state[2] ^= shifted
    state[3] = (state[3] << 11) | (state[3] >>> 21)
    return result
  }
  return () => ((next() >>> 5) * 2 ** 26 + (next() >>> 6)) / 2 ** 53
}
