import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import {
  channel,
  connect,
  delay,
  frequencyResponse,
  gain,
  logFrequencies,
  margins,
  pade,
  parallel,
  phaseDegrees,
  poles,
  type StateSpace,
  series,
  stability,
  stateSpace,
  transferFunction,
} from '../../src/systems/index.js'
import { refusal } from '../unit/refusal.js'

// Source of every expected value and of every tolerance: test/reference/data/systems.json. The values were computed there
// with 50 to 150 digits from exactly these inputs.
type Complex = readonly [number, number]
interface Tolerance {
  readonly rel?: number
  readonly abs?: number
}
interface Case<I, E> {
  readonly id: string
  readonly title: string
  readonly tolerance: Tolerance & { readonly per_field?: Record<string, Tolerance> }
  readonly input: I
  readonly expected: E
}
interface Coefficients {
  readonly num: number[]
  readonly den: number[]
}
interface Matrices {
  readonly A: number[][]
  readonly B: number[][]
  readonly C: number[][]
  readonly D: number[][]
}
const cases = JSON.parse(readFileSync(new URL('./data/systems.json', import.meta.url), 'utf8')) as Case<
  unknown,
  unknown
>[]
const named = <I, E>(id: string): Case<I, E> => {
  const found = cases.find((one) => one.id === id)
  if (found === undefined) throw new Error(`no case ${id}`)
  return found as Case<I, E>
}

describe('four masses in series over eight decades of stiffness and mass', () => {
  const one = named<
    { mass: number[]; stiffness: number[]; damping: number[] },
    { undamped_rad_s: number[]; poles: Complex[]; stable: boolean }
  >('O01-poles-wide-scale')
  const { mass, stiffness, damping } = one.input
  const links = (values: number[]): Link[] => values.map((value, i) => [i - 1, i, value])

  it('has the undamped frequencies', () => {
    const undamped = massChain(mass, links(stiffness), [], [0], [['x', 0]])
    const found = poles(undamped).filter(({ im }) => im > 0)
    expectReals(
      found.map(({ naturalFrequency }) => 2 * Math.PI * naturalFrequency),
      one.expected.undamped_rad_s,
      one.tolerance,
    )
  })

  it('has the poles, and is stable', () => {
    const chain = massChain(mass, links(stiffness), links(damping), [0], [['x', 0]])
    expectPoles(chain, one.expected.poles, one.tolerance)
    expect(stability(chain)).toMatchObject({ verdict: one.expected.stable ? 'stable' : 'unstable', unstablePoles: 0 })
  })
})

describe('poles over eight decades, given as coefficients', () => {
  const one = named<Coefficients & { omega: number[] }, { poles: Complex[]; stable: boolean; G: Complex[] }>(
    'O02-poly-eight-decades',
  )
  const system = polynomials(one.input)

  it('has the poles, and stays stable in state space', () => {
    expectPoles(system, one.expected.poles, one.tolerance)
    expect(stability(system).verdict).toBe(one.expected.stable ? 'stable' : 'unstable')
  })

  it('has the response', () => {
    expectComplex(responseAt(system, one.input.omega), one.expected.G, one.tolerance)
  })
})

describe('a fivefold pole with one eigenvector', () => {
  const one = named<Matrices & { omega: number[] }, { poles: Complex[]; stable: boolean; G: Complex[] }>(
    'O04-repeated-poles',
  )
  const { omega, ...matrices } = one.input
  const system = stateSpace(matrices)

  it('has the poles as far as doubles can tell, and is stable', () => {
    expectPoles(system, one.expected.poles, one.tolerance.per_field?.poles ?? {})
    expect(stability(system).verdict).toBe(one.expected.stable ? 'stable' : 'unstable')
  })

  it('has the response', () => {
    expectComplex(responseAt(system, omega), one.expected.G, one.tolerance)
  })
})

