import { describe, expect, it } from 'vitest'
import {
  noiseBudget,
  tuneActiveDamping,
  tuneRelaxation,
  tuneRestrictor,
  tuneSeriesStage,
} from '../../../src/assessment/index.js'
import { airSpring } from '../../../src/elements/index.js'
import { activelyDampedIsolation, loopMargins, pneumaticIsolation } from '../../../src/isolation/index.js'
import { rms } from '../../../src/vibration/index.js'
import { flatFloor } from './sites.js'

const white = flatFloor(1, 0.1, 100)

describe('the dashpot of one of four mounts', () => {
  it('is a quarter of that of a single one, searched a hundredfold either way', () => {
    // 0.59292706 of critical for a stiffness ratio of 3, see tuning: 2·√(k m) = 2000 N·s/m for all four
    const found = tuneRelaxation({ payload: { mass: 100 }, stiffness: 2500, stiffnessRatio: 3, count: 4 })
    expect((found.parameters?.damping as number) / 500).toBeCloseTo(0.59292706, 4)
    expect([found.reason, found.tried.length]).toEqual(['the objective is least here', 25])
    expect((found.tried[0].parameters.damping as number) / 500).toBeCloseTo(0.0059292706, 6)
    expect((found.tried[24].parameters.damping as number) / 500).toBeCloseTo(59.292706, 2)
    expect([found.tried[0].modulusMargin, found.outcome]).toEqual([null, { objective: expect.closeTo(5 / 3, 8) }])
  })
})

describe('the restrictor of one of three air springs', () => {
  const dampingChamber = { volume: 3e-3, flowResistance: 'optimal' as const }
  const spring = { area: 0.01, volume: 1e-3, load: 2941.995, dampingChamber }

  it('is that of a single one under a third of the mass', () => {
    // 4.2962553e7 Pa·s/m³ for 300 kg on one, see tuning
    const found = tuneRestrictor({ payload: { mass: 900 }, airSpring: spring, count: 3 })
    expect((found.parameters?.flowResistance as number) / 4.2962553e7).toBeCloseTo(1, 4)
    expect((found.tried[0].parameters.flowResistance as number) / 4.2962553e5).toBeCloseTo(1, 4)
    expect(found.tried).toHaveLength(25)
  })

  it('with levelling has the margin of that loop, and says which one is not stable', () => {
    const levelling = { flowGain: 0.05 }
    const found = tuneRestrictor({ payload: { mass: 300 }, airSpring: spring, levelling })
    const [one] = found.tried.filter(({ feasible }) => feasible)
    const restricted = { ...spring, dampingChamber: { volume: 3e-3, flowResistance: one.parameters.flowResistance } }
    const model = pneumaticIsolation({ payload: { mass: 300 }, mount: airSpring(restricted), levelling })
    expect(one.modulusMargin).toBe(loopMargins(model)[0].margins.modulusMargin)
    expect(found.outcome?.modulusMargin).toBeGreaterThan(0)
    const none = tuneRestrictor({ payload: { mass: 300 }, airSpring: spring, levelling: { flowGain: 0.5 } })
    expect(none.limitedBy).toBe('stability')
    expect(none.reason).toMatch(/^no flowResistance between .* keeps all constraints: loop levelling is not stable$/)
    expect(none.tried.every(({ objective }) => objective === null)).toBe(true)
  })
})

