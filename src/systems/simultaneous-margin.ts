import { checkOneOf, checkOptions, fail, must, scopeOf, within } from '../internal/check.js'
import type { ComplexDense } from '../linear/complex-lu.js'
import { responseKernel } from '../linear/response-kernel.js'
import { localMinimum } from '../linear/scalar-search.js'
import { closeDiagram } from './close-diagram.js'
import { denseSystem } from './dense-system.js'
import type { Diagram } from './diagram.js'
import { checkPort } from './open-loop.js'
import type { Blocks, OutputPort, TypedDiagram, Wire } from './port-names.js'
import { provenDisk } from './proven-disk.js'
import { stabilityOf } from './stability.js'
import { structuredBound } from './structured-bound.js'
import { systemSeeds } from './system-seeds.js'
import type { StabilityVerdict, StateSpace } from './types.js'
import { sourcesOf } from './wire-sources.js'

/** What all loops of a system bear at once. */
export interface SimultaneousMargin {
  readonly kind: 'SimultaneousMargin'
  readonly closedLoop: StabilityVerdict
  /** Outputs of the diagram at which the changes act */
  readonly ports: readonly string[]
  /** Size α of the disk of complex factors (1 + δ/2)/(1 − δ/2), |δ| < α, that each loop bears, each its own; at most 2 where
   * the loops roll off. Null for a system that is not stable */
  readonly diskMargin: number | null
  /** Where the disk is smallest [Hz] */
  readonly frequency: number | null
  /** Disk that is certain at every frequency, never larger: by the exact norm, with one scaling of the loops for all frequencies;
   * delays as Padé forms with a bound on their error. Null where that proves nothing, as for a delay in a loop that does not
   * roll off, with delays for more than six of them and loops together, and for more than 100 states, of which each delay takes
   * ten */
  readonly provenDiskMargin: number | null
  /** Any gains up to this factor in all loops at once; null where there is no upper limit */
  readonly gainMargin: number | null
  /** Any gains down to this factor in all loops at once */
  readonly gainReductionMargin: number | null
  /** Any phase changes up to this angle in all loops at once [degrees] */
  readonly phaseMarginDegrees: number | null
  /** Any extra delays up to this in all loops at once [s]; null where none destabilises */
  readonly delayMargin: number | null
}

/** Options of {@link simultaneousMargin}. */
export interface SimultaneousMarginOptions {
  /** Whether a system with delay is proven too, which takes some ten times as long as the rest.
   * @defaultValue 'with-delay' */
  readonly proof?: 'with-delay' | 'without-delay'
}

/** Gain, phase and delay that several loops of a diagram bear at once, each changed in its own way.
 *
 * With S the sensitivity at the ports, α = 1 / max over ω of μ(S − ½), the symmetric disk margin; μ is bounded from above by
 * D (S − ½) D⁻¹ with diagonal D, which is exact for one and two loops. Gains between (2 − α)/(2 + α) and its inverse, or
 * phases within ± 2 atan(α/2), in all loops at once cannot destabilise. The delay bound takes, at each frequency, the better
 * of that disk and of |e^(−jωτ) − 1| < 1/μ(S − 1).
 *
 * `diskMargin` comes from samples at and between the landmarks of the system, the least of them found to 1e-9;
 * `provenDiskMargin`, never larger, holds for every frequency.
 * @param diagram - blocks, external inputs and outputs, wires
 * @param ports - the `'block.output'`s where the loops are changed, at least one, each a different one
 * @param options - see {@link SimultaneousMarginOptions}
 * @returns see {@link SimultaneousMargin}
 * @throws {@link IsolationError} `unknown-port`, `invalid-option`, and whatever `connect` refuses
 * @source P. Seiler, A. Packard, P. Gahinet, IEEE Control Systems 40 (2020) 78 (disk margins); A. Packard, J. Doyle,
 * Automatica 29 (1993) 71 (bounds on μ)
 * @example
 * import { gain, lowPass, simultaneousMargin } from 'restmass'
 * const blocks = { plant: lowPass({ cutoff: 1, order: 2 }), controller: gain(3) }
 * const wires = { 'plant.u1': 'controller.y1', 'controller.u1': ['reference', '-plant.y1'] } as const
 * const loop = { blocks, inputs: ['reference'], outputs: { motion: 'plant.y1' }, wires } as const
 * simultaneousMargin(loop, ['controller.y1', 'plant.y1']).diskMargin // 0.41384
 */
