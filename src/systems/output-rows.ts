import { fail, type Scope, within } from '../internal/check.js'
import { type Dense, zeros } from '../linear/dense.js'
import { luFactors, scaledReciprocalCondition, solve } from '../linear/solve.js'
import { strongComponents } from '../linear/strong-components.js'
import type { Layout, PlacedBlock, Term } from './diagram-layout.js'

/** Below this an algebraic loop counts as ill-posed. Rounding of the entries alone reaches some 1e-15 in a loop of ten blocks. */
const leastReciprocalCondition = 1e-13

/** Every block output as a row over (states, delayed signals, external inputs): y = C x + D12 w + D (K y + E r).
 *
 * Outputs are taken in the order in which direct feedthrough passes; only outputs that feed back into themselves
 * without a state or a delay between are solved for, each such loop on its own.
 */
export function outputRows(scope: Scope, layout: Layout): Dense {
  const { outputCount, stateCount, delayCount, drives } = layout
  const rows = zeros(outputCount, stateCount + delayCount + layout.inputs.length)
  const owner: PlacedBlock[] = []
  const dependsOn: number[][] = []
  for (const block of layout.blocks) {
    placeOwnRows(rows, layout, block)
    for (let o = 0; o < block.system.outputs.length; o++) {
      owner.push(block)
      dependsOn.push(feedthroughSources(block, o, drives, outputCount))
    }
  }
  for (const component of strongComponents(dependsOn)) {
    if (component.length === 1 && dependsOn[component[0]].length === 0 && isStrict(owner[component[0]], component[0])) {
      continue
    }
    closeComponent(scope, layout, rows, owner, component)
  }
  return rows
}

/** Adds factor × (a signal, given by its terms) to a row. */
export function addSignal(
  target: Float64Array,
  at: number,
  factor: number,
  terms: readonly Term[],
  layout: Layout,
  rows: Dense,
): void {
  const width = rows.columns
  const firstExternal = layout.stateCount + layout.delayCount
  for (const { source, sign } of terms) {
    const weight = sign * factor
    if (source >= layout.outputCount) {
      target[at + firstExternal + source - layout.outputCount] += weight
      continue
    }
    const from = source * width
    for (let j = 0; j < width; j++) target[at + j] += weight * rows.data[from + j]
  }
}

function placeOwnRows(rows: Dense, layout: Layout, { system, firstOutput, firstState, firstDelay }: PlacedBlock): void {
  for (let o = 0; o < system.outputs.length; o++) {
    const at = (firstOutput + o) * rows.columns
    rows.data.set(system.C[o], at + firstState)
    if (system.delays !== null) rows.data.set(system.delays.D12[o], at + layout.stateCount + firstDelay)
  }
}

function isStrict({ system, firstOutput }: PlacedBlock, output: number): boolean {
  return system.D[output - firstOutput].every((entry) => entry === 0)
}

function feedthroughSources(
  { system, firstInput }: PlacedBlock,
  output: number,
  drives: Layout['drives'],
  outputCount: number,
): number[] {
  const sources: number[] = []
  const row = system.D[output]
  for (let i = 0; i < row.length; i++) {
    if (row[i] === 0) continue
    for (const { source } of drives[firstInput + i]) if (source < outputCount) sources.push(source)
  }
  return sources
}

/** Solves (I − M) Y = R for the outputs of one loop, or adds up R where there is no loop. */
function closeComponent(
  scope: Scope,
  layout: Layout,
  rows: Dense,
  owner: readonly PlacedBlock[],
  component: readonly number[],
): void {
  const size = component.length
  const { columns } = rows
  const M = zeros(size, size)
  component.forEach((output, p) => {
    const { system, firstInput, firstOutput } = owner[output]
    const feedthrough = system.D[output - firstOutput]
    for (let i = 0; i < feedthrough.length; i++) {
      if (feedthrough[i] === 0) continue
      const outside: Term[] = []
      for (const term of layout.drives[firstInput + i]) {
        const inside = component.indexOf(term.source)
        if (inside < 0) outside.push(term)
        else M.data[p * size + inside] += term.sign * feedthrough[i]
      }
      addSignal(rows.data, output * columns, feedthrough[i], outside, layout, rows)
    }
  })
  if (M.data.every((entry) => entry === 0)) return
  const R = zeros(size, columns)
  component.forEach((output, p) => {
    R.data.set(rows.data.subarray(output * columns, (output + 1) * columns), p * columns)
  })
  const Y = solveLoop(scope, M, R, () => [...new Set(component.map((output) => owner[output].name))].reverse())
  component.forEach((output, p) => {
    rows.data.set(Y.data.subarray(p * columns, (p + 1) * columns), output * columns)
  })
}

function solveLoop(scope: Scope, M: Dense, R: Dense, blocks: () => string[]): Dense {
  const size = M.rows
  const matrix = zeros(size, size)
  // What the entries of I − M can be wrong by is set by 1 + |M|, even where the difference is small.
  const entrySizes = zeros(size, size)
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < size; j++) {
      const entry = M.data[i * size + j]
      const one = i === j ? 1 : 0
      matrix.data[i * size + j] = one - entry
      entrySizes.data[i * size + j] = one + Math.abs(entry)
    }
  }
  const factors = luFactors(matrix)
  const condition = scaledReciprocalCondition(factors, entrySizes, leastReciprocalCondition)
  const Y = condition < leastReciprocalCondition ? null : solve(matrix, R, factors)
  if (Y !== null) return Y
  return fail(
    'algebraic-loop',
    within(scope, 'wires'),
    `closes an ill-posed algebraic loop through ${blocks().join(', ')}: its scaled reciprocal condition is ${condition.toExponential(1)}`,
    { value: condition, allowed: `a scaled reciprocal condition of at least ${leastReciprocalCondition}` },
  )
}
