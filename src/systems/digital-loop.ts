import {
  checkNumber,
  checkOneOf,
  checkOptional,
  checkOptions,
  fail,
  listed,
  type Scope,
  scopeOf,
  show,
  within,
} from '../internal/check.js'
import { multiply, rowsOf, sum } from '../linear/dense.js'
import { checkDiscreteSystem } from './check.js'
import { continuousForm } from './dense-system.js'
import type { Diagram } from './diagram.js'
import { type DiscretizationMethod, discretize, heldStep } from './discretize.js'
import { gain } from './gain.js'
import { openLoop } from './open-loop.js'
import { refuseDelays } from './poles.js'
import { replaceBlock } from './replace-block.js'
import { series } from './series.js'
import type { Block, DiscreteStateSpace, StateSpace } from './types.js'

/** How a digital controller runs. */
export interface DigitalControllerOptions {
  /** Name of the block that is the controller; one input, one output */
  readonly controller: string
  /** How it is made discrete. @defaultValue 'bilinear' */
  readonly method?: DiscretizationMethod
  /** Frequency at which the bilinear map is exact [Hz]. @defaultValue 0 Hz */
  readonly prewarp?: number
  /** From sampling its input to setting its output [s], at least 0, at most 100 samples. @defaultValue 0 */
  readonly computingDelay?: number
}

/** Options of {@link digitalLoop}. */
export interface DigitalLoopOptions extends DigitalControllerOptions {
  /** [s], above 0; that of `digital` where it is given */
  readonly sampleTime?: number
  /** The controller as it runs, such as quantized sections. @defaultValue the block made discrete */
  readonly digital?: DiscreteStateSpace
}

/** The loop of a controller that runs on a computer: sampled, computed, held.
 *
 * Everything else stays continuous and is taken exactly: its output is sampled, its input is held from one update to the
 * next, computingDelay late (modified z-transform). `margins` reads the loop up to half the sample rate. Signals above that
 * fold back; the anti-alias filter belongs into the diagram.
 * @param diagram - without delays; the dead time of the computer is `computingDelay`
 * @param options - see {@link DigitalLoopOptions}
 * @returns the loop L in 1/(1 + L), broken at the controller, discrete
 * @throws {@link IsolationError} `unknown-port`, `dimension-mismatch`, `unsupported` with delays in the diagram, and those
 * of `discretize` and `openLoop`
 * @source G. F. Franklin, J. D. Powell, M. L. Workman, Digital Control of Dynamic Systems, 3rd edition 1998, section 4.3
 * @example
 * import { diagram, digitalLoop, gain, integrator, margins } from 'restmass'
 * const wires = { 'plant.u1': '-controller.y1', 'controller.u1': 'plant.y1' } as const
 * const loop = diagram({ blocks: { plant: integrator(), controller: gain(50) }, inputs: [], outputs: {}, wires })
 * const L = digitalLoop(loop, { controller: 'controller', sampleTime: 0.01, computingDelay: 0.005 })
 * margins(L).gainMargin // 4.000
 */
export function digitalLoop(diagram: Diagram, options: DigitalLoopOptions): DiscreteStateSpace<'injected', 'returned'> {
  const scope = scopeOf('digitalLoop')
  checkOptions(scope, options, ['controller', 'method', 'prewarp', 'computingDelay', 'sampleTime', 'digital'])
  const block = controllerBlock(scope, diagram, options.controller)
  const controller = digitalController(scope, block, options)
  const { sampleTime } = controller
  const late = checkOptional(
    scope,
    'computingDelay',
    options.computingDelay,
    { unit: 's', atLeast: 0, atMost: 100 * sampleTime },
    0,
  )
  const straight = replaceBlock(diagram, options.controller, gain(1, { inputs: block.inputs, outputs: block.outputs }))
  const plant = openLoop(straight as Diagram, `${options.controller}.${block.outputs[0]}`)
  refuseDelays(scope, plant)
  const both = series(continuousForm(sampledPlant(scope, plant, sampleTime, late)), continuousForm(controller))
  const { delays: _, role: __, ...matrices } = both
  return { ...matrices, kind: 'DiscreteStateSpace', inputs: ['injected'], outputs: ['returned'], sampleTime }
}

