import { checkOneOf, checkOptions, fail, listed, type Scope, show, within } from '../internal/check.js'
import { blockSystem } from './block.js'
import { checkName, checkNames } from './check.js'
import type { Wire } from './port-names.js'
import type { Block, StateSpace } from './types.js'

/** One summand of a signal: a block output by its number, or an external input behind all of them. */
export interface Term {
  readonly source: number
  readonly sign: 1 | -1
}

/** One block with the numbers of its first input, output, state and delay. */
export interface PlacedBlock {
  readonly name: string
  readonly system: StateSpace
  readonly firstInput: number
  readonly firstOutput: number
  readonly firstState: number
  readonly firstDelay: number
}

/** A checked diagram with every port numbered. */
export interface Layout {
  readonly blocks: readonly PlacedBlock[]
  /** Counts over all blocks. */
  readonly inputCount: number
  readonly outputCount: number
  readonly stateCount: number
  readonly delayCount: number
  /** Names of the external inputs and outputs. */
  readonly inputs: readonly string[]
  readonly outputs: readonly string[]
  /** What drives each block input. */
  readonly drives: readonly (readonly Term[])[]
  /** What each external output reads. */
  readonly reads: readonly (readonly Term[])[]
}

/** What a diagram is before it is checked. */
interface UncheckedDiagram {
  readonly kind?: string
  readonly blocks: object
  readonly inputs: readonly string[]
  readonly outputs: object
  readonly wires: object
}

/** Checks a diagram and numbers its ports. */
export function layOut(scope: Scope, diagram: UncheckedDiagram): Layout {
  checkOptions(scope, diagram, ['kind', 'blocks', 'inputs', 'outputs', 'wires'])
  if (diagram.kind !== undefined) checkOneOf(scope, 'kind', diagram.kind, ['Diagram'])
  for (const key of ['blocks', 'outputs', 'wires'] as const) {
    const value: unknown = diagram[key]
    if (typeof value !== 'object' || value === null || Array.isArray(value)) {
      fail('invalid-option', within(scope, key), `must be a record, got ${show(value)}`)
    }
  }
  const inputs = checkNames(scope, 'inputs', diagram.inputs, diagram.inputs?.length ?? 0)
  const sources = new Map<string, number>()
  const targets = new Map<string, number>()
  const blocks = placeBlocks(scope, diagram.blocks as Readonly<Record<string, unknown>>, sources, targets)
  const outputCount = sources.size
  const last = blocks[blocks.length - 1]
  inputs.forEach((name, i) => {
    sources.set(name, outputCount + i)
  })
  const drives = wireInputs(scope, diagram.wires as Readonly<Record<string, Wire>>, sources, targets)
  const outputs = Object.keys(diagram.outputs)
  const read = diagram.outputs as Readonly<Record<string, Wire>>
  return {
    blocks,
    inputCount: targets.size,
    outputCount,
    stateCount: last === undefined ? 0 : last.firstState + last.system.A.length,
    delayCount: last === undefined ? 0 : last.firstDelay + delayCountOf(last.system),
    inputs,
    outputs,
    drives,
    reads: outputs.map((name) => {
      checkName(scope, 'outputs', name)
      return termsOf(scope, 'outputs', name, read[name], sources)
    }),
  }
}

function placeBlocks(
  scope: Scope,
  blocks: Readonly<Record<string, unknown>>,
  sources: Map<string, number>,
  targets: Map<string, number>,
): PlacedBlock[] {
  let firstState = 0
  let firstDelay = 0
  return Object.keys(blocks).map((name) => {
    checkName(scope, 'blocks', name)
    const system = blockSystem(within(within(scope, 'blocks'), name), blocks[name] as Block)
    const placed = { name, system, firstInput: targets.size, firstOutput: sources.size, firstState, firstDelay }
    for (const input of system.inputs) targets.set(`${name}.${input}`, targets.size)
    for (const output of system.outputs) sources.set(`${name}.${output}`, sources.size)
    firstState += system.A.length
    firstDelay += delayCountOf(system)
    return placed
  })
}

function wireInputs(
  scope: Scope,
  wires: Readonly<Record<string, Wire>>,
  sources: Map<string, number>,
  targets: Map<string, number>,
): Term[][] {
  const drives: Term[][] = new Array(targets.size)
  for (const key of Object.keys(wires)) {
    const target = targets.get(key)
    if (target === undefined) {
      unknownPort(scope, `wires.${key}`, key, `no block input "${key}"; block inputs are ${listed(targets.keys())}`)
    }
    drives[target] = termsOf(scope, 'wires', key, wires[key], sources)
  }
  for (const [key, target] of targets) {
    if (drives[target] === undefined) {
      fail(
        'unconnected-port',
        within(within(scope, 'wires'), key),
        'is missing: every block input needs a wire, or null',
      )
    }
  }
  return drives
}

function termsOf(scope: Scope, record: string, key: string, wire: unknown, sources: Map<string, number>): Term[] {
  if (wire === null) return []
  if (typeof wire === 'string') return [termOf(scope, record, key, wire, sources)]
  if (Array.isArray(wire)) return wire.map((source: unknown) => termOf(scope, record, key, source, sources))
  return fail(
    'invalid-option',
    within(within(scope, record), key),
    `must be a source, a list of sources or null, got ${show(wire)}`,
  )
}

function termOf(scope: Scope, record: string, key: string, source: unknown, sources: Map<string, number>): Term {
  if (typeof source !== 'string') {
    fail('invalid-option', within(within(scope, record), key), `must name its sources, got ${show(source)}`)
  }
  const negative = source.startsWith('-')
  const name = negative ? source.slice(1) : source
  const number = sources.get(name)
  if (number === undefined) unknownSource(scope, `${record}.${key}`, name, sources)
  return { source: number, sign: negative ? -1 : 1 }
}

function unknownSource(scope: Scope, path: string, name: string, sources: Map<string, number>): never {
  const names = [...sources.keys()]
  const outputs = names.filter((key) => key.includes('.'))
  const inputs = names.filter((key) => !key.includes('.'))
  const there = `outputs are ${listed(outputs)}; external inputs are ${listed(inputs)}`
  unknownPort(scope, path, name, `no ${name.includes('.') ? 'output' : 'external input'} "${name}"; ${there}`)
}

/** Refuses a name that does not exist; the message lists the names that do. */
export function unknownPort(scope: Scope, path: string, name: unknown, says: string): never {
  fail('unknown-port', { fn: scope.fn, path: '' }, `${says} (${path})`, {
    path,
    value: typeof name === 'string' ? name : show(name),
    allowed: says.slice(says.indexOf(';') + 2),
  })
}

/** Says that there is no block or port of a name, or what was given in place of a name. */
export function missing(what: string, name: unknown): string {
  return typeof name === 'string' ? `no ${what} "${name}"` : `must tell which ${what}, got ${show(name)}`
}

function delayCountOf(system: StateSpace): number {
  return system.delays === null ? 0 : system.delays.seconds.length
}