describe('a loop with delay and three gain crossovers', () => {
  const one = named<
    { block1: Coefficients; block2: Coefficients; delay: number; omega_max: number },
    {
      gain_crossovers: number[]
      phase_margins_deg: number[]
      phase_crossovers: number[]
      gain_margins: number[]
      modulus_margin: number
      modulus_margin_omega: number
      closed_loop_stable: boolean
      rhp_closed_loop_poles: number
      delay_margin: number
    }
  >('O07-delay-crossovers')
  const { input, expected, tolerance } = one
  const loop = series(
    parallel(polynomials(input.block1), polynomials(input.block2)),
    delay({ seconds: input.delay, input: 'y1', output: 'y1' }),
  )
  const found = margins(loop)

  it('has every gain crossover with its phase margin', () => {
    expectReals(
      found.gainCrossovers.map(({ frequency }) => 2 * Math.PI * frequency),
      expected.gain_crossovers,
      tolerance,
    )
    expectReals(
      found.gainCrossovers.map(({ phaseMarginDegrees }) => phaseMarginDegrees),
      expected.phase_margins_deg,
      tolerance.per_field?.phase_margins_deg ?? {},
    )
  })

  it('has every phase crossover with its gain margin', () => {
    const within = found.phaseCrossovers.filter(({ frequency }) => 2 * Math.PI * frequency <= input.omega_max)
    expectReals(
      within.map(({ frequency }) => 2 * Math.PI * frequency),
      expected.phase_crossovers,
      tolerance,
    )
    expectReals(
      within.map(({ gainMargin }) => gainMargin),
      expected.gain_margins,
      tolerance,
    )
  })

  it('has the modulus margin, and the delay margin of the right crossover', () => {
    expectReals([found.modulusMargin], [expected.modulus_margin], tolerance)
    expectReals([2 * Math.PI * found.modulusMarginFrequency], [expected.modulus_margin_omega], tolerance)
    expectReals([found.delayMargin], [expected.delay_margin], tolerance)
  })

  it('is stable when closed', () => {
    expect(found.closedLoop === 'stable').toBe(expected.closed_loop_stable)
    expect(stability(unitFeedback(loop)).unstablePoles).toBe(expected.rhp_closed_loop_poles)
  })
})

describe('a loop exactly at the stability limit', () => {
  const one = named<
    Coefficients,
    {
      classification: string
      poles: Complex[]
      gain_margin: number
      gain_margin_omega: number
      phase_margin_deg: number
    }
  >('O08-marginal-loop')
  const { expected, tolerance } = one
  const loop = polynomials(one.input)

  it('closes to poles on the axis, and says so', () => {
    const closed = unitFeedback(loop)
    expect(stability(closed).verdict).toBe(expected.classification)
    expectPoles(closed, expected.poles, tolerance)
  })

  it('meets −1: both crossovers at one place, and no overall margin to report', () => {
    const found = margins(loop)
    expect(found).toMatchObject({ closedLoop: expected.classification, gainMargin: null, phaseMarginDegrees: null })
    expect([found.gainCrossovers.length, found.phaseCrossovers.length]).toEqual([1, 1])
    const [phase, level] = [found.phaseCrossovers[0], found.gainCrossovers[0]]
    expectReals([phase.gainMargin], [expected.gain_margin], tolerance)
    expectReals([2 * Math.PI * phase.frequency], [expected.gain_margin_omega], tolerance)
    expectReals([2 * Math.PI * level.frequency], [expected.gain_margin_omega], tolerance)
    expectReals(
      [level.phaseMarginDegrees],
      [expected.phase_margin_deg],
      tolerance.per_field?.phase_margin_deg ?? tolerance,
    )
  })
})

