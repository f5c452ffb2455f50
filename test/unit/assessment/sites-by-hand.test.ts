import { describe, expect, it } from 'vitest'
import { coveredBands } from '../../../src/assessment/covered-bands.js'
import { assess, compareConcepts, type Site } from '../../../src/assessment/index.js'
import { liveInputs } from '../../../src/assessment/live-inputs.js'
import { motionProfile, type Point, voiceCoil } from '../../../src/elements/index.js'
import { scopeOf } from '../../../src/internal/check.js'
import {
  activelyDampedIsolation,
  type IsolationModel,
  passiveIsolation,
  sixAxisIsolation,
} from '../../../src/isolation/index.js'
import { criterion, customCriterion, spectrum } from '../../../src/vibration/index.js'
import { flatFloor, voigt } from './sites.js'

const floor = flatFloor(1e-12, 0.5, 100)

describe('the bands that a record covers', () => {
  // IEC 61260-1:2014: the edges of the bands from 1 to 80 Hz are 10^−0.05, 10^0.05, … 10^1.95 Hz.
  const [lowest, highest] = [10 ** -0.05, 10 ** 1.95]
  const covered = (from: number, to: number) =>
    coveredBands(scopeOf('test'), flatFloor(1, from, to), criterion('VC-E')).bands.map(({ nominal }) => nominal)

  it('reach from edge to edge, but for a rounding', () => {
    const all = [1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8, 10, 12.5, 16, 20, 25, 31.5, 40, 50, 63, 80]
    expect(covered(lowest, highest)).toEqual(all)
    expect(covered(lowest * (1 + 1e-11), highest * (1 - 1e-11))).toEqual(all)
    expect(covered(lowest * (1 + 1e-7), highest)).toEqual(all.slice(1))
    expect(covered(lowest, highest * (1 - 1e-7))).toEqual(all.slice(0, -1))
    expect(covered(0.1, 1000)).toEqual(all)
  })
})

describe('what reaches an output', () => {
  const mount = { stiffness: 1e5, damping: 900, lateral: { stiffness: 6e4, damping: 700 } }
  const table = (height: number) =>
    sixAxisIsolation({
      payload: {
        mass: 1000,
        inertia: [90, 90, 160],
        centreOfMass: [0, 0, height],
        supports: [-1, 1].flatMap((x) => [-1, 1].map((y) => ({ position: [x, y, 0] as Point, mount }))),
      },
    }).closed
  const inputs = ['floorVelocityX', 'floorVelocityZ', 'payloadForceX', 'payloadForceRy']
  const live = (height: number, output: string, range: readonly [number, number] = [1, 100]) =>
    [...liveInputs(table(height), output, inputs, range)].sort()

  it('on a table of which every plane is one of symmetry is its own axis', () => {
    expect(live(0, 'payloadVelocityZ')).toEqual(['floorVelocityZ'])
    expect(live(0, 'payloadVelocityX')).toEqual(['floorVelocityX', 'payloadForceX'])
  })

  it('with the mass above the mounts is also what tilts it', () => {
    expect(live(0.5, 'payloadVelocityX')).toEqual(['floorVelocityX', 'payloadForceRy', 'payloadForceX'])
    expect(live(0.5, 'payloadVelocityZ')).toEqual(['floorVelocityZ'])
  })

  it('is the same over all frequencies', () => {
    expect(live(0, 'payloadVelocityX', [0, Infinity])).toEqual(['floorVelocityX', 'payloadForceX'])
    expect(live(0.5, 'payloadVelocityX', [3, 3])).toEqual(['floorVelocityX', 'payloadForceRy', 'payloadForceX'])
  })

  it('of one axis are all that there are', () => {
    const { closed } = voigt(2, 0.1)
    expect([...liveInputs(closed, 'payloadVelocity', ['floorVelocity', 'payloadForce'], [1, 10])]).toEqual([
      'floorVelocity',
      'payloadForce',
    ])
  })
})

describe('a model without a steady state', () => {
  const profile = motionProfile({ distance: 0.05, maxVelocity: 1, maxAcceleration: 2 })
  const coil = voiceCoil({ forceConstant: 20, resistance: 4, maxForce: 50 })
  const singing = activelyDampedIsolation({
    payload: { mass: 100 },
    mount: { stiffness: 16e3, damping: 100 },
    damping: { gain: -1e4, actuator: coil },
  })
  const site: Site = {
    floor,
    criterion: 'VC-A',
    moves: [{ profile, movingMass: 1 }],
    settling: { band: 1e-6 },
    tolerance: { limit: 1e-6 },
  }

  it('is not followed in moves, nor held against bounds and tolerance, and fails by its stability alone', () => {
    const found = assess(singing, site)
    expect(found).toMatchObject({
      verdict: 'fail',
      effort: [],
      settling: [],
      tolerance: null,
      rms: null,
      noise: null,
      worseThanFloor: [],
      peakCompliance: null,
      floorForce: null,
      neighbourBands: null,
    })
    expect(found.reasons).toEqual([
      'the closed system is unstable: 2 poles right of the imaginary axis',
      expect.stringMatching(/^loop damping is unstable/),
    ])
  })

  it('is asked what would have to change, which may be more than a factor of 30', () => {
    const { changes, marginDecibels, worstRatio } = compareConcepts({ singing }, { floor, criterion: 'VC-A' }).table[0]
    expect([marginDecibels, worstRatio]).toEqual([null, null])
    // Stable where the gain is below c = 100 of −1e4: a hundredth, further than a factor of 30
    expect(changes.find(({ parameter }) => parameter === 'gain of controller')?.factor).toBeNull()
  })
})

