import { fail, type Scope } from '../internal/check.js'
import { type Dense, zeros } from '../linear/dense.js'
import type { Diagram } from './diagram.js'
import { type Layout, layOut, type PlacedBlock } from './diagram-layout.js'
import { addSignal, outputRows } from './output-rows.js'
import type { InternalDelays, Matrix, StateSpace } from './types.js'

/** The one closing routine: the system that a diagram is, from its external inputs to its external outputs.
 *
 *     x' = A x + B u + Bd w      u = K y + E r       (blocks stacked; K and E from the wires)
 *     y  = C x + D u + D12 w     w(t) = z(t − τ)
 *     z  = Cd x + D21 u + D22 w
 */
export function closeDiagram(scope: Scope, diagram: Diagram): StateSpace {
  const layout = layOut(scope, diagram)
  const Y = outputRows(scope, layout)
  const U = signalRows(layout, layout.drives, Y)
  const X = zeros(layout.stateCount, Y.columns)
  const Z = zeros(layout.delayCount, Y.columns)
  const { stateCount } = layout
  for (const block of layout.blocks) {
    const { system, firstState, firstDelay } = block
    addBlock(X, firstState, system.A, system.B, system.delays?.B, block, layout, U)
    if (system.delays !== null) {
      addBlock(Z, firstDelay, system.delays.C, system.delays.D21, system.delays.D22, block, layout, U)
    }
  }
  const R = signalRows(layout, layout.reads, Y)
  for (const { data } of [X, Z, R]) {
    if (!data.every(Number.isFinite)) fail('not-finite', scope, 'has gains whose product overflows')
  }
  const d = layout.delayCount
  const externals = layout.inputs.length
  return {
    kind: 'StateSpace',
    A: part(X, 0, stateCount),
    B: part(X, stateCount + d, externals),
    C: part(R, 0, stateCount),
    D: part(R, stateCount + d, externals),
    inputs: layout.inputs,
    outputs: layout.outputs,
    states: stateNames(layout.blocks),
    delays: d === 0 ? null : delaysOf(layout, X, R, Z),
  }
}

function signalRows(layout: Layout, signals: Layout['drives'], Y: Dense): Dense {
  const rows = zeros(signals.length, Y.columns)
  signals.forEach((terms, i) => {
    addSignal(rows.data, i * Y.columns, 1, terms, layout, Y)
  })
  return rows
}

/** Adds [own | delayed] and the block's inputs through `input` to the rows of one block. */
function addBlock(
  target: Dense,
  firstRow: number,
  own: Matrix,
  input: Matrix,
  delayed: Matrix | undefined,
  { firstState, firstInput, firstDelay }: PlacedBlock,
  { stateCount }: Layout,
  U: Dense,
): void {
  const { columns, data } = target
  for (let i = 0; i < own.length; i++) {
    const at = (firstRow + i) * columns
    for (let j = 0; j < input[i].length; j++) {
      const factor = input[i][j]
      if (factor === 0) continue
      const from = (firstInput + j) * columns
      for (let c = 0; c < columns; c++) data[at + c] += factor * U.data[from + c]
    }
    for (let j = 0; j < own[i].length; j++) data[at + firstState + j] += own[i][j]
    if (delayed === undefined) continue
    for (let j = 0; j < delayed[i].length; j++) data[at + stateCount + firstDelay + j] += delayed[i][j]
  }
}

function delaysOf(
  { blocks, stateCount: n, delayCount: d, inputs }: Layout,
  X: Dense,
  R: Dense,
  Z: Dense,
): InternalDelays {
  return {
    seconds: blocks.flatMap(({ system }) => system.delays?.seconds ?? []),
    B: part(X, n, d),
    C: part(Z, 0, n),
    D12: part(R, n, d),
    D21: part(Z, n + d, inputs.length),
    D22: part(Z, n, d),
  }
}

function part(rows: Dense, from: number, count: number): number[][] {
  const matrix: number[][] = new Array(rows.rows)
  for (let i = 0; i < rows.rows; i++) {
    const row: number[] = new Array(count)
    for (let j = 0; j < count; j++) row[j] = rows.data[i * rows.columns + from + j]
    matrix[i] = row
  }
  return matrix
}

/** `block_state`; where two would be the same, the later one gets a number. */
function stateNames(blocks: readonly PlacedBlock[]): string[] {
  const names = new Set<string>()
  for (const { name, system } of blocks) {
    for (const state of system.states) {
      let unique = `${name}_${state}`
      for (let k = 2; names.has(unique); k++) unique = `${name}_${state}_${k}`
      names.add(unique)
    }
  }
  return [...names]
}