describe('a loop that is unstable when closed', () => {
  const one = named<
    Coefficients,
    {
      closed_loop_stable: boolean
      rhp_closed_loop_poles: number
      closed_loop_poles: Complex[]
      gain_crossovers: number[]
      phase_margins_deg: number[]
      phase_crossovers: number[]
      gain_margins: number[]
    }
  >('O09-unstable-loop')
  const { expected, tolerance } = one
  const loop = polynomials(one.input)

  it('is counted', () => {
    const closed = unitFeedback(loop)
    expectPoles(closed, expected.closed_loop_poles, tolerance)
    expect(stability(closed)).toMatchObject({
      verdict: expected.closed_loop_stable ? 'stable' : 'unstable',
      unstablePoles: expected.rhp_closed_loop_poles,
    })
  })

  it('still lists its crossovers, the phase margin with its sign', () => {
    const found = margins(loop)
    expect(found).toMatchObject({
      closedLoop: 'unstable',
      gainMargin: null,
      gainReductionMargin: null,
      phaseMarginDegrees: null,
      delayMargin: null,
    })
    const rate = ({ frequency }: { frequency: number }) => 2 * Math.PI * frequency
    expectReals(found.gainCrossovers.map(rate), expected.gain_crossovers, tolerance)
    expectReals(
      found.gainCrossovers.map(({ phaseMarginDegrees }) => phaseMarginDegrees),
      expected.phase_margins_deg,
      tolerance.per_field?.phase_margins_deg ?? tolerance,
    )
    expectReals(found.phaseCrossovers.map(rate), expected.phase_crossovers, tolerance)
    expectReals(
      found.phaseCrossovers.map(({ gainMargin }) => gainMargin),
      expected.gain_margins,
      tolerance,
    )
  })
})

describe('feedback of two blocks with feedthrough', () => {
  interface Block {
    A: number
    B: number
    C: number
    D: number
  }
  interface Closed {
    poles: Complex[]
    D: number
    stable: boolean
    G: Complex[]
  }
  const one = named<{ G: Block; H: Block; omega: number[] }, { negative: Closed; positive: Closed }>('O10-feedthrough')
  const block = ({ A, B, C, D }: Block) => stateSpace({ A: [[A]], B: [[B]], C: [[C]], D: [[D]] })
  const blocks = { forward: block(one.input.G), back: block(one.input.H) }
  const closed = (sign: '' | '-') =>
    connect({
      blocks,
      inputs: ['u'],
      outputs: { y: 'forward.y1' },
      wires: { 'forward.u1': ['u', `${sign}back.y1`], 'back.u1': 'forward.y1' },
    })

  it.each([
    ['negative', '-'],
    ['positive', ''],
  ] as const)('%s', (name, sign) => {
    const system = closed(sign)
    const expected = one.expected[name]
    expectPoles(system, expected.poles, one.tolerance)
    expectReals([system.D[0][0]], [expected.D], one.tolerance)
    expect(stability(system).verdict === 'stable').toBe(expected.stable)
    expectComplex(responseAt(system, one.input.omega), expected.G, one.tolerance)
  })
})

describe('thirty masses, six forces in and six motions out', () => {
  const one = named<
    {
      mass: number[]
      springs: Link[]
      dampers: Link[]
      inputs: number[]
      outputs: ['x' | 'a', number][]
      omega: number[]
    },
    { G: Complex[][][] }
  >('O11-mimo-60-states')
  const { mass, springs, dampers, inputs, outputs, omega } = one.input

  it('has the response in every channel, relative to the largest of its output', () => {
    const system = massChain(mass, springs, dampers, inputs, outputs)
    const n = omega.length
    const { re, im } = frequencyResponse(
      system,
      omega.map((w) => w / (2 * Math.PI)),
    )
    let worst = 0
    omega.forEach((_, k) => {
      outputs.forEach((_, o) => {
        const row = one.expected.G[k][o]
        const largest = Math.max(...row.map(([a, b]) => Math.hypot(a, b)))
        row.forEach(([a, b], i) => {
          const p = (o * inputs.length + i) * n + k
          worst = Math.max(worst, Math.hypot(re[p] - a, im[p] - b) / largest)
        })
      })
    })
    expect(worst).toBeLessThan(one.tolerance.rel ?? 0)
  })
})