describe('candidates ranked', () => {
  const on = (frequency: number, dampingRatio = 0.1) => voigt(frequency, dampingRatio)
  const damped = (gain: number) =>
    activelyDampedIsolation({ payload: { mass: 1 }, mount: { stiffness: 250, damping: 3 }, damping: { gain } })
  const ranked = (models: Record<string, IsolationModel>, site: Site, options: object = {}) =>
    compareConcepts(models, site, { changes: 'none', ...options })

  it('are those that pass, then those that are open, then those that fail', () => {
    const models = { fails: on(2.5, 0.05), open: on(2.5, 0.12), passes: on(2.5, 0.3) }
    const { ranking, table, simplestThatPasses } = ranked(models, { floor, criterion: 'VC-E', duration: 60 })
    expect(ranking).toEqual(['passes', 'open', 'fails'])
    expect(table.map(({ verdict }) => verdict)).toEqual(['fail', 'undecided', 'pass'])
    expect(table.map(({ reason }) => reason.split(':')[0])).toEqual(['fails', 'undecided', 'passes'])
    expect(simplestThatPasses).toBe('passes')
  })

  it('are by cost before kinds of hardware, and by those before the worst ratio', () => {
    const models = { active: damped(60), stiff: on(20), soft: on(10) }
    const site: Site = { floor, criterion: 'VC-A' }
    expect(ranked(models, site).ranking).toEqual(['soft', 'stiff', 'active'])
    const cost = { active: 1, stiff: 2, soft: 2 }
    const priced = ranked(models, site, { cost })
    expect(priced.ranking).toEqual(['active', 'soft', 'stiff'])
    expect(priced.table.map((row) => row.cost)).toEqual([1, 2, 2])
    expect(priced.table[1].reason).toMatch(/^passes: .*; cost 2$/)
    // The simplest is by hardware, whatever it costs.
    expect([priced.simplestThatPasses, ranked(models, site).table[0].cost]).toEqual(['soft', null])
    expect(ranked({ stiff: on(20), active: damped(60) }, site).simplestThatPasses).toBe('stiff')
  })

  it('with margin are those of at least 3 dB, or of what is asked', () => {
    const model = on(2.5, 0.3)
    // Limits 2.9 and 3.1 dB above the level of one band
    const wide: Site = { floor, criterion: customCriterion({ frequency: [10], velocity: [1] }) }
    const rms = assess(model, wide).payload?.worst.rms as number
    const limited = (decibels: number, options: object = {}) => {
      const velocity = [rms * 10 ** (decibels / 20)]
      return ranked({ model }, { floor, criterion: customCriterion({ frequency: [10], velocity }) }, options)
    }
    expect([limited(2.9), limited(3.1)].map(({ simplestWithMargin }) => simplestWithMargin)).toEqual([null, 'model'])
    expect(limited(2.9, { marginDecibels: 2 }).simplestWithMargin).toBe('model')
    expect(limited(2.9).table[0].marginDecibels).toBeCloseTo(2.9, 9)
    expect(limited(2.9).table[0]).toMatchObject({ worstBand: 10, worstRatio: expect.closeTo(10 ** -0.145, 9) })
  })

  it('state the least modulus margin, and where controllers help by what is asked', () => {
    const site: Site = { floor, criterion: 'VC-A' }
    const row = (improvement: number) => ranked({ model: damped(60) }, site, { improvement }).table[0]
    const [two, five] = [row(2), row(5)]
    expect(two.modulusMargin).toBe(two.assessment.loops[0].margins.modulusMargin)
    const width = (each: typeof two) => each.activeBand.reduce((sum, [from, to]) => sum + to - from, 0)
    expect(width(two)).toBeGreaterThan(width(five))
    expect([two.active, two.concept]).toEqual([true, 'activelyDamped'])
  })
})

describe('the force on the payload', () => {
  const payloadForce = spectrum({ quantity: 'force', frequency: [0.5, 100], density: [1e-8, 1e-8] })
  const model = passiveIsolation({ payload: { mass: 1 }, mount: { stiffness: 250, damping: 3 } })

  it('stands as a source of its own in the noise of an axis', () => {
    const { noise } = assess(model, { floor, criterion: 'VC-A', payloadForce })
    expect(Object.keys(noise?.contributions ?? {})).toEqual(['floor', 'payloadForce'])
  })
})