describe('the gain of an active damper', () => {
  const omega = 2 * Math.PI * 4
  const mount = { stiffness: 1000 * omega ** 2, damping: 0.04 * 1000 * omega }
  const critical = 2 * 1000 * omega

  it('is searched from a hundredth to three times the critical one', () => {
    const { tried } = tuneActiveDamping({ payload: { mass: 1000 }, mount, damping: {} })
    const ends = [tried[0], tried[30]].map(({ parameters }) => (parameters.gain as number) / critical)
    expect([tried.length, ...ends]).toEqual([31, expect.closeTo(0.01, 9), expect.closeTo(3, 9)])
  })

  /** Gains that are all too high: the lowest of them says what is in the way. */
  const tooHigh = { range: [0.6, 0.61], modulusMargin: 0.9 } as const

  it('ends at a part that hangs on the payload, which resonates against it above its own frequency', () => {
    // 1000 kg on 1000 kg: √2·40 Hz = 56.6 Hz
    const appendages = [
      { mass: 1, naturalFrequency: 300, dampingRatio: 0.02 },
      { mass: 1000, naturalFrequency: 40, dampingRatio: 0.005 },
    ]
    const design = { payload: { mass: 1000, appendages }, mount, damping: { delay: 5e-3 } }
    const { parameters, limitedBy, reason } = tuneActiveDamping(design, tooHigh)
    expect([parameters, limitedBy]).toEqual([null, 'payload.appendages[1]'])
    const at = Number(/constraints: payload\.appendages\[1\] at ([\d.]+) Hz allows no more$/.exec(reason)?.[1])
    expect(Math.abs(at / (40 * Math.SQRT2) - 1)).toBeLessThan(0.1)
  })

  it('ends at a mode of the floor, and not at one far from where the loop would sing', () => {
    const floor = (...frequencies: number[]) => ({
      modes: frequencies.map((naturalFrequency) => ({ modalMass: 300, naturalFrequency, dampingRatio: 0.005 })),
    })
    const tuned = (...frequencies: number[]) =>
      tuneActiveDamping(
        { payload: { mass: 1000 }, mount, damping: { delay: 8e-3 }, floor: floor(...frequencies) },
        tooHigh,
      )
    const [near, far] = [tuned(8, 24), tuned(8)]
    expect(near.limitedBy).toBe('floor.modes[1]')
    expect(near.reason).toMatch(/constraints: floor\.modes\[1\] at 2\d\.\d+ Hz allows no more$/)
    expect(far.limitedBy).toBe('modulusMargin')
    expect(far.reason).toMatch(/constraints: loop damping at [\d.]+ Hz allows no more$/)
  })

  it('states the margin of its own loop, and the objective of the model it makes', () => {
    const design = { payload: { mass: 1000 }, mount, damping: { delay: 8e-3 } }
    const found = tuneActiveDamping(design, { floor: white, modulusMargin: 0.7 })
    expect(found.outcome?.modulusMargin).toBeCloseTo(0.7, 3)
    expect(found.outcome?.modulusMargin as number).toBeGreaterThanOrEqual(0.7)
    expect(found.kind).toBe('Tuning')
    const gain = found.parameters?.gain as number
    const model = activelyDampedIsolation({ ...design, damping: { ...design.damping, gain } })
    expect(found.outcome?.objective).toBeCloseTo(rms(noiseBudget(model, { floor: white }).total), 9)
    for (const { modulusMargin, feasible } of found.tried) expect(feasible).toBe((modulusMargin as number) >= 0.7)
  })
})

describe('the controller of a series stage', () => {
  const activeStage = { mass: 60, actuator: { stiffness: 2e9, damping: 1.5e5, stroke: 2e-5 }, delay: 1e-4 }
  const design = { payload: { mass: 1100 }, mount: { stiffness: 3.1e6, damping: 6500 }, count: 4, activeStage }
  const tuned = () => tuneSeriesStage(design)

  it('keeps its corners within a decade of the band, and says at which frequency the loop allows no more', () => {
    const found = tuned()
    const { gain, ...corners } = found.parameters as Record<string, number>
    expect(Object.keys(corners)).toEqual(['highPass', 'lowPass', 'leadCorner', 'lagCorner'])
    for (const corner of Object.values(corners)) expect(corner >= 0.03 && corner <= 1e4).toBe(true)
    expect(gain).toBeGreaterThan(0)
    expect(found.reason).toMatch(/^the loop at [\d.]+ Hz allows no more gain$/)
    for (const { parameters } of tuneSeriesStage(design, { band: [3, 30] }).tried)
      for (const name of Object.keys(corners)) expect(parameters[name] >= 0.3 && parameters[name] <= 300).toBe(true)
  })

  it('has what it comes to without a tolerance for the worst corner too, and no rms without a floor', () => {
    const found = tuned()
    const outcome = found.outcome as Record<string, number>
    expect(Object.keys(outcome)).toEqual([
      ...['nominalGain', 'modulusMargin', 'activeFrom', 'activeTo'],
      ...['worstModulusMargin', 'worstActiveFrom', 'worstActiveTo'],
    ])
    expect([outcome.worstModulusMargin, outcome.worstActiveFrom, outcome.worstActiveTo]).toEqual([
      outcome.modulusMargin,
      outcome.activeFrom,
      outcome.activeTo,
    ])
    expect(outcome.nominalGain).toBe(found.parameters?.gain)
  })

  it('has tried nothing better than what it chose', () => {
    const found = tuned()
    const octaves = Math.log2((found.outcome?.activeTo as number) / Math.max(0.3, found.outcome?.activeFrom as number))
    const best = Math.min(...found.tried.map(({ objective }) => objective as number))
    expect(Math.abs(-best - octaves)).toBeLessThan(0.01)
    expect(found.tried.every(({ feasible }) => feasible)).toBe(true)
    for (const { modulusMargin } of found.tried) expect(Math.abs((modulusMargin as number) - 0.5)).toBeLessThan(5e-3)
  })

  it('with a tolerance is worse at its worst corner, and no better than that anywhere', () => {
    const { outcome } = tuneSeriesStage(design, { tolerance: 0.2 })
    const at = outcome as Record<string, number>
    expect(at.worstModulusMargin).toBeCloseTo(0.5, 6)
    expect(at.modulusMargin).toBeGreaterThan(at.worstModulusMargin)
    expect(at.worstActiveFrom).toBeGreaterThan(at.activeFrom)
    expect(at.worstActiveTo).toBeLessThan(at.activeTo)
  })
})
