import type { Scope } from '../internal/check.js'
import type { ComplexDense } from '../linear/complex-lu.js'
import { hypotenuse } from '../linear/hypotenuse.js'
import { responseKernel } from '../linear/response-kernel.js'
import { connect } from './connect.js'
import { denseSystem } from './dense-system.js'
import { gain } from './gain.js'
import { hInfinityNorm } from './h-infinity-norm.js'
import { highPass } from './high-pass.js'
import { pade } from './pade.js'
import { series } from './series.js'
import { stabilityOf } from './stability.js'
import { bestScales } from './structured-bound.js'
import type { StateSpace } from './types.js'

/** What stands for a delay in a proof: |e^(−jx) − Padé(jx)| ≤ height · |high-pass of order 2 with its corner at x = 11|², for
 * every x = ωτ. The error grows with x as the bound does; a test goes through all of them. One high-pass stands before the error
 * and one behind it, so that neither way to it costs anything where the delay is known well. */
export const delayBound = { padeOrder: 6, corner: 11, height: 2.4 } as const

/** Samples from which scales are chosen where there are delays, beside those in which one entry is largest: any scales prove
 * what they prove, but each costs a search. */
const enough = 40

/** A larger model is not taken through the exact norm, and a search for the scales of more loops and delays takes minutes. */
const [mostStates, mostChannels] = [100, 6]

/** Disk of complex factors that all loops bear at once for certain, each its own, from the sensitivity S between `m` inputs and
 * outputs; null where it cannot be proved.
 *
 * Without delay it is the inverse of ‖D (S − ½) D⁻¹‖∞, with one D for all frequencies, the best at the given ones. A delay is
 * taken as its Padé form and an error that may be anything within its bound, one more channel each: what is stable for all of
 * these is stable for the delay. The disk α is then the largest found that keeps the norm of all channels, those of the loops
 * times α, below 1. */
export function provenDisk(scope: Scope, system: StateSpace, places: readonly number[], alpha: number): number | null {
  const m = system.inputs.length
  const channels = withErrors(system)
  if (system.delays !== null && channels.outputs.length > mostChannels) return null
  if (channels.A.length > mostStates || stabilityOf(scope, channels).verdict !== 'stable') return null
  const centred = {
    ...channels,
    D: channels.D.map((row, i) => row.map((value, j) => (i === j && i < m ? value - 0.5 : value))),
  }
  const kernel = responseKernel(denseSystem(centred))
  const near = [...new Set(system.delays?.seconds)].flatMap((seconds) =>
    Array.from({ length: 15 }, (_, k) => (delayBound.corner * 2 ** (k - 12)) / seconds),
  )
  const all = [...places, ...near].flatMap((omega) => {
    const value = kernel.at(0, omega)
    return value === null ? [] : { ...value, re: value.re.slice(), im: value.im.slice() }
  })
  const samples = system.delays === null ? all : telling(all)
  const rowsFor = (disk: number) => channels.outputs.map((_, i) => (i < m ? disk : 1))
  const scales = bestScales(samples.map((sample) => rowsTimes(sample, rowsFor(alpha))))
  /** Norm with the loops times a disk. */
  const size = (disk: number) => {
    const rows = rowsFor(disk)
    return hInfinityNorm({
      ...centred,
      B: centred.B.map((row) => row.map((value, j) => value / scales[j])),
      C: centred.C.map((row, i) => row.map((value) => value * rows[i] * scales[i])),
      D: centred.D.map((row, i) => row.map((value, j) => (value * rows[i] * scales[i]) / scales[j])),
    }).norm
  }
  if (system.delays === null) return 1 / size(1)
  for (let disk = alpha, tries = 0; tries < 8; tries++) {
    const norm = size(disk)
    if (norm < 1) return disk
    disk /= tries < 4 ? 1.001 * norm : 1.5 * norm
  }
  return null
}

/** A system with its delays, if any, as Padé forms, and behind its ports one channel per delay for the error of that form. */
function withErrors(system: StateSpace): StateSpace {
  const { delays } = system
  if (delays === null) return system
  const [errors, bounded] = ['error', 'bounded'].map((name) => delays.seconds.map((_, k) => `${name}${k}`))
  const open = pade(
    {
      ...system,
      B: system.A.map((_, i) => [...system.B[i], ...delays.B[i]]),
      C: [...system.C, ...delays.C],
      D: [
        ...system.D.map((row, i) => [...row, ...delays.D12[i]]),
        ...delays.D21.map((row, k) => [...row, ...delays.D22[k]]),
      ],
      inputs: [...system.inputs, ...errors],
      outputs: [...system.outputs, ...bounded],
      delays: {
        ...delays,
        D12: [...delays.D12, ...delays.D22],
        D21: delays.D21.map((row, k) => [...row, ...delays.D22[k]]),
      },
    },
    { order: delayBound.padeOrder },
  )
  const weight = (seconds: number) =>
    series(
      gain(Math.sqrt(delayBound.height)),
      highPass({ cutoff: delayBound.corner / (2 * Math.PI * seconds), order: 2 }),
    )
  const around = (name: string) => delays.seconds.map((seconds, k) => [`${name}${k}`, weight(seconds)])
  return connect({
    blocks: { open, ...Object.fromEntries([...around('before'), ...around('behind')]) },
    inputs: open.inputs,
    outputs: Object.fromEntries([
      ...system.outputs.map((name) => [name, `open.${name}`]),
      ...bounded.map((name, k) => [name, `before${k}.y1`]),
    ]),
    wires: Object.fromEntries([
      ...system.inputs.map((name) => [`open.${name}`, name]),
      ...errors.flatMap((name, k) => [
        [`behind${k}.u1`, name],
        [`open.${name}`, `behind${k}.y1`],
      ]),
      ...bounded.map((name, k) => [`before${k}.u1`, `open.${name}`]),
    ]),
  })
}

function telling(samples: readonly ComplexDense[]): ComplexDense[] {
  const stride = Math.ceil(samples.length / enough)
  const chosen = new Set(samples.filter((_, k) => k % stride === 0))
  for (let entry = 0; entry < samples[0].re.length; entry++) {
    const modulus = ({ re, im }: ComplexDense) => hypotenuse(re[entry], im[entry])
    chosen.add(samples.reduce((a, b) => (modulus(b) > modulus(a) ? b : a)))
  }
  return [...chosen]
}

function rowsTimes(sample: ComplexDense, factors: readonly number[]): ComplexDense {
  const times = (values: Float64Array) => values.map((value, k) => value * factors[Math.floor(k / sample.columns)])
  return { ...sample, re: times(sample.re), im: times(sample.im) }
}
