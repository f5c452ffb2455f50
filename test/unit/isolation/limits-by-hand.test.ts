import { describe, expect, it } from 'vitest'
import { parallelActiveIsolation, simulateWithLimits } from '../../../src/isolation/index.js'
import type { LimitMode } from '../../../src/isolation/limit-modes.js'
import { nextMode } from '../../../src/isolation/next-mode.js'
import { windupCautions } from '../../../src/isolation/windup-cautions.js'
import { firstOrder } from './round-numbers.js'

/** A motor that is asked for `sign` times the reaction force, whatever the payload does. */
const motor = (sign: 1 | -1) =>
  parallelActiveIsolation({
    payload: { mass: 8 },
    mount: { stiffness: 800, damping: 40 },
    feedback: { velocityGain: 0 },
    feedforward: { gain: -sign },
  })
const run = (sign: 1 | -1, reactionForce: number[], limit: object, hold: 'first-order-hold' | 'zero-order-hold') =>
  simulateWithLimits(motor(sign), {
    inputs: { reactionForce },
    sampleTime: 1,
    hold,
    limits: [{ output: 'actuatorForce', ...limit }],
  })

const trapezoid = [0, 20, 20, 0, 0, 0]
const steps = [0, 15, 15, 0, 0, 0]
const lines = 'first-order-hold'
const stairs = 'zero-order-hold'

// Straight lines: where they meet their bounds is found with a ruler. An event is found to 2^-28 of a sample.
describe.each([1, -1] as const)('a motor that is asked for %d times what is known beforehand', (sign) => {
  it.each([
    ['a bound of 10 N', trapezoid, lines, { value: 10 }, [0, 10, 10, 0, 0, 0], 10, [['value', 0.5, 2.5]]],
    [
      'a rate of 10 N/s',
      trapezoid,
      lines,
      { rate: 10 },
      [0, 10, 20, 10, 0, 0],
      20,
      [
        ['rate', 0, 2],
        ['rate', 2, 4],
      ],
    ],
    [
      'both',
      trapezoid,
      lines,
      { value: 15, rate: 10 },
      [0, 10, 15, 7.5, 0, 0],
      15,
      [
        ['rate', 0, 1.5],
        ['value', 1.5, 2.25],
        ['rate', 2.25, 3.75],
      ],
    ],
    [
      'a rate of 10 N/s under steps',
      steps,
      stairs,
      { rate: 10 },
      [0, 0, 10, 15, 5, 0],
      15,
      [
        ['rate', 1, 2.5],
        ['rate', 3, 4.5],
      ],
    ],
    ['a bound of 10 N under steps', steps, stairs, { value: 10 }, [0, 10, 10, 0, 0, 0], 10, [['value', 1, 3]]],
    ['bounds that it does not meet', trapezoid, lines, { value: 21, rate: 21 }, trapezoid, 20, []],
  ] as const)('gives what %s leaves', (_, asked, hold, limit, given, peak, intervals) => {
    const { outputs, wanted, peaks, limited, verdict, evidence, recoveredAt, lostAt, time, cautions, padeOrder } = run(
      sign,
      [...asked],
      limit,
      hold,
    )
    expect(Array.from(time)).toEqual([0, 1, 2, 3, 4, 5])
    outputs.actuatorForce.forEach((force, k) => {
      expect(force).toBeCloseTo(sign * given[k], 6)
    })
    expect(Object.keys(wanted)).toEqual(['actuatorForce'])
    expect(Array.from(wanted.actuatorForce, (force) => sign * force + 0)).toEqual([...asked])
    expect(peaks.actuatorForce).toBeCloseTo(peak, 6)
    expect(limited.map(({ output, bound }) => [output, bound])).toEqual(
      intervals.map(([bound]) => ['actuatorForce', bound]),
    )
    limited.forEach(({ from, to }, k) => {
      expect(from).toBeCloseTo(intervals[k][1], 7)
      expect(to).toBeCloseTo(intervals[k][2], 7)
    })
    const last = intervals.at(-1)?.[2]
    expect([verdict, evidence, lostAt, padeOrder]).toEqual(
      last === undefined ? ['free', 'record', null, null] : ['recovered', 'proof', null, null],
    )
    if (last === undefined) expect(recoveredAt).toBeNull()
    else expect(recoveredAt).toBeCloseTo(last, 7)
    // A gain keeps nothing while its motor is at a bound: no word of windup.
    expect(cautions).toEqual(
      last === undefined
        ? []
        : ['A loop at its limit does not damp: limit force and stroke in hardware, with a safe stop.'],
    )
  })

  it('is limited as long as more is asked for at the end', () => {
    const { verdict, evidence, recoveredAt, limited } = run(sign, [0, 20, 20], { value: 10 }, lines)
    expect([verdict, evidence, recoveredAt, limited.length, limited[0].to]).toEqual(['limited', 'record', null, 1, 2])
  })
})

