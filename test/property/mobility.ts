import { expect } from 'vitest'

/** From force to velocity, by output and input. */
export type Mobility = readonly (readonly { readonly re: number; readonly im: number }[])[]

const own = (Y: Mobility, k: number) => Math.hypot(Y[k][k].re, Y[k][k].im)

/** Expects one entry of a mobility beside another, by the size of the driving points at both its ends. */
export function expectSameMobility(Y: Mobility, other: Mobility, accuracy: number): void {
  for (const [i, row] of Y.entries()) {
    for (const [j, { re, im }] of row.entries()) {
      const distance = Math.hypot(re - other[i][j].re, im - other[i][j].im)
      expect(distance).toBeLessThan(accuracy * Math.sqrt(own(Y, i) * own(Y, j)))
    }
  }
}

export function expectReciprocal(Y: Mobility, accuracy: number): void {
  expectSameMobility(
    Y,
    Y.map((row, i) => row.map((_, j) => Y[j][i])),
    accuracy,
  )
}

/** Expects no negative mean power Σ Re(conj(Fᵢ) Yᵢⱼ Fⱼ) of forces that act at once. */
export function expectPassive(
  Y: Mobility,
  forces: readonly (readonly [re: number, im: number])[],
  accuracy: number,
): void {
  let [power, scale] = [0, 0]
  for (const [i, row] of Y.entries()) {
    for (const [j, { re, im }] of row.entries()) {
      const [[a, b], [c, d]] = [forces[i], forces[j]]
      power += a * (re * c - im * d) + b * (re * d + im * c)
      scale += Math.hypot(a, b) * Math.hypot(re, im) * Math.hypot(c, d)
    }
  }
  expect(power).toBeGreaterThanOrEqual(-accuracy * scale)
}
