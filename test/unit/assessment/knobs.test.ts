import { describe, expect, it } from 'vitest'
import { overOnePlus } from '../../../src/assessment/controlled-plant.js'
import { knobsOf } from '../../../src/assessment/knobs.js'
import { airSpring, idealActuator, type Point, springMount } from '../../../src/elements/index.js'
import { scopeOf } from '../../../src/internal/check.js'
import {
  activelyDampedIsolation,
  type IsolationModel,
  passiveIsolation,
  pneumaticIsolation,
  sixAxisIsolation,
  stackedIsolation,
  transmissibility,
} from '../../../src/isolation/index.js'

const payload = { mass: 100 }
const mount = { stiffness: 1e4, damping: 300, relaxations: [{ stiffness: 2e3, time: 0.05 }] }
const scaled = (all: number, dashpots = all) => ({
  stiffness: all * mount.stiffness,
  damping: dashpots * mount.damping,
  relaxations: mount.relaxations.map((each) => ({ ...each, stiffness: all * each.stiffness })),
})
const knobs = (model: IsolationModel) => knobsOf(scopeOf('test'), model)
const turned = (model: IsolationModel, parameter: string, factor: number) =>
  knobs(model)
    .find((each) => each.parameter === parameter)
    ?.turned(factor) as IsolationModel
/** Two models that pass the same of the floor, to rounding. */
const alike = (a: IsolationModel, b: IsolationModel) => {
  const [found, expected] = [a, b].map((model) => transmissibility(model, [0.5, 1.5, 2.5, 6, 40]))
  for (const part of ['re', 'im'] as const)
    expect(Array.from(found[part])).toEqual(Array.from(expected[part], (value) => expect.closeTo(value, 9)))
}
const air = airSpring({
  area: 0.01,
  volume: 5e-3,
  load: 980.665,
  diaphragmDamping: 50,
  dampingChamber: { volume: 5e-3, flowResistance: 1e8 },
})

describe('what can be turned', () => {
  const names = (model: IsolationModel) => knobs(model).map(({ parameter }) => parameter)

  it('are mounts, their dashpots, and the gain of every controller', () => {
    expect(names(passiveIsolation({ payload, mount }))).toEqual([
      'stiffness and damping of mounts',
      'dashpots of mounts',
    ])
    // A dashpot that is not there cannot be turned.
    expect(names(activelyDampedIsolation({ payload, mount: { stiffness: 1e4 }, damping: { gain: 100 } }))).toEqual([
      'stiffness and damping of mounts',
      'gain of controller',
    ])
  })

  it('are the mounts of each storey', () => {
    const storey = { concept: 'passive' as const, payload, mount }
    expect(names(stackedIsolation({ lower: { ...storey, mount: { stiffness: 1e4 } }, upper: storey }))).toEqual([
      'stiffness and damping of upper_mounts',
      'dashpots of upper_mounts',
      'stiffness and damping of lower_mounts',
    ])
  })

  it('are air springs, with their gas where they are levelled, and no valve', () => {
    const levelled = pneumaticIsolation({ payload, mount: air, levelling: { flowGain: 1e-3 } })
    expect(names(levelled)).toEqual(['stiffness and damping of mounts', 'dashpots of mounts'])
  })

  it('are the controllers of six axes one by one', () => {
    const feet = [-1, 1].flatMap((x) => [-1, 1].map((y): Point => [x, y, 0]))
    const place = { position: [0, 0, 0] as Point, direction: [0, 0, 1] as Point }
    const table = sixAxisIsolation({
      payload: {
        mass: 500,
        inertia: [90, 90, 160],
        centreOfMass: [0, 0, 0],
        supports: feet.map((position) => ({ position, mount: { ...mount, lateral: mount } })),
      },
      damping: {
        sensors: [place],
        actuators: [{ ...place, actuator: idealActuator() }],
        loops: [{ axis: 'Z', gain: 1e3 }],
      },
    })
    expect(names(table)).toEqual(['gain of controller1'])
  })
})

describe('a knob makes the model', () => {
  it('of mounts that many times as stiff, or of dashpots that many times as strong', () => {
    const model = passiveIsolation({ payload, mount })
    for (const factor of [0.5, 3]) {
      alike(
        turned(model, 'stiffness and damping of mounts', factor),
        passiveIsolation({ payload, mount: scaled(factor) }),
      )
      alike(turned(model, 'dashpots of mounts', factor), passiveIsolation({ payload, mount: scaled(1, factor) }))
    }
  })

  it('of one storey with other mounts, the other as it is', () => {
    const stack = (lower: number, upper: number) =>
      stackedIsolation({
        lower: { concept: 'passive', payload, mount: scaled(lower) },
        upper: { concept: 'passive', payload, mount: scaled(upper) },
      })
    alike(turned(stack(1, 1), 'stiffness and damping of lower_mounts', 3), stack(3, 1))
    alike(turned(stack(1, 1), 'stiffness and damping of upper_mounts', 3), stack(1, 3))
  })

  it('of levelled air with gas, diaphragm and valve behind it that much stiffer', () => {
    // T = q/(1 + q) with q = K/(m s²), of which K alone is turned
    const model = pneumaticIsolation({ payload, mount: air, levelling: { flowGain: 1e-3 } })
    const at = [0.1, 0.5, 2, 6, 40]
    const [plain, stiff] = [model, turned(model, 'stiffness and damping of mounts', 3)].map((each) =>
      transmissibility(each, at),
    )
    at.forEach((_, k) => {
      const T = { re: plain.re[k], im: plain.im[k] }
      const q = overOnePlus({ re: 3 * T.re, im: 3 * T.im }, { re: -T.re, im: -T.im })
      const expected = overOnePlus(q, q)
      expect([stiff.re[k], stiff.im[k]]).toEqual([expect.closeTo(expected.re, 9), expect.closeTo(expected.im, 9)])
    })
  })

  it('of coils that are stiffer and heavier, whose surge stays where it is', () => {
    const coils = (factor: number) =>
      passiveIsolation({
        payload,
        mount: springMount({
          stiffness: factor * 1e4,
          damping: factor * 20,
          surge: { mass: factor * 2, dampingRatio: 0.02, modes: 2 },
        }),
      })
    alike(turned(coils(1), 'stiffness and damping of mounts', 3), coils(3))
  })

  it('of a controller with that many times the gain, its delay as it is', () => {
    const late = (gain: number) => activelyDampedIsolation({ payload, mount, damping: { gain, delay: 2e-3 } })
    alike(turned(late(500), 'gain of controller', 2.5), late(1250))
  })

  it('and leaves the one it was taken from alone', () => {
    const model = passiveIsolation({ payload, mount })
    const before = structuredClone(model)
    turned(model, 'dashpots of mounts', 5)
    expect(model).toEqual(before)
  })
})
