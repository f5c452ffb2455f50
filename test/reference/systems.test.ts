import { describe, expect, it } from 'vitest'
import { delay, margins, parallel, poles, series, stability, stateSpace } from '../../src/systems/index.js'
import {
  type Coefficients,
  type Complex,
  casesOf,
  expectComplex,
  expectPoles,
  expectReals,
  type Link,
  type Matrices,
  massChain,
  polynomials,
  responseAt,
  unitFeedback,
} from './system-cases.js'

describe.each(
  casesOf<
    { mass: number[]; stiffness: number[]; damping: number[] },
    { undamped_rad_s: number[]; poles: Complex[]; stable: boolean }
  >('O01-poles-wide-scale'),
)('$title', (one) => {
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

describe.each(
  casesOf<Coefficients & { omega: number[] }, { poles: Complex[]; stable: boolean; G: Complex[] }>(
    'O02-poly-eight-decades',
  ),
)('$title', (one) => {
  const system = polynomials(one.input)

  it('has the poles, and stays stable in state space', () => {
    expectPoles(system, one.expected.poles, one.tolerance)
    expect(stability(system).verdict).toBe(one.expected.stable ? 'stable' : 'unstable')
  })

  it('has the response', () => {
    expectComplex(responseAt(system, one.input.omega), one.expected.G, one.tolerance)
  })
})

describe.each(
  casesOf<Matrices & { omega: number[] }, { poles: Complex[]; stable: boolean; G: Complex[] }>('O04-repeated-poles'),
)('$title', (one) => {
  const { omega, A, B, C, D } = one.input
  const system = stateSpace({ A, B, C, D })

  it('has the poles as far as doubles can tell, and is stable', () => {
    expectPoles(system, one.expected.poles, one.tolerance.per_field?.poles ?? {})
    expect(stability(system).verdict).toBe(one.expected.stable ? 'stable' : 'unstable')
  })

  it('has the response', () => {
    expectComplex(responseAt(system, omega), one.expected.G, one.tolerance)
  })
})

describe.each(
  casesOf<
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
      delay_margin: number | null
    }
  >('O07-delay-crossovers'),
)('$title', (one) => {
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
    if (expected.delay_margin === null) expect(found.delayMargin).toBeNull()
    else expectReals([found.delayMargin], [expected.delay_margin], tolerance)
  })

  it('has its verdict when closed', () => {
    expect(found.closedLoop === 'stable').toBe(expected.closed_loop_stable)
    expect(stability(unitFeedback(loop)).unstablePoles).toBe(expected.rhp_closed_loop_poles)
  })
})

describe.each(
  casesOf<
    Coefficients,
    {
      classification: string
      poles: Complex[]
      gain_margin: number
      gain_margin_omega: number
      phase_margin_deg: number
    }
  >('O08-marginal-loop'),
)('$title', (one) => {
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

describe.each(
  casesOf<
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
  >('O09-unstable-loop'),
)('$title', (one) => {
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
