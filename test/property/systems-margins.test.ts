import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  connect,
  delay,
  gain,
  type Margins,
  margins,
  pade,
  poles,
  type StateSpace,
  series,
  stability,
  transferFunction,
} from '../../src/systems/index.js'

const between = (low: number, high: number) =>
  fc.double({ min: Math.log10(low), max: Math.log10(high), noNaN: true }).map((exponent) => 10 ** exponent)

/** A rational block and its value at s = jω, computed from the coefficients alone. */
interface Factor {
  readonly numerator: readonly number[]
  readonly denominator: readonly number[]
}
const corner = between(0.3, 30)
const lag = corner.map((w): Factor => ({ numerator: [w], denominator: [1, w] }))
const resonance = fc
  .tuple(corner, between(1e-5, 1))
  .map(([w, z]): Factor => ({ numerator: [w * w], denominator: [1, 2 * z * w, w * w] }))
const velocity = fc
  .tuple(corner, between(1e-5, 1))
  .map(([w, z]): Factor => ({ numerator: [w, 0], denominator: [1, 2 * z * w, w * w] }))
const integrator = fc.constant<Factor>({ numerator: [1], denominator: [1, 0] })
const lead = fc.tuple(corner, corner).map(([a, b]): Factor => ({ numerator: [1, a], denominator: [1, b] }))
const unstable = corner.map((w): Factor => ({ numerator: [w], denominator: [1, -w / 3] }))

interface Loop {
  readonly gain: number
  readonly factors: readonly Factor[]
  readonly seconds: number
}
const loopOf = (factor: fc.Arbitrary<Factor>, seconds: fc.Arbitrary<number>): fc.Arbitrary<Loop> =>
  fc.record({
    gain: fc.tuple(between(0.05, 50), fc.boolean()).map(([size, turned]) => (turned ? -size : size)),
    // the lag in front makes every loop roll off
    factors: fc
      .tuple(lag, fc.array(factor, { minLength: 0, maxLength: 3 }))
      .map(([first, others]) => [first, ...others]),
    seconds,
  })
const anyFactor = fc.oneof(lag, resonance, velocity, integrator, lead)
/** Left out: loops that start within rounding of |L| = 1, whose first crossover is nowhere in particular, and loops whose
 * gain is above 1e-3 for more than 3000 turns of their delay, whose list of crossovers `margins` declines to finish. */
const regular = (loop: Loop) =>
  Math.abs(Math.log(polar(loop, 1e-6).modulus)) > 1e-6 &&
  (loop.seconds === 0 || polar(loop, 2e4 / loop.seconds).modulus < 1e-3)
const plain = loopOf(anyFactor, fc.constant(0)).filter(regular)
const delayed = loopOf(anyFactor, between(0.01, 0.5)).filter(regular)

const system = ({ gain: size, factors, seconds }: Loop): StateSpace => {
  const blocks = factors.map(({ numerator, denominator }) =>
    transferFunction({ numerator: [...numerator], denominator: [...denominator] }),
  )
  return series(gain(size), ...blocks, ...(seconds === 0 ? [] : [delay({ seconds })]))
}

/** |L| and arg L at ω from the coefficients, without any state space. */
function polar({ gain: size, factors, seconds }: Loop, omega: number): { modulus: number; angle: number } {
  let modulus = Math.abs(size)
  let angle = (size < 0 ? Math.PI : 0) - omega * seconds
  for (const { numerator, denominator } of factors) {
    const [over, under] = [horner(numerator, omega), horner(denominator, omega)]
    modulus *= Math.hypot(...over) / Math.hypot(...under)
    angle += Math.atan2(over[1], over[0]) - Math.atan2(under[1], under[0])
  }
  return { modulus, angle }
}

function horner(coefficients: readonly number[], omega: number): [number, number] {
  let [re, im] = [0, 0]
  for (const value of coefficients) [re, im] = [value - im * omega, re * omega]
  return [re, im]
}

/** y = L (u − y) */
function unitFeedback(loop: StateSpace): StateSpace {
  return connect({
    blocks: { loop },
    inputs: ['u'],
    outputs: { y: 'loop.y1' },
    wires: { 'loop.u1': ['u', '-loop.y1'] },
  } as Parameters<typeof connect>[0])
}