function controllerBlock(scope: Scope, diagram: Diagram, name: string): Block {
  const blocks = diagram?.blocks ?? {}
  if (typeof name !== 'string' || !Object.hasOwn(blocks, name)) {
    fail('unknown-port', within(scope, 'controller'), `is ${show(name)}; blocks are ${listed(Object.keys(blocks))}`)
  }
  const block = blocks[name]
  const isBlock = Array.isArray(block?.inputs) && Array.isArray(block.outputs)
  if (!isBlock) fail('invalid-option', within(scope, `blocks.${name}`), `must be a system, got ${show(block)}`)
  if (block.inputs.length === 1 && block.outputs.length === 1) return block
  const counts = `${block.inputs.length} and ${block.outputs.length}`
  return fail('dimension-mismatch', within(scope, 'controller'), `must have one input and one output, got ${counts}`)
}

function digitalController(scope: Scope, block: Block, options: DigitalLoopOptions): DiscreteStateSpace {
  const { digital } = options
  if (digital === undefined) {
    const sampleTime = checkNumber(scope, 'sampleTime', options.sampleTime, { unit: 's', above: 0 })
    const methods = ['bilinear', 'zero-order-hold', 'first-order-hold'] as const
    const method = checkOneOf(scope, 'method', options.method ?? 'bilinear', methods)
    return discretize(block, {
      sampleTime,
      method,
      ...(options.prewarp === undefined ? {} : { prewarp: options.prewarp }),
    })
  }
  for (const key of ['sampleTime', 'method', 'prewarp'] as const) {
    if (options[key] !== undefined) fail('invalid-option', within(scope, key), 'does not apply where digital is given')
  }
  const at = within(scope, 'digital')
  checkDiscreteSystem(at, digital)
  if (digital.inputs.length === 1 && digital.outputs.length === 1) return digital
  return fail('dimension-mismatch', at, 'must have one input and one output')
}

/** Held input, `late` seconds late: x[k+1] = Φ x + Γ₁ u[k−d−1] + Γ₀ u[k−d]; earlier inputs are further states. */
function sampledPlant(scope: Scope, plant: StateSpace, sampleTime: number, late: number): DiscreteStateSpace {
  const samples = late / sampleTime
  const near = Math.round(samples)
  const whole = Math.abs(samples - near) < 1e-9 ? near : Math.floor(samples)
  const part = whole === near && Math.abs(samples - near) < 1e-9 ? 0 : late - whole * sampleTime
  const first = heldStep(scope, plant, part > 0 ? part : sampleTime)
  const second = part > 0 ? heldStep(scope, plant, sampleTime - part) : null
  const held = sum(first.now, first.next)
  const A = rowsOf(second === null ? first.A : multiply(second.A, first.A))
  const now = rowsOf(second === null ? held : sum(second.now, second.next))
  const old = second === null ? null : rowsOf(multiply(second.A, held))
  const memory = whole + (old === null ? 0 : 1)
  // Column of the input of j samples ago: 0 is the input itself, else a state.
  const column = (j: number, value: number) => Array.from({ length: memory }, (_, i) => (i + 1 === j ? value : 0))
  const add = (a: readonly number[], b: readonly number[]) => a.map((value, i) => value + b[i])
  const D = plant.D[0][0]
  const n = plant.A.length
  return {
    kind: 'DiscreteStateSpace',
    A: [
      ...A.map((row, i) => [...row, ...add(column(whole, now[i][0]), column(whole + 1, old === null ? 0 : old[i][0]))]),
      ...Array.from({ length: memory }, (_, i) => [...new Array<number>(n).fill(0), ...column(i, 1)]),
    ],
    B: [
      ...now.map(([value]) => [whole === 0 ? value : 0]),
      ...Array.from({ length: memory }, (_, i) => [i === 0 ? 1 : 0]),
    ],
    C: [[...plant.C[0], ...column(memory, D)]],
    D: [[memory === 0 ? D : 0]],
    inputs: ['injected'],
    outputs: ['returned'],
    states: Array.from({ length: n + memory }, (_, i) => `x${i + 1}`),
    sampleTime,
  }
}
