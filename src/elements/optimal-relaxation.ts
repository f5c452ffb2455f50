/** Damping ratio c/(2√(k·m)) of an elastically supported damper that makes the peak of the absolute transmissibility as
 * low as it can be, 1 + 2/N, for the stiffness ratio N = (K(∞) − K(0))/K(0).
 * @source J. E. Ruzicka, R. D. Cavanaugh, New method for vibration isolation, Machine Design, 1958; confirmed by min-max search */
function optimalDampingRatio(stiffnessRatio: number): number {
  return (stiffnessRatio / (4 * (stiffnessRatio + 1))) * Math.sqrt(2 * (stiffnessRatio + 2))
}

/** Dashpot [N·s/m] of the optimal damper under a mass on a spring of given static stiffness. */
export function optimalDamping(stiffnessRatio: number, stiffness: number, mass: number): number {
  return 2 * optimalDampingRatio(stiffnessRatio) * Math.sqrt(stiffness) * Math.sqrt(mass)
}
