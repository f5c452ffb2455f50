import { checkNumber, checkOptions, type Scope, scopeOf } from '../internal/check.js'
import { connect } from '../systems/connect.js'
import type { Diagram, Source, Wire } from '../systems/diagram.js'
import { ascending } from '../systems/landmarks.js'
import { refinedScan } from '../systems/refined-scan.js'
import { scannedResponse } from '../systems/scanned-response.js'
import { sourcesOf, unsigned } from '../systems/wire-sources.js'
import { checkOneAxis } from './check-model.js'
import { intervalsWhere } from './isolation-summary.js'
import type { IsolationModel } from './model.js'

/** Options of {@link activeBand}. */
export interface ActiveBandOptions {
  /** How many times smaller |T| has to be than without the controllers, at least 1 */
  readonly improvement: number
}

/** Frequency intervals in which the controllers make the transmissibility at least `improvement` times smaller.
 *
 * |T| is compared with that of the same hardware with every controller output, feedforward included, held at zero;
 * levelling counts as hardware and stays.
 * @param model - of any concept
 * @param options - see {@link ActiveBandOptions}
 * @returns intervals [from, to] in Hz, ascending, `to` Infinity where the improvement has no end; none without controllers
 * @throws {@link IsolationError} `out-of-range`, `invalid-option`, `unsupported` for six axes, `no-convergence`
 * @source common practice, no source
 * @example
 * import { activeBand, passiveIsolation } from 'restmass'
 * activeBand(passiveIsolation({ payload: { mass: 1 }, mount: { stiffness: 100 } }), { improvement: 2 }) // []
 */
export function activeBand(model: IsolationModel, options: ActiveBandOptions): [number, number][] {
  const scope = scopeOf('activeBand')
  checkOptions(scope, options, ['improvement'])
  const improvement = checkNumber(scope, 'improvement', options.improvement, { atLeast: 1 })
  return activeBandAlong(scope, checkOneAxis(scope, model), '', improvement)
}

/** The same along one axis, named by what its ports end in. */
export function activeBandAlong(
  scope: Scope,
  { diagram, closed }: IsolationModel,
  end: string,
  improvement: number,
): [number, number][] {
  if (!Object.values(diagram.blocks).some(isController)) return []
  const ports = [`floorVelocity${end}`, `payloadVelocity${end}`] as const
  const active = scannedResponse(scope, closed, ...ports)
  const still = scannedResponse(scope, connect(withoutControllers(diagram)), ...ports)
  const ratio = (omega: number) => {
    const a = active.at(omega)
    const b = still.at(omega)
    if (a === null || b === null) return null
    const size = b.re * b.re + b.im * b.im
    return { re: (a.re * b.re + a.im * b.im) / size, im: (a.im * b.re - a.re * b.im) / size }
  }
  const places = ascending([...active.scan.omega, ...still.scan.omega])
  const response = { at: ratio, scan: refinedScan(scope, ratio, places) }
  const level = (re: number, im: number) => Math.log(Math.hypot(re, im) * improvement)
  return intervalsWhere(response, level, (value) => value <= 0)
}

/** The diagram with the outputs of every controller taken as zero. */
export function withoutControllers(diagram: Diagram): Diagram {
  const isOff = (source: Source) => {
    const [block] = unsigned(source).split('.')
    return Object.hasOwn(diagram.blocks, block) && isController(diagram.blocks[block])
  }
  const cleared = (wires: Readonly<Record<string, Wire>>) =>
    Object.fromEntries(
      Object.entries(wires).map(([target, wire]): [string, Wire] => [
        target,
        sourcesOf(wire).filter((source) => !isOff(source)),
      ]),
    )
  return { ...diagram, outputs: cleared(diagram.outputs), wires: cleared(diagram.wires) }
}

function isController(block: { readonly role?: string }): boolean {
  return block.role === 'controller'
}
