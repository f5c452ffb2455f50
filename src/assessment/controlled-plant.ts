import { fail, type Scope } from '../internal/check.js'
import type { IsolationModel } from '../isolation/model.js'
import { mapped, substitute } from '../isolation/rewire.js'
import { type Complex, complexTimes } from '../linear/complex.js'
import { responseKernel } from '../linear/response-kernel.js'
import { closeDiagram } from '../systems/close-diagram.js'
import { denseSystem } from '../systems/dense-system.js'
import { ascending } from '../systems/landmarks.js'
import { refinedScan } from '../systems/refined-scan.js'
import { systemSeeds } from '../systems/system-seeds.js'
import { negligible } from './gain-at-margin.js'

/** A model without its controller C at one frequency. Whatever C is, its loop is L = C·loop, and the output over an input
 * direct + commanded · C/(1 + L) · measured. */
export interface PlantPoint {
  /** [rad/s] */
  readonly omega: number
  readonly loop: Complex
  readonly commanded: Complex
  /** By input */
  readonly direct: readonly Complex[]
  readonly measured: readonly Complex[]
}

/** What is to be known of a model without its controller. */
export interface PlantSampling {
  /** Name of the controller's block, one input and one output */
  readonly controller: string
  readonly inputs: readonly string[]
  readonly output: string
  /** Frequencies that must be among the samples [rad/s] */
  readonly places: readonly number[]
  /** A controller of the kind that will be tried, to sample its loop closely enough */
  readonly like: (omega: number) => Complex
}

/** Samples with which a search of hundreds of controllers takes some ten seconds. */
const mostPoints = 200_000

/** Samples that serve every controller, ascending: around all poles, refined until C·loop turns little, and halved once more. */
export function sampledPlant(scope: Scope, { diagram }: IsolationModel, sampling: PlantSampling): PlantPoint[] {
  const { controller, inputs, output, places, like } = sampling
  const { [controller]: block, ...blocks } = diagram.blocks
  const [from, to] = [block.inputs[0], block.outputs[0]].map((port) => `${controller}.${port}`)
  const { [from]: measured, ...wires } = diagram.wires
  const cut = (wire: typeof measured) => substitute(wire, { [to]: ['commanded'] })
  const system = closeDiagram(scope, {
    blocks,
    inputs: [...diagram.inputs, 'commanded'],
    outputs: { [output]: cut(diagram.outputs[output]), measured: cut(measured) },
    wires: mapped(wires, cut),
  })
  const columns = [...inputs, 'commanded'].map((name) => system.inputs.indexOf(name))
  const dense = denseSystem(system, columns)
  const kernel = responseKernel(dense)
  const known = new Map<number, PlantPoint>()
  const at = (omega: number): PlantPoint | null => {
    const value = kernel.at(0, omega)
    if (value === null) return null
    const count = columns.length
    const entry = (k: number): Complex => ({ re: value.re[k], im: value.im[k] })
    const back = entry(2 * count - 1)
    const point: PlantPoint = {
      omega,
      loop: { re: -back.re, im: -back.im },
      commanded: entry(count - 1),
      direct: inputs.map((_, i) => entry(i)),
      measured: inputs.map((_, i) => entry(count + i)),
    }
    known.set(omega, point)
    return point
  }
  const loopAt = (omega: number): Complex | null => {
    const point = at(omega)
    return point === null ? null : complexTimes(like(omega), point.loop)
  }
  const { omega } = refinedScan(
    scope,
    loopAt,
    ascending([...systemSeeds(scope, dense, 0.1, kernel), ...places]),
    negligible,
  )
  for (let k = 1; k < omega.length; k++) at(Math.sqrt(omega[k - 1]) * Math.sqrt(omega[k]))
  if (known.size > mostPoints) {
    const says = `needs more than ${mostPoints} samples of the loop for every controller tried; its delay turns it too often`
    fail('no-convergence', scope, says)
  }
  return [...known.values()].sort((a, b) => a.omega - b.omega)
}

/** a / (1 + b) */
export function overOnePlus(a: Complex, b: Complex): Complex {
  const size = (1 + b.re) ** 2 + b.im ** 2
  return { re: (a.re * (1 + b.re) + a.im * b.im) / size, im: (a.im * (1 + b.re) - a.re * b.im) / size }
}