const wrapped = (angle: number) => angle - 2 * Math.PI * Math.round(angle / (2 * Math.PI))
/** A crossover is polished to rounding; at a damping of 1e-5 that is 1e5 times as much of |L| and of its angle. Factors on
 * a common resonance multiply their slopes. */
const ofLoop = 1e-6

const kinds = [
  ['without delay', plain],
  ['with delay', delayed],
] as const

describe.each(kinds)('crossovers of loops %s', (_, loops) => {
  it('lie where the formula has them', () => {
    fc.assert(
      fc.property(loops, (loop) => {
        const found = margins(system(loop))
        for (const { frequency, phaseMarginDegrees, delayMargin } of found.gainCrossovers) {
          const { modulus, angle } = polar(loop, 2 * Math.PI * frequency)
          const phaseMargin = (phaseMarginDegrees * Math.PI) / 180
          expect(Math.abs(modulus - 1)).toBeLessThan(ofLoop)
          expect(Math.abs(wrapped(angle - Math.PI - phaseMargin))).toBeLessThan(ofLoop)
          expect(phaseMarginDegrees).toBeGreaterThan(-180.000001)
          expect(phaseMarginDegrees).toBeLessThanOrEqual(180)
          expect(delayMargin).toBeGreaterThanOrEqual(0)
          expect(Math.abs(wrapped(2 * Math.PI * frequency * delayMargin - phaseMargin))).toBeLessThan(ofLoop)
        }
        for (const { frequency, gainMargin } of found.phaseCrossovers) {
          const { modulus, angle } = polar(loop, 2 * Math.PI * frequency)
          expect(Math.abs(modulus * gainMargin - 1)).toBeLessThan(ofLoop)
          expect(Math.abs(wrapped(angle - Math.PI))).toBeLessThan(ofLoop)
        }
      }),
      { numRuns: 150 },
    )
  })

  it('are all of them: between two of them |L| stays on one side of 1', () => {
    fc.assert(
      fc.property(loops, (loop) => {
        const places = margins(system(loop)).gainCrossovers.map(({ frequency }) => 2 * Math.PI * frequency)
        expect(places).toEqual([...places].sort((a, b) => a - b))
        for (const omega of samples(loop)) {
          const { modulus } = polar(loop, omega)
          if (Math.abs(Math.log(modulus)) < 1e-6) continue
          // |L| < 1 at the upper end, so above 1 means an odd number of crossovers above
          const above = places.filter((place) => place > omega).length
          expect(above % 2).toBe(modulus > 1 ? 1 : 0)
        }
      }),
      { numRuns: 150 },
    )
  })

  it('bound the modulus margin, which no sample undercuts', () => {
    fc.assert(
      fc.property(loops, (loop) => {
        const { modulusMargin, gainCrossovers, phaseCrossovers } = margins(system(loop))
        for (const omega of samples(loop)) {
          const { modulus, angle } = polar(loop, omega)
          const distance = Math.hypot(1 + modulus * Math.cos(angle), modulus * Math.sin(angle))
          expect(modulusMargin).toBeLessThanOrEqual(distance * (1 + 1e-6) + 1e-9)
        }
        // by hand: |1 + L| is 2 |sin(φ/2)| where |L| = 1, and |1 − 1/k| where L = −1/k
        for (const { phaseMarginDegrees } of gainCrossovers) {
          const chord = 2 * Math.abs(Math.sin((phaseMarginDegrees * Math.PI) / 360))
          expect(modulusMargin).toBeLessThanOrEqual(chord + 1e-6)
        }
        for (const { gainMargin } of phaseCrossovers) {
          expect(modulusMargin).toBeLessThanOrEqual(Math.abs(1 - 1 / gainMargin) + 1e-6)
        }
      }),
      { numRuns: 150 },
    )
  })
})

