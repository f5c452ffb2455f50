import { describe, expect, it } from 'vitest'
import { type IsolationModel, isolation } from '../../../src/isolation/index.js'
import type { Wire } from '../../../src/systems/diagram.js'
import type { StateSpace } from '../../../src/systems/types.js'
import { fullModels } from './full-models.js'

const rows = (title: string, lines: readonly string[]) => [`${title}:`, ...lines.map((line) => `  ${line}`)]

const wires = (all: Readonly<Record<string, Wire>>) =>
  Object.entries(all).map(([to, from]) => `${to} = ${[from].flat().join(', ') || 'nothing'}`)

/** Six digits of each entry, a dot for what is 0 but for rounding; no line for a matrix of zeros. */
function matrix(name: string, values: readonly (readonly number[])[]): string[] {
  const largest = Math.max(0, ...values.flat().map(Math.abs))
  const entry = (value: number) => (Math.abs(value) <= 1e-12 * largest ? '.' : `${Number(value.toPrecision(6))}`)
  return largest === 0 ? [] : values.map((row, i) => `${i === 0 ? name : ' '} ${row.map(entry).join('  ')}`)
}

function blockLines(block: StateSpace): string[] {
  return [
    `${block.inputs.join(', ')} → ${block.outputs.join(', ')}`,
    ...(block.states.length === 0 ? [] : [`states ${block.states.join(', ')}`]),
    ...(block.delays === null
      ? []
      : [`delays ${block.delays.seconds.map((value) => Number(value.toPrecision(6))).join(', ')} s`]),
    ...matrix('A', block.A),
    ...matrix('B', block.B),
    ...matrix('C', block.C),
    ...matrix('D', block.D),
  ]
}

/** Everything a model is put together from, matrices to six digits. */
function anatomy({ concept, diagram, loops, noiseSources, limits }: IsolationModel): string {
  return `${[
    `concept: ${concept}`,
    ...rows('inputs', diagram.inputs),
    ...rows('outputs', wires(diagram.outputs)),
    ...Object.entries(diagram.blocks).flatMap(([name, block]) =>
      rows(`block ${name}${block.role === undefined ? '' : `, ${block.role}`}`, blockLines(block as StateSpace)),
    ),
    ...rows('wires', wires(diagram.wires)),
    ...rows(
      'loops',
      loops.map(({ name, port }) => `${name} at ${port}`),
    ),
    ...rows(
      'noise',
      noiseSources.map(({ input, unit, noise }) => `${input} [${unit}] ${noise === null ? 'unknown' : 'known'}`),
    ),
    ...rows(
      'limits',
      limits.map(
        ({ name, output, of, value, unit }) => `${name}: ${of ?? 'value'} of ${output} at most ${value} ${unit}`,
      ),
    ),
  ].join('\n')}\n`
}

// What a model is made of is part of what a version promises: users swap blocks, open loops and read ports by these names. The
// numbers in full-models.ts are so round that the balance of forces of each body can be followed here entry by entry.
describe('the anatomy of', () => {
  it.each(fullModels)('%s', async (what, options) => {
    await expect(anatomy(isolation(options))).toMatchFileSnapshot(`anatomy/${what.replaceAll(/[^a-zA-Z]+/g, '-')}.txt`)
  })
})