describe('a frequency exactly on an undamped resonance', () => {
  const one = named<
    Matrices & { omega: number; omega_near: number },
    { G_at_omega: (Complex | 'Infinity')[][]; G11_near: Complex; classification: string }
  >('O12-on-resonance')
  const { omega, omega_near, ...matrices } = one.input
  const system = stateSpace(matrices)

  it('is refused in the one channel that has the pole, and answered in all others', () => {
    one.expected.G_at_omega.forEach((row, o) => {
      row.forEach((expected, i) => {
        const wanted = { inputs: [system.inputs[i]], outputs: [system.outputs[o]] }
        const ask = () => frequencyResponse(system, [omega / (2 * Math.PI)], wanted)
        if (expected === 'Infinity') {
          expect(refusal(ask)).toMatchObject({ code: 'singular', details: { path: 'frequencies', unit: 'Hz' } })
        } else {
          const { re, im } = ask()
          // Zero channels are exactly zero: nothing connects them.
          expectComplex([[re[0], im[0]]], [expected], one.tolerance)
        }
      })
    })
    expect(refusal(() => frequencyResponse(system, [omega / (2 * Math.PI)])).code).toBe('singular')
  })

  it('is a number right beside it', () => {
    const near = { inputs: ['u1'], outputs: ['y1'] }
    const { re, im } = frequencyResponse(system, [omega_near / (2 * Math.PI)], near)
    expectComplex([[re[0], im[0]]], [one.expected.G11_near], one.tolerance.per_field?.G11_near ?? {})
  })

  it('is marginal', () => {
    expect(stability(system).verdict).toBe(one.expected.classification)
  })
})

describe('well-posedness of algebraic loops', () => {
  const one = named<
    { n: number; a: number; b: number; d2: number; omega: number[]; D1: number[][]; D2: number[][]; D2b: number[][] },
    { loop1: { G_diag: Complex[]; pole: number }; loop3: { closed_D: number[][] } }
  >('O13-well-posedness')
  const { n, a, b, d2, omega, D1, D2, D2b } = one.input
  const diagonal = (value: number) =>
    Array.from({ length: n }, (_, i) => Array.from({ length: n }, (_, j) => (i === j ? value : 0)))
  const feedback = (forward: StateSpace, back: StateSpace) =>
    connect({
      blocks: { forward, back },
      inputs: forward.inputs.map((_, k) => `r${k}`),
      outputs: Object.fromEntries(forward.outputs.map((y) => [y, `forward.${y}`])),
      wires: Object.fromEntries([
        ...forward.inputs.map((u, k) => [`forward.${u}`, [`r${k}`, `-back.${back.outputs[k]}`]]),
        ...back.inputs.map((u, k) => [`back.${u}`, `forward.${forward.outputs[k]}`]),
      ]),
    })

  it('closes eight channels with a determinant of 1e-24', () => {
    const forward = stateSpace({ A: diagonal(-a), B: diagonal(1), C: diagonal(b), D: diagonal(1) })
    const closed = feedback(forward, gain(diagonal(d2)))
    expectPoles(
      closed,
      Array.from({ length: n }, () => [one.expected.loop1.pole, 0] as const),
      one.tolerance,
    )
    expect(stability(closed)).toMatchObject({ verdict: 'unstable', unstablePoles: n })
    const grid = omega.map((w) => w / (2 * Math.PI))
    for (let k = 0; k < n; k++) {
      const { re, im } = frequencyResponse(closed, grid, { inputs: [`r${k}`], outputs: [`y${k + 1}`] })
      expectComplex(
        grid.map((_, i) => [re[i], im[i]]),
        one.expected.loop1.G_diag,
        one.tolerance,
      )
    }
  })

  it('refuses a loop whose determinant is exactly zero', () => {
    expect(refusal(() => feedback(gain(D1), gain(D2))).code).toBe('algebraic-loop')
  })

  it('closes its neighbour', () => {
    const { D } = feedback(gain(D1), gain(D2b))
    for (const [i, row] of one.expected.loop3.closed_D.entries()) {
      // An entry of size 2 may keep rounding of the loop matrix, whose condition is about 60.
      expectReals(D[i], row, { ...one.tolerance, abs: 1e-13 })
    }
  })
})