describe.each(kinds)('overall margins of loops %s', (_, loops) => {
  /** Distance from the limit at which the verdict must have changed. */
  const step = 1e-3
  const verdict = (loop: Loop) => stability(unitFeedback(system(loop))).verdict
  const stable = (found: Margins) => found.closedLoop === 'stable'

  it('are those at which the loop is lost', () => {
    fc.assert(
      fc.property(loops, (loop) => {
        const found = margins(system(loop))
        expect(verdict(loop)).toBe(found.closedLoop)
        // Limits so close to 1 or to no delay that the step crosses nothing would only test the rounding of the verdict.
        if (!stable(found) || found.modulusMargin < 1e-2) return
        const scaled = (factor: number) => verdict({ ...loop, gain: loop.gain * factor })
        const { gainMargin, gainReductionMargin, delayMargin } = found
        if (gainMargin !== null) {
          expect(scaled(1 + (gainMargin - 1) * (1 - step))).not.toBe('unstable')
          expect(scaled(1 + (gainMargin - 1) * (1 + step))).not.toBe('stable')
        } else expect(scaled(100)).not.toBe('unstable')
        if (gainReductionMargin !== null) {
          expect(scaled(1 - (1 - gainReductionMargin) * (1 - step))).not.toBe('unstable')
          expect(scaled(gainReductionMargin * (1 - step))).not.toBe('stable')
        } else expect(scaled(0.01)).not.toBe('unstable')
        // A limit of minutes puts thousands of poles beside the axis.
        if (delayMargin !== null && delayMargin < 100) {
          const later = (more: number) => verdict({ ...loop, seconds: loop.seconds + more })
          expect(later(delayMargin * (1 - step))).not.toBe('unstable')
          expect(later(delayMargin * (1 + step))).not.toBe('stable')
        }
      }),
      { numRuns: 200 },
    )
  })
})

describe('stability with delay', () => {
  /** The delays stay below ωτ = 10 for every corner, where order 12 is right to 1e-5 rad. */
  const loops = loopOf(fc.oneof(anyFactor, unstable), between(0.01, 0.3)).filter(regular)

  it('agrees with a Padé model of order 12, but for poles within 1e-3 of the axis', () => {
    let compared = 0
    fc.assert(
      fc.property(loops, (loop) => {
        const closed = unitFeedback(system(loop))
        const approximation = poles(pade(closed, { order: 12 }))
        // A crossing beyond the range of the approximation says nothing.
        const reach = 10 / loop.seconds
        const near = approximation.some(
          ({ re, im }) => Math.abs(re) < 1e-3 * Math.hypot(re, im) || Math.hypot(re, im) < 1e-6,
        )
        const far = approximation.some(({ re, im }) => re > 0 && Math.hypot(re, im) > reach)
        const beyond = polar(loop, reach).modulus > 0.3
        if (near || far || beyond) return
        compared += 1
        expect(stability(closed).unstablePoles).toBe(approximation.filter(({ re }) => re > 0).length)
      }),
      { numRuns: 400 },
    )
    expect(compared).toBeGreaterThan(100)
  })

  it('of a chain of lags ends where the phase says', () => {
    fc.assert(
      fc.property(between(1.2, 100), corner, (k, w) => {
        // computed from the closed form for k e^(−sτ)/(s/w + 1): ω = w √(k² − 1), τ = (π − atan(ω/w))/ω
        const omega = w * Math.sqrt(k * k - 1)
        const limit = (Math.PI - Math.atan(omega / w)) / omega
        const at = (seconds: number) =>
          stability(unitFeedback(system({ gain: k, factors: [{ numerator: [w], denominator: [1, w] }], seconds })))
        expect(at(limit * (1 - 1e-6))).toMatchObject({ unstablePoles: 0 })
        expect(at(limit * (1 + 1e-6))).not.toMatchObject({ verdict: 'stable' })
        expect(at(limit * 1.001)).toMatchObject({ verdict: 'unstable', unstablePoles: 2 })
      }),
      { numRuns: 200 },
    )
  })
})

/** Frequencies [rad/s] at which |L| can be anything: a grid, and the neighbourhood of every resonance. */
function samples({ factors }: Loop): number[] {
  const places = Array.from({ length: 300 }, (_, k) => 1e-3 * 10 ** ((k * 7) / 299))
  for (const { denominator } of factors) {
    if (denominator.length < 3) continue
    const w = Math.sqrt(denominator[2])
    for (let k = -60; k <= 60; k++) places.push(w * (1 + Math.sign(k) * 1e-6 * 1.25 ** Math.abs(k) * Number(k !== 0)))
  }
  return places.filter((omega) => omega > 0)
}
