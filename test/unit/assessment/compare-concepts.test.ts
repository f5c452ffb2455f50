import { describe, expect, it } from 'vitest'
import { assess, compareConcepts, type Site } from '../../../src/assessment/index.js'
import { airSpring, springMount, standardGravity } from '../../../src/elements/index.js'
import {
  activeBand,
  activelyDampedIsolation,
  type IsolationModel,
  passiveIsolation,
  pneumaticIsolation,
  stackedIsolation,
} from '../../../src/isolation/index.js'
import { refusal } from '../refusal.js'
import { flatFloor } from './sites.js'

const mass = 500
const payload = { mass }
const rubber = (frequency: number, dampingRatio = 0.05) =>
  passiveIsolation({ payload, mount: springMount({ mass, naturalFrequency: frequency, dampingRatio }) })
const air = airSpring({ area: 0.02, volume: 5e-3, load: mass * standardGravity, diaphragmDamping: 900 })
const candidates: Record<string, IsolationModel> = {
  stacked: stackedIsolation({
    lower: {
      concept: 'passive',
      payload: { mass: 800 },
      mount: springMount({ mass: 1300, naturalFrequency: 5, dampingRatio: 0.1 }),
    },
    upper: { concept: 'passive', payload, mount: springMount({ mass, naturalFrequency: 5, dampingRatio: 0.1 }) },
  }),
  damped: activelyDampedIsolation({ payload, mount: air, damping: { dampingRatio: 0.6 } }),
  stiff: rubber(15),
  air: pneumaticIsolation({ payload, mount: air }),
  soft: rubber(3, 0.2),
}
const at = (density: number, criterion: Site['criterion'] = 'VC-E'): Site => ({
  floor: flatFloor(density, 0.5, 100),
  criterion,
})

describe('compareConcepts', () => {
  const compared = () => compareConcepts(candidates, at(1e-12), { changes: 'none' })

  it('ranks what passes first, then fewer kinds of hardware, then the smaller worst ratio', () => {
    const result = compared()
    // Common practice, no source.
    const verdicts = Object.fromEntries(result.table.map(({ name, verdict }) => [name, verdict]))
    expect(verdicts).toEqual({ stacked: 'fail', damped: 'pass', stiff: 'fail', air: 'pass', soft: 'pass' })
    expect(result.ranking).toEqual(['soft', 'air', 'damped', 'stiff', 'stacked'])
    expect(result.simplestThatPasses).toBe('soft')
  })

  it('keeps one row per candidate in the order given, each with its assessment', () => {
    const result = compared()
    expect(result.kind).toBe('ConceptComparison')
    expect(result.table.map(({ name }) => name)).toEqual(Object.keys(candidates))
    for (const row of result.table) {
      expect(row.assessment).toEqual(assess(candidates[row.name] as IsolationModel, at(1e-12)))
      expect(row.worstRatio).toBe(row.assessment.payload?.worst.ratio)
      expect(row.peak).toBe(row.assessment.transmissibility.peak)
      expect(row.modulusMargin === null).toBe(row.name !== 'damped')
    }
  })

  it('names nothing where nothing passes', () => {
    const hopeless = compareConcepts(candidates, at(1e-6))
    expect(hopeless.table.every(({ verdict }) => verdict === 'fail')).toBe(true)
    expect(hopeless.simplestThatPasses).toBeNull()
    expect(hopeless.ranking.length).toBe(5)
    expect(hopeless.ranking[0]).toBe('soft')
  })

  it('orders one concept by its worst ratio', () => {
    const three = { stiff: rubber(15), softest: rubber(2, 0.2), soft: rubber(4, 0.2) }
    expect(compareConcepts(three, at(1e-12)).ranking).toEqual(['softest', 'soft', 'stiff'])
  })

  it('puts a model without a steady state last among its kind', () => {
    const both = { undamped: rubber(2, 0), stiff: rubber(15) }
    const found = compareConcepts(both, at(1e-6))
    expect(found.ranking).toEqual(['stiff', 'undamped'])
    expect(found.table[0]).toMatchObject({ verdict: 'fail', worstRatio: null, worstBand: null })
  })

  it('names a list by concept and number', () => {
    expect(compareConcepts([rubber(3), rubber(5)], at(1e-14)).ranking).toEqual(['passive 1', 'passive 2'])
  })

  it('leaves the models as they are', () => {
    const models = [rubber(3), rubber(5)]
    const before = structuredClone(models)
    compareConcepts(models, at(1e-14))
    expect(models).toEqual(before)
  })

  it('says which are active control, and where their controllers help', () => {
    const result = compared()
    const rows = Object.fromEntries(result.table.map((row) => [row.name, row]))
    expect([rows.damped?.active, rows.air?.active]).toEqual([true, false])
    expect(rows.air?.activeBand).toEqual([])
    expect(rows.damped?.activeBand).toEqual(activeBand(candidates.damped as IsolationModel, { improvement: 2 }))
    expect(rows.damped?.activeBand.length).toBeGreaterThan(0)
  })

  it('takes cost from the user: what costs less ranks first among what passes', () => {
    const cost = { stacked: 1, damped: 2, stiff: 1, air: 3, soft: 4 }
    const priced = compareConcepts(candidates, at(1e-12), { cost, changes: 'none' })
    expect(priced.ranking.slice(0, 3)).toEqual(['damped', 'air', 'soft'])
    expect(priced.simplestThatPasses).toBe('soft')
    expect(priced.table[0]?.reason).toMatch(/^fails: .*; cost 1$/)
  })

  it('names the simplest that keeps a margin', () => {
    const result = compared()
    const margins = Object.fromEntries(result.table.map((row) => [row.name, row.marginDecibels ?? 0]))
    const asked = (margins.soft ?? 0) + 0.1
    expect(asked).toBeGreaterThan(0.1)
    const strict = compareConcepts(candidates, at(1e-12), { marginDecibels: asked, changes: 'none' })
    expect(strict.simplestThatPasses).toBe('soft')
    expect(strict.simplestWithMargin).not.toBe('soft')
    expect(
      compareConcepts(candidates, at(1e-12), { marginDecibels: 60, changes: 'none' }).simplestWithMargin,
    ).toBeNull()
  })

  it.each([
    [{ cost: { soft: 1 } }, 'invalid-option', 'cost.stacked'],
    [{ cost: { ...candidates, other: 1 } }, 'invalid-option', 'cost.other'],
    [{ marginDecibels: -1 }, 'out-of-range', 'marginDecibels'],
    [{ improvement: 0.5 }, 'out-of-range', 'improvement'],
    [{ changes: 'all' }, 'invalid-option', 'changes'],
    [{ price: 1 }, 'invalid-option', 'price'],
  ])('refuses the options %o', (options, code, path) => {
    const error = refusal(() => compareConcepts(candidates, at(1e-12), options as never))
    expect([error.code, error.details.path]).toEqual([code, path])
  })

  it.each([[null], ['passive'], [[]], [{}], [[null]], [{ a: 3 }]])('refuses %o', (models) => {
    const error = refusal(() => compareConcepts(models as never, at(1e-12)))
    expect([error.code, error.details.function]).toEqual(['invalid-option', 'compareConcepts'])
  })
})