export function simultaneousMargin<B extends Blocks, X extends string, O extends string>(
  diagram: TypedDiagram<B, X, O>,
  ports: readonly NoInfer<OutputPort<B>>[],
  options: SimultaneousMarginOptions = {},
): SimultaneousMargin {
  const scope = scopeOf('simultaneousMargin')
  const { proof = 'with-delay' } = checkOptions(scope, options, ['proof'])
  checkOneOf(scope, 'proof', proof, ['with-delay', 'without-delay'])
  if (!Array.isArray(ports) || ports.length === 0 || new Set(ports).size !== ports.length) {
    fail('invalid-option', within(scope, 'ports'), 'must be a list of different outputs, at least one')
  }
  for (const port of ports) checkPort(scope, diagram, port)
  const system = closeDiagram(scope, disturbed(diagram as Diagram, ports)) as StateSpace
  const { verdict } = stabilityOf(scope, system)
  if (verdict !== 'stable') {
    return {
      kind: 'SimultaneousMargin',
      closedLoop: verdict,
      ports,
      diskMargin: null,
      frequency: null,
      provenDiskMargin: null,
      gainMargin: null,
      gainReductionMargin: null,
      phaseMarginDegrees: null,
      delayMargin: null,
    }
  }
  const dense = denseSystem(system)
  const kernel = responseKernel(dense)
  /** S − shift at ω */
  const at = (omega: number, shift: number): ComplexDense => {
    const says = `has a pole on the axis at ${omega / (2 * Math.PI)} Hz`
    const value = must(kernel.at(0, omega), 'singular', scope, says)
    const re = value.re.slice()
    for (let k = 0; k < ports.length; k++) re[k * ports.length + k] -= shift
    return { ...value, re, im: value.im.slice() }
  }
  const places = halved(halved([0, ...systemSeeds(scope, dense, 0.01, kernel)]))
  const worst = least((omega) => 1 / structuredBound(at(omega, 0.5)), places)
  const alpha = worst.value
  const delay = least((omega) => tolerableDelay(omega, (shift) => structuredBound(at(omega, shift))), places.slice(1))
  return {
    kind: 'SimultaneousMargin',
    closedLoop: verdict,
    ports,
    diskMargin: alpha,
    frequency: worst.x / (2 * Math.PI),
    provenDiskMargin:
      system.delays !== null && proof === 'without-delay' ? null : provenDisk(scope, system, places, alpha),
    gainMargin: alpha < 2 ? (2 + alpha) / (2 - alpha) : null,
    gainReductionMargin: Math.max(0, (2 - alpha) / (2 + alpha)),
    phaseMarginDegrees: (2 * Math.atan(alpha / 2) * 180) / Math.PI,
    delayMargin: delay.value === Number.POSITIVE_INFINITY ? null : delay.value,
  }
}

/** The diagram with an input added to each port, and the sum that the rest of it takes as output: S from one to the other. */
function disturbed({ blocks, wires }: Diagram, ports: readonly string[]): Diagram {
  const sum = (source: string): string[] => {
    const sign = source.startsWith('-') ? '-' : ''
    const place = ports.indexOf(source.slice(sign.length))
    return place < 0 ? [source] : [source, `${sign}change${place}`]
  }
  const changed: Record<string, Wire> = {}
  for (const key of Object.keys(wires)) {
    changed[key] = sourcesOf(wires[key])
      .filter((source) => source.includes('.'))
      .flatMap(sum)
  }
  return {
    blocks,
    inputs: ports.map((_, k) => `change${k}`),
    outputs: Object.fromEntries(ports.map((port, k) => [`taken${k}`, sum(port)])),
    wires: changed,
  }
}

/** The least of f over the places and the local minima between them. */
function least(f: (omega: number) => number, places: readonly number[]): { x: number; value: number } {
  const values = places.map(f)
  let best = { x: places[0], value: values[0] }
  for (let k = 0; k < places.length; k++) {
    if (values[k] < best.value) best = { x: places[k], value: values[k] }
  }
  for (let k = 1; k + 1 < places.length; k++) {
    if (values[k] > values[k - 1] || values[k] > values[k + 1] || values[k] > 1.2 * best.value) continue
    const found = localMinimum(f, places[k - 1], places[k + 1])
    if (found.value < best.value) best = found
  }
  return best
}

/** Extra delay that no loop feels at this frequency, from μ(S − shift). */
function tolerableDelay(omega: number, bound: (shift: number) => number): number {
  const small = 1 / (2 * bound(1))
  if (small > 1) return Number.POSITIVE_INFINITY
  return Math.max(2 * Math.asin(small), 2 * Math.atan(1 / (2 * bound(0.5)))) / omega
}

/** Places with one more between each two of them. */
function halved(places: readonly number[]): number[] {
  return places.flatMap((place, k) => {
    if (k === 0) return [place]
    const before = places[k - 1]
    return [before > 0 ? Math.sqrt(before) * Math.sqrt(place) : place / 2, place]
  })
}
