import { readFileSync } from 'node:fs'
import { expect } from 'vitest'
import {
  connect,
  frequencyResponse,
  poles,
  type StateSpace,
  stateSpace,
  transferFunction,
} from '../../src/systems/index.js'

// Source of every expected value and of every tolerance: test/reference/data/systems.json, and systems-twins.json beside it for
// other numbers. The values were computed there with 50 to 150 digits from exactly these inputs.
export type Complex = readonly [number, number]
export interface Tolerance {
  readonly rel?: number
  readonly abs?: number
}
export interface Case<I, E> {
  readonly id: string
  readonly title: string
  readonly tolerance: Tolerance & { readonly per_field?: Record<string, Tolerance> }
  readonly input: I
  readonly expected: E
}
export interface Coefficients {
  readonly num: number[]
  readonly den: number[]
}
export interface Matrices {
  readonly A: number[][]
  readonly B: number[][]
  readonly C: number[][]
  readonly D: number[][]
}
interface Twin {
  /** The first letters of the id of its case */
  readonly twin: string
  readonly title: string
  readonly input: unknown
  readonly expected: unknown
}
const load = <T>(file: string) => JSON.parse(readFileSync(new URL(`./data/${file}`, import.meta.url), 'utf8')) as T
const cases = load<Case<unknown, unknown>[]>('systems.json')
const twins = load<Twin[]>('systems-twins.json')

/** A case, and the same with other numbers at the same tolerances. */
export function casesOf<I, E>(id: string): Case<I, E>[] {
  const first = cases.find((one) => one.id === id)
  if (first === undefined) throw new Error(`no case ${id}`)
  const others = twins.filter(({ twin }) => id.startsWith(twin)).map((twin) => ({ ...first, ...twin }))
  if (others.length === 0) throw new Error(`no twin of ${id}`)
  return [first, ...others] as Case<I, E>[]
}

export type Link = [number, number, number]

/** Point masses joined by springs and dampers [p, q, value], −1 the ground; forces in, displacements or accelerations out. */
export function massChain(
  mass: number[],
  springs: Link[],
  dampers: Link[],
  inputs: number[],
  outputs: readonly (readonly ['x' | 'a', number])[],
): StateSpace {
  const n = mass.length
  const A = Array.from({ length: 2 * n }, (_, i) =>
    Array.from({ length: 2 * n }, (_, j) => (i < n && j === n + i ? 1 : 0)),
  )
  const add = (links: Link[], column: number) => {
    for (const [p, q, value] of links) {
      for (const [at, from] of [
        [p, q],
        [q, p],
      ]) {
        if (at < 0) continue
        A[n + at][column + at] -= value / mass[at]
        if (from >= 0) A[n + at][column + from] += value / mass[at]
      }
    }
  }
  add(springs, 0)
  add(dampers, n)
  const B = A.map((_, i) => inputs.map((point) => (i === n + point ? 1 / mass[point] : 0)))
  const C = outputs.map(([kind, point]) => (kind === 'a' ? [...A[n + point]] : A.map((_, j) => (j === point ? 1 : 0))))
  const D = outputs.map(([kind, point]) => inputs.map((at) => (kind === 'a' && at === point ? 1 / mass[point] : 0)))
  return stateSpace({ A, B, C, D })
}

export function polynomials({ num, den }: Coefficients): StateSpace {
  return transferFunction({ numerator: num, denominator: den })
}

/** y = L (u − y) */
export function unitFeedback(loop: StateSpace): StateSpace {
  return connect({
    blocks: { loop },
    inputs: ['u'],
    outputs: { y: `loop.${loop.outputs[0]}` },
    wires: { [`loop.${loop.inputs[0]}`]: ['u', `-loop.${loop.outputs[0]}`] },
  })
}

export function responseAt(system: StateSpace, omega: readonly number[]): Complex[] {
  const { re, im } = frequencyResponse(
    system,
    omega.map((w) => w / (2 * Math.PI)),
  )
  return omega.map((_, k) => [re[k], im[k]])
}

export function allowed({ rel = 0, abs = 0 }: Tolerance, size: number): number {
  return abs + rel * size
}

export function expectReals(
  found: readonly (number | null)[],
  expected: readonly number[],
  tolerance: Tolerance,
): void {
  expect(found.length).toBe(expected.length)
  expected.forEach((value, k) => {
    expect(found[k]).toBeTypeOf('number')
    expect(Math.abs((found[k] as number) - value)).toBeLessThanOrEqual(allowed(tolerance, Math.abs(value)))
  })
}

export function expectComplex(found: readonly Complex[], expected: readonly Complex[], tolerance: Tolerance): void {
  expect(found.length).toBe(expected.length)
  expected.forEach(([re, im], k) => {
    const distance = Math.hypot(found[k][0] - re, found[k][1] - im)
    expect(distance).toBeLessThanOrEqual(allowed(tolerance, Math.hypot(re, im)))
  })
}

export function expectPoles(system: StateSpace, expected: readonly Complex[], tolerance: Tolerance): void {
  expectSet(poles(system), expected, tolerance)
}

/** Roots as a set with multiplicity: each expected one against the nearest that is left. */
export function expectSet(
  found: readonly { re: number; im: number }[],
  expected: readonly Complex[],
  tolerance: Tolerance,
): void {
  const left = [...found]
  expect(left.length).toBe(expected.length)
  for (const [re, im] of expected) {
    const distances = left.map((root) => Math.hypot(root.re - re, root.im - im))
    const nearest = Math.min(...distances)
    expect(nearest).toBeLessThanOrEqual(allowed(tolerance, Math.hypot(re, im)))
    left.splice(distances.indexOf(nearest), 1)
  }
}
