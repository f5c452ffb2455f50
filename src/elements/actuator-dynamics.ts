import { stateSpace } from '../systems/state-space.js'
import type { StateSpace } from '../systems/types.js'

/** ω/(s + ω) from command to output, ω = 2π·bandwidth; exactly 1 without a bandwidth. */
export function actuatorDynamics<const O extends 'force' | 'expansion'>(
  output: O,
  bandwidth: number | null,
): StateSpace<'command', O> {
  const ports = { inputs: ['command'] as const, outputs: [output] as const, role: 'actuator' as const }
  if (bandwidth === null) return stateSpace({ A: [], B: [], C: [[]], D: [[1]], ...ports })
  const omega = 2 * Math.PI * bandwidth
  return stateSpace({ A: [[-omega]], B: [[omega]], C: [[1]], D: [[0]], states: [output], ...ports })
}