describe('what a bounded output does next', () => {
  const bound = { output: 'actuatorForce', value: 10, rate: 4 }

  // A bound that is just met is kept until what is wanted comes back; a ramp until it is met by what is slower.
  it.each<[LimitMode, number, number, number, LimitMode]>([
    ['free', 10, 10, 4, 'free'],
    ['free', -10, -10, -4, 'free'],
    ['free', 10.1, 10.1, 0, 'high'],
    ['free', -10.1, -10.1, 0, 'low'],
    ['free', 5, 5, 4.1, 'rising'],
    ['free', 5, 5, -4.1, 'falling'],
    ['free', 10.1, 10.1, -5, 'high'],
    ['high', 10, 10, 0, 'high'],
    ['high', 9.9, 10, 0, 'free'],
    ['low', -10, -10, 0, 'low'],
    ['low', -9.9, -10, 0, 'free'],
    ['rising', 5, 4, 0, 'rising'],
    ['rising', 5, 5, 0, 'rising'],
    ['rising', 5, 5.1, 3.9, 'free'],
    ['rising', 5, 5.1, 4, 'rising'],
    ['rising', 12, 10, 0, 'rising'],
    ['rising', 12, 10.1, 0, 'high'],
    ['falling', -5, -4, 0, 'falling'],
    ['falling', -5, -5, 0, 'falling'],
    ['falling', -5, -5.1, -3.9, 'free'],
    ['falling', -5, -5.1, -4, 'falling'],
    ['falling', -12, -10, 0, 'falling'],
    ['falling', -12, -10.1, 0, 'low'],
  ])('%s, wanted %d, given %d, slope %d: %s', (mode, wanted, actual, slope, next) => {
    expect(nextMode(mode, bound, wanted, actual, slope)).toBe(next)
  })
})

describe('windup', () => {
  const controller = (pole: number) => ({ ...firstOrder(pole), role: 'controller' as const })
  const blocks = { slow: controller(0.5), fast: controller(2), filter: firstOrder(0.5) }
  const model = { ...motor(1), diagram: { ...motor(1).diagram, blocks } }
  const held = (from: number, to: number) => ({ output: 'actuatorForce', bound: 'value' as const, from, to })

  // Common practice, no source: what fades in less time than the actuator was held does not matter.
  it('is that of controllers slower than the longest time at a limit', () => {
    const named = (...limited: ReturnType<typeof held>[]) =>
      windupCautions(model, limited).map((caution) => /Block (\w+) integrates on/.exec(caution)?.[1] ?? 'all')
    expect(named()).toEqual([])
    expect(named(held(3, 3.1), held(4, 5), held(6, 6.1))).toEqual(['all', 'slow'])
    expect(named(held(3, 3.1))).toEqual(['all', 'slow', 'fast'])
    expect(named(held(3, 5))).toEqual(['all'])
  })
})
