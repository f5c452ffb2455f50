import { checkOneOf, checkOptions, fail, type Scope, scopeOf, show, within } from '../internal/check.js'
import { blockRoles, checkMatrix, checkNames } from './check.js'
import type { BlockRole, Matrix, MechanicalSystem } from './types.js'

/** How one output is made up; what is absent counts as zero. */
export interface MechanicalOutput {
  /** Output per displacement of each coordinate, length n */
  readonly displacement?: readonly number[]
  /** Output per velocity of each coordinate, length n */
  readonly velocity?: readonly number[]
  /** Output per acceleration of each coordinate, length n */
  readonly acceleration?: readonly number[]
}

/** Options of {@link mechanicalSystem}. */
export interface MechanicalSystemOptions<I extends string = string, O extends string = string> {
  /** n × n [kg], symmetric, positive definite */
  readonly mass: Matrix
  /** n × n [N·s/m] */
  readonly damping: Matrix
  /** n × n [N/m] */
  readonly stiffness: Matrix
  /** Force on each coordinate per unit input, by input name, each of length n */
  readonly inputs: Readonly<Record<I, readonly number[]>>
  /** What each output reads, by output name */
  readonly outputs: Readonly<Record<O, MechanicalOutput>>
  /** Piece of hardware the system stands for. @defaultValue none */
  readonly role?: BlockRole
}

/** A mechanical system that keeps its mass, damping and stiffness: a block like any other.
 *
 *     M q'' + C q' + K q = Σ f_i u_i
 *
 * Asked alone, it answers with its n × n dynamic stiffness K + jωC − ω²M; connected, it becomes a state space with the
 * displacements and velocities as states.
 * @param options - see {@link MechanicalSystemOptions}
 * @returns the checked record; the input is copied
 * @throws {@link IsolationError} `dimension-mismatch`, `not-finite`, `invalid-option`; `out-of-range` for a mass matrix that
 * is not symmetric and positive definite
 * @source D. J. Ewins, Modal Testing, 2nd edition 2000, section 2.3
 * @example
 * import { mechanicalSystem, poles } from 'restmass'
 * const outputs = { velocity: { velocity: [1] } }
 * const system = mechanicalSystem({ mass: [[2]], damping: [[4]], stiffness: [[200]], inputs: { force: [1] }, outputs })
 * poles(system)[0].dampingRatio // 0.1
 */
export function mechanicalSystem<const I extends string = string, const O extends string = string>(
  options: MechanicalSystemOptions<I, O>,
): MechanicalSystem<I, O> {
  const scope = scopeOf('mechanicalSystem')
  checkOptions(scope, options, ['mass', 'damping', 'stiffness', 'inputs', 'outputs', 'role'])
  const n = Array.isArray(options.mass) ? options.mass.length : 0
  const mass = checkMatrix(scope, 'mass', options.mass, n, n)
  checkMass(scope, mass)
  const inputs = namesOf<I>(scope, 'inputs', options.inputs)
  const outputs = namesOf<O>(scope, 'outputs', options.outputs)
  const forces = inputs.map((name) => checkMatrix(within(scope, 'inputs'), name, [options.inputs[name]], 1, n)[0])
  const read = (kind: keyof MechanicalOutput) =>
    outputs.map((name) => {
      const at = within(within(scope, 'outputs'), name)
      const output = checkOptions(at, options.outputs[name], ['displacement', 'velocity', 'acceleration'])
      return output[kind] === undefined ? new Array<number>(n).fill(0) : checkMatrix(at, kind, [output[kind]], 1, n)[0]
    })
  if (options.role !== undefined) checkOneOf(scope, 'role', options.role, blockRoles)
  return {
    kind: 'MechanicalSystem',
    mass,
    damping: checkMatrix(scope, 'damping', options.damping, n, n),
    stiffness: checkMatrix(scope, 'stiffness', options.stiffness, n, n),
    forces: Array.from({ length: n }, (_, k) => forces.map((row) => row[k])),
    displacements: read('displacement'),
    velocities: read('velocity'),
    accelerations: read('acceleration'),
    inputs,
    outputs,
    ...(options.role === undefined ? {} : { role: options.role }),
  }
}

/** Checks that a value is a MechanicalSystem record with consistent shapes and finite entries. */
export function checkMechanicalSystem(scope: Scope, value: MechanicalSystem): void {
  const n = value.mass?.length ?? 0
  const m = checkNames(scope, 'inputs', value.inputs, value.inputs?.length ?? 0).length
  const p = checkNames(scope, 'outputs', value.outputs, value.outputs?.length ?? 0).length
  checkMass(scope, checkMatrix(scope, 'mass', value.mass, n, n))
  checkMatrix(scope, 'damping', value.damping, n, n)
  checkMatrix(scope, 'stiffness', value.stiffness, n, n)
  checkMatrix(scope, 'forces', value.forces, n, m)
  for (const key of ['displacements', 'velocities', 'accelerations'] as const) checkMatrix(scope, key, value[key], p, n)
}

function namesOf<N extends string>(scope: Scope, key: string, record: Readonly<Record<N, unknown>>): N[] {
  if (typeof record !== 'object' || record === null || Array.isArray(record)) {
    fail('invalid-option', within(scope, key), `must be an object by name, got ${show(record)}`)
  }
  const names = Object.keys(record) as N[]
  return checkNames(scope, key, names, names.length)
}

/** Refuses a mass matrix without a Cholesky factor. */
function checkMass(scope: Scope, mass: Matrix): void {
  const n = mass.length
  const factor = Array.from({ length: n }, () => new Float64Array(n))
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let rest = mass[i][j]
      for (let k = 0; k < j; k++) rest -= factor[i][k] * factor[j][k]
      const symmetric = Math.abs(mass[i][j] - mass[j][i]) <= 1e-12 * Math.sqrt(Math.abs(mass[i][i] * mass[j][j]))
      if (!symmetric || (i === j && !(rest > 0))) {
        fail('out-of-range', within(scope, 'mass'), 'must be symmetric and positive definite [kg]', { unit: 'kg' })
      }
      factor[i][j] = i === j ? Math.sqrt(rest) : rest / factor[j][j]
    }
  }
}
