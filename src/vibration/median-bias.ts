import { chiSquaredQuantile } from '../internal/chi-squared.js'

/** Median over mean of the mean square of Gaussian motion with so many degrees of freedom. */
export function medianBias(degreesOfFreedom: number): number {
  return chiSquaredQuantile(0.5, degreesOfFreedom) / degreesOfFreedom
}
