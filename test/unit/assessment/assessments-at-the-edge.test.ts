import { describe, expect, it } from 'vitest'
import {
  actuatorEffort,
  assess,
  compareConcepts,
  explain,
  moveAndSettle,
  type Site,
  tuneActiveDamping,
} from '../../../src/assessment/index.js'
import {
  airSpring,
  idealActuator,
  motionProfile,
  type Point,
  piezoStack,
  standardGravity,
  voiceCoil,
} from '../../../src/elements/index.js'
import {
  activelyDampedIsolation,
  type IsolationModel,
  loopMargins,
  seriesActiveIsolation,
  sixAxisIsolation,
} from '../../../src/isolation/index.js'
import { connect } from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'
import { flatFloor, voigt } from './sites.js'

const reason = (call: () => unknown) => {
  const { code, details } = refusal(call)
  return [code, details.path]
}
const profile = motionProfile({ distance: 0.05, maxVelocity: 10, maxAcceleration: 4 })
const move = { profile, movingMass: 0.1 }

describe('six axes among the candidates', () => {
  // One table of a tonne on springs, with an air spring and its valve under one foot, and with a damper along z: by the hardware in them.
  const feet: Point[] = [
    [-1, -1, 0],
    [1, -1, 0],
    [0, 1, 0],
  ]
  const rubber = { stiffness: 1e5, damping: 2e3, lateral: { stiffness: 1e5, damping: 2e3 } }
  const load = (1000 * standardGravity) / 3
  const air = { ...airSpring({ area: 0.01, volume: 5e-3, load, diaphragmDamping: 900 }), lateral: rubber.lateral }
  const on = (mount: typeof rubber, last: typeof rubber | typeof air = mount) => ({
    mass: 1000,
    inertia: [300, 300, 500] as const,
    centreOfMass: [0, -1 / 3, 0] as const,
    supports: feet.map((position, k) => ({ position, mount: k < 2 ? mount : last })),
  })
  const place = { position: [0, -1 / 3, 0] as Point, direction: [0, 0, 1] as Point }
  const candidates = {
    damped: sixAxisIsolation({
      payload: on(rubber),
      damping: {
        sensors: [place],
        actuators: [{ ...place, actuator: idealActuator() }],
        loops: [{ axis: 'Z', gain: 1e3 }],
      },
    }),
    levelled: sixAxisIsolation({ payload: on(rubber, air), levelling: { flowGain: 1e-3 } }),
    plain: sixAxisIsolation({ payload: on(rubber) }),
  } as Record<string, IsolationModel>
  const at = (density: number): Site => ({ floor: flatFloor(density, 0.5, 100), criterion: 'VC-A' })

  it('rank as what they contain: none, valves, controllers', () => {
    const { ranking, table, simplestThatPasses } = compareConcepts(candidates, at(1e-16), { changes: 'none' })
    expect(table.map(({ verdict }) => verdict)).toEqual(['pass', 'pass', 'pass'])
    expect(ranking).toEqual(['plain', 'levelled', 'damped'])
    expect(simplestThatPasses).toBe('plain')
  })

  it('would pass on a floor as much quieter as their worst axis is above the criterion', () => {
    const { plain } = candidates
    const { table } = compareConcepts({ plain }, at(4e-8))
    const quieter = table[0].changes.find(({ parameter }) => parameter === 'motion of the floor')
    expect(Math.abs((quieter?.factor as number) * (table[0].worstRatio as number) - 1)).toBeLessThan(1.5e-3)
  })

  it('without a steady state begin with the axis whose floor is nearest to its limit', () => {
    const bare = { stiffness: 1e5, damping: 0, lateral: { stiffness: 1e5, damping: 0 } }
    const floor = { x: flatFloor(1e-12, 0.5, 100), y: flatFloor(4e-12, 0.5, 100), z: flatFloor(1e-14, 0.5, 100) }
    const result = assess(sixAxisIsolation({ payload: on(bare) }), { floor, criterion: 'VC-E' })
    expect([result.verdict, result.payload]).toEqual(['fail', null])
    expect([result.axis, ...result.otherAxes.map(({ axis }) => axis)]).toEqual(['y', 'x', 'z'])
  })
})

