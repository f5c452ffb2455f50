import { gain } from '../systems/gain.js'
import type { Matrix, StateSpace } from '../systems/types.js'

/** Controller of velocity feedback, g_v · signal.
 *
 * With acceleration feedback it also gives g_a · signal as `impulse`, whose derivative the actuator takes, or adds
 * g_a · rate where the sensor gives the rate of its signal.
 */
export function velocityController(velocityGain: number, accelerationGain: number | null, rated: boolean): StateSpace {
  const inputs = rated ? ['signal', 'rate'] : ['signal']
  const outputs = accelerationGain === null || rated ? ['force'] : ['force', 'impulse']
  const matrix =
    accelerationGain === null
      ? [[velocityGain]]
      : rated
        ? [[velocityGain, accelerationGain]]
        : [[velocityGain], [accelerationGain]]
  return { ...gain(matrix, { inputs, outputs }), role: 'controller' }
}

/** A sensor that also gives the rate of its signal from the rate of its input: y' = C (A x + B u) + D u'. */
export function withRate(sensor: StateSpace): StateSpace {
  const { A, B, C, D } = sensor
  return {
    ...sensor,
    B: B.map((row) => [row[0], 0]),
    C: [C[0], product(C, A)[0]],
    D: [
      [D[0][0], 0],
      [direct(C, B), D[0][0]],
    ],
    inputs: ['velocity', 'acceleration'],
    outputs: ['signal', 'rate'],
  }
}

/** A block without direct gain that also takes the integral of its input: x' = A x + B u + A B w, y = C x + C B w. */
export function integralInput(actuator: StateSpace): StateSpace {
  const { A, B, C } = actuator
  const AB = product(A, B)
  return {
    ...actuator,
    B: B.map((row, i) => [row[0], AB[i][0]]),
    D: [[0, direct(C, B)]],
    inputs: [...actuator.inputs, 'impulse'],
  }
}

/** First entry of the product, 0 without states. */
function direct([row]: Matrix, b: Matrix): number {
  return row.reduce((sum, value, k) => sum + value * b[k][0], 0)
}

function product(a: Matrix, b: Matrix): number[][] {
  const columns = b[0]?.length ?? 0
  return a.map((row) =>
    Array.from({ length: columns }, (_, j) => row.reduce((sum, value, k) => sum + value * b[k][j], 0)),
  )
}