describe('the Padé form of order ten', () => {
  const one = named<
    { order: number; delay: number; omega: number[] },
    { poles: Complex[]; rhp_poles: number; G: Complex[]; phase: number[]; dcgain: number }
  >('O16-pade-10')
  const { input, expected, tolerance } = one
  const system = pade(delay({ seconds: input.delay }), { order: input.order })

  it('has the poles, none on the right', () => {
    expectPoles(system, expected.poles, tolerance.per_field?.poles ?? {})
    expect(stability(system)).toMatchObject({ verdict: 'stable', unstablePoles: expected.rhp_poles })
  })

  it('has the response, of modulus one', () => {
    const found = responseAt(system, input.omega)
    expectComplex(found, expected.G, tolerance)
    for (const [re, im] of found) expectReals([Math.hypot(re, im)], [1], tolerance)
    expectReals(
      responseAt(system, [0]).map(([re]) => re),
      [expected.dcgain],
      tolerance,
    )
  })

  it('has the phase, from zero on', () => {
    input.omega.forEach((omega, k) => {
      // Steps of 4 % of at most 12 rad, from nearly 0: no step hides a turn.
      const grid = logFrequencies({ from: 1e-3 / (2 * Math.PI), to: omega / (2 * Math.PI), count: 400 })
      const phase = phaseDegrees(channel(frequencyResponse(system, grid), { input: 'u1', output: 'y1' }))
      expectReals([(phase[phase.length - 1] * Math.PI) / 180], [expected.phase[k]], tolerance.per_field?.phase ?? {})
    })
  })
})

type Link = [number, number, number]

/** Point masses joined by springs and dampers [p, q, value], −1 the ground; forces in, displacements or accelerations out. */
function massChain(
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

function polynomials({ num, den }: Coefficients): StateSpace {
  return transferFunction({ numerator: num, denominator: den })
}

/** y = L (u − y) */
function unitFeedback(loop: StateSpace): StateSpace {
  return connect({
    blocks: { loop },
    inputs: ['u'],
    outputs: { y: `loop.${loop.outputs[0]}` },
    wires: { [`loop.${loop.inputs[0]}`]: ['u', `-loop.${loop.outputs[0]}`] },
  })
}

function responseAt(system: StateSpace, omega: readonly number[]): Complex[] {
  const { re, im } = frequencyResponse(
    system,
    omega.map((w) => w / (2 * Math.PI)),
  )
  return omega.map((_, k) => [re[k], im[k]])
}

function allowed({ rel = 0, abs = 0 }: Tolerance, size: number): number {
  return abs + rel * size
}

function expectReals(found: readonly (number | null)[], expected: readonly number[], tolerance: Tolerance): void {
  expect(found.length).toBe(expected.length)
  expected.forEach((value, k) => {
    expect(found[k]).toBeTypeOf('number')
    expect(Math.abs((found[k] as number) - value)).toBeLessThanOrEqual(allowed(tolerance, Math.abs(value)))
  })
}

function expectComplex(found: readonly Complex[], expected: readonly Complex[], tolerance: Tolerance): void {
  expect(found.length).toBe(expected.length)
  expected.forEach(([re, im], k) => {
    const distance = Math.hypot(found[k][0] - re, found[k][1] - im)
    expect(distance).toBeLessThanOrEqual(allowed(tolerance, Math.hypot(re, im)))
  })
}

/** Poles as a set with multiplicity: each expected one against the nearest that is left. */
function expectPoles(system: StateSpace, expected: readonly Complex[], tolerance: Tolerance): void {
  const left = poles(system)
  expect(left.length).toBe(expected.length)
  for (const [re, im] of expected) {
    const distances = left.map((pole) => Math.hypot(pole.re - re, pole.im - im))
    const nearest = Math.min(...distances)
    expect(nearest).toBeLessThanOrEqual(allowed(tolerance, Math.hypot(re, im)))
    left.splice(distances.indexOf(nearest), 1)
  }
}