describe('an actuator of which little is known', () => {
  const payload = { mass: 100 }
  const mount = { stiffness: 16e3 }
  const record = { inputs: { payloadForce: [0, 1, 0] }, sampleTime: 0.01 }

  it('has no bound that could be tightest', () => {
    const model = activelyDampedIsolation({ payload, mount, damping: { gain: 2000 } })
    const { tightest, efforts } = actuatorEffort(model, { record })
    expect(tightest).toBeNull()
    expect(efforts.every(({ headroom, limit }) => headroom === null && limit === null)).toBe(true)
  })

  it('that is a coil without a bound on its heat has heat and no limit, and says what a voltage drive leaves out', () => {
    const coil = voiceCoil({ forceConstant: 20, resistance: 4, drive: 'voltage' })
    const model = activelyDampedIsolation({ payload, mount, damping: { gain: 2000 } })
    const { heat, cautions } = actuatorEffort(model, { record, actuators: { actuatorForce: coil } })
    expect([heat[0].limit, heat[0].headroom]).toEqual([null, null])
    expect(heat[0].mean).toBeGreaterThan(0)
    expect(cautions).toContain(
      'The current that motion drives through the coil behind actuatorForce is not counted (back-EMF).',
    )
  })

  it('that is a stack has no current without its drive', () => {
    const actuator = piezoStack({ stiffness: 2e9, damping: 1.5e5, stroke: 2e-5 })
    const controller = { gain: 3, highPass: 0.02, lowPass: 60 }
    const activeStage = { mass: 60, actuator, sensorLocation: 'activeStage' as const, controller }
    const stiff = { stiffness: 3.1e6, damping: 6500 }
    const model = seriesActiveIsolation({ payload: { mass: 1100 }, mount: stiff, count: 4, activeStage })
    const error = refusal(() => actuatorEffort(model, { record, actuators: { actuatorExpansion: actuator } }))
    expect([error.code, error.details.path]).toEqual(['unsupported', 'actuators.actuatorExpansion'])
    expect(error.message).toContain('must be a piezo stack with its drive')
  })
})

describe('explain', () => {
  it('names no frequency at which a payload gives way most, where that is at rest', () => {
    // ζ = 1: |x/F| falls from 1/k on; 1/(2π·2.5)² m/N for 1 kg
    const said = explain(assess(voigt(2.5, 1), { floor: flatFloor(1e-16, 0.5, 100), criterion: 'VC-E' }))
    expect(said).toContain('1 N on the payload moves it by 4050 µm in the end.')
  })

  it('refuses a part of an assessment', () => {
    expect(refusal(() => explain({ kind: 'Assessment', verdict: 'pass' } as never)).message).toMatch(
      /needs a whole Assessment/,
    )
  })
})

describe('a move', () => {
  it('of a model of one axis has no point to be judged at', () => {
    const options = { move, band: 1e-6, sampleTime: 1e-3 }
    expect(reason(() => moveAndSettle(voigt(2, 0.1), { ...options, point: 'tool' }))).toEqual(['unsupported', 'point'])
  })

  it('is refused for a model closed without the outputs that it is followed by', () => {
    const model = voigt(2, 0.1)
    for (const lost of ['stretch', 'floorForce']) {
      const { [lost]: _, ...outputs } = model.diagram.outputs
      const diagram = { ...model.diagram, outputs }
      const broken = { ...model, diagram, closed: connect(diagram) }
      const run = () => moveAndSettle(broken, { move, band: 1e-6, sampleTime: 1e-3 })
      expect(reason(run)).toEqual(['unknown-port', 'model'])
    }
  })

  it('cannot be followed through an approximation of its delay that is not stable, and says so', () => {
    // x″ + 0.1x′ + x = −0.15·x′(t − τ) is stable at τ = 5, within its second window from 4.21152 to 8.11727 (see robustStability).
    // A first-order form turns by 2·atan 2.5 = 136° there in place of 286°.
    const model = activelyDampedIsolation({
      payload: { mass: 1 },
      mount: { stiffness: 1, damping: 0.1 },
      damping: { gain: 0.15, delay: 5 },
    })
    const run = (padeOrder: number) => moveAndSettle(model, { move, band: 1e-3, sampleTime: 1, padeOrder })
    expect(reason(() => run(1))).toEqual(['unstable', 'padeOrder'])
    expect(run(6).settlingTime).toBeGreaterThan(0)
  })
})

it('the least modulus margin decides how much damping is allowed, of levelling as of damping itself', () => {
  const mount = airSpring({ area: 0.02, volume: 5e-3, load: 500 * standardGravity, diaphragmDamping: 300 })
  const design = { payload: { mass: 500 }, mount, levelling: { flowGain: 6e-3 } }
  const tuned = tuneActiveDamping({ ...design, damping: {} })
  const model = activelyDampedIsolation({ ...design, damping: { gain: tuned.parameters?.gain as number } })
  const moduli = loopMargins(model).map(({ margins }) => margins.modulusMargin)
  expect(moduli.length).toBe(2)
  expect(Math.min(...moduli)).toBeGreaterThanOrEqual(0.5 - 1e-3)
})
