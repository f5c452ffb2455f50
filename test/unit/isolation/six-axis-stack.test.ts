import { describe, expect, it } from 'vitest'
import { airSpring, type Point } from '../../../src/elements/index.js'
import {
  type IsolationModel,
  type IsolationOptions,
  loopMargins,
  type SixAxisIsolationOptions,
  stackedIsolation,
} from '../../../src/isolation/index.js'
import { channel, dcGain, frequencyResponse, poles } from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

type Stage = { readonly concept: 'sixAxis' } & SixAxisIsolationOptions

const frequencies = [0.3, 1.1, 2.7, 9, 40]
const corners = (x: number, y: number, z: number): Point[] =>
  [-x, x].flatMap((left) => [-y, y].map((front): Point => [left, front, z]))
const law = (stiffness: number, side: number, damping = 0) => ({
  stiffness,
  damping,
  lateral: { stiffness: side, damping },
})
const on = (places: readonly Point[], mount: object) => places.map((position) => ({ position, mount: mount as never }))

/** 300 kg off the middle, on three mounts, on 900 kg off the middle, on four. */
const lower: Stage = {
  concept: 'sixAxis',
  payload: {
    mass: 900,
    inertia: [150, 130, 250],
    centreOfMass: [0.05, -0.02, 0.3],
    supports: on(corners(0.7, 0.5, 0), law(6e4, 4e4)),
  },
}
const upper: Stage = {
  concept: 'sixAxis',
  payload: {
    mass: 300,
    inertia: [20, 24, 30],
    centreOfMass: [0.1, 0.03, 0.95],
    supports: on(
      [
        [-0.3, -0.3, 0.6],
        [0.4, -0.3, 0.6],
        [0.1, 0.35, 0.6],
      ],
      law(2.5e4, 9e3),
    ),
  },
}

function response(model: IsolationModel, input: string, output: string) {
  return channel(frequencyResponse(model.closed, frequencies, { inputs: [input], outputs: [output] }), {
    input,
    output,
  })
}

function distance(a: { re: Float64Array; im: Float64Array }, b: { re: Float64Array; im: Float64Array }): number {
  return Math.max(...Array.from(a.re, (re, k) => Math.hypot(re - b.re[k], a.im[k] - b.im[k])))
}

/** A few roundings of numbers of the order of 1 to 10. */
const rounding = 1e-12

describe('a stack in six axes', () => {
  it('is the stack of one axis along z, with valves below and a loop above', () => {
    const spring = airSpring({
      area: 0.0125,
      volume: 0.001,
      load: (1200 * 9.80665) / 4,
      diaphragmDamping: 300,
      dampingChamber: { volume: 0.002, flowResistance: 'optimal' },
      lateral: { stiffness: 5e4, damping: 300 },
    })
    const levelling = { flowGain: 0.004 }
    const mount = law(4e5, 3e5, 400)
    const path = { sensor: { naturalFrequency: 0.5, dampingRatio: 0.7 }, actuator: { bandwidth: 80 } }
    const one = stackedIsolation({
      lower: { concept: 'pneumatic', payload: { mass: 900 }, mount: spring, count: 4, levelling },
      upper: {
        concept: 'activelyDamped',
        payload: { mass: 300 },
        mount,
        count: 4,
        damping: { gain: 6000, ...path, delay: 0.001 },
      },
    })
    const feet = on(corners(0.7, 0.5, 0), spring)
    const above = corners(0.3, 0.3, 0.6)
    const place = (list: readonly Point[]) => list.map((position) => ({ position, direction: [0, 0, 1] as const }))
    const six = stackedIsolation({
      lower: {
        ...lower,
        payload: {
          ...lower.payload,
          centreOfMass: [0, 0, 0.3],
          supports: feet.map((foot, i) => (i < 2 ? { ...foot, valveGroup: 'left' } : foot)),
        },
        levelling,
      },
      upper: {
        ...upper,
        payload: { ...upper.payload, centreOfMass: [0, 0, 0.95], supports: on(above, mount) },
        damping: {
          sensors: place(above).map((at) => ({ ...at, sensor: path.sensor })),
          actuators: place(above).map((at) => ({ ...at, actuator: path.actuator })),
          loops: [{ axis: 'Z', gain: 6000 }],
          delay: 0.001,
        },
      },
    })
    for (const [from, to] of [
      ['floorVelocity', 'payloadVelocity'],
      ['floorVelocity', 'lower_payloadVelocity'],
      ['payloadForce', 'lower_stretch'],
      ['lower_payloadForce', 'stretch'],
      ['reactionForce', 'floorForce'],
    ]) {
      expect(distance(response(six, `${from}Z`, `${to}Z`), response(one, from, to))).toBeLessThan(rounding)
    }
    const names = loopMargins(six).map(({ name }) => name)
    expect(names).toEqual(['damping, Z', 'lower_levelling1', 'lower_levelling2', 'lower_levelling3'])
    const [single] = loopMargins(one)
    expect(loopMargins(six)[0].margins.modulusMargin).toBeCloseTo(single.margins.modulusMargin, 9)
  })

  it('has the modes of the second derivatives of its potential, weights and preloads included', () => {
    // Computed in 50 digits from the potential energy of two bodies with finite rotations,
    // test/reference/generators/six_axis_stack.py; ten digits printed.
    const expected = [
      0.898901303, 0.9541765627, 1.842744724, 1.948085954, 2.113917411, 2.180569109, 3.131830237, 3.270243918,
      3.5657976, 3.705054188, 4.167329956, 5.245590857,
    ]
    const found = poles(stackedIsolation({ lower, upper }).closed)
      .flatMap(({ im, naturalFrequency }) => (im > 0 ? [naturalFrequency] : []))
      .sort((a, b) => a - b)
    expect(found).toHaveLength(12)
    found.forEach((frequency, i) => {
      expect(Math.abs(frequency / expected[i] - 1)).toBeLessThan(1e-8)
    })
  })

  it('leans over at every storey when the floor turns', () => {
    // Same source: static equilibrium on a floor turned by 1 rad about x, then about y.
    const { closed } = stackedIsolation({ lower: damped(lower), upper: damped(upper) })
    const still = dcGain(closed)
    const at = (output: string, input: string) => still[closed.outputs.indexOf(output)][closed.inputs.indexOf(input)]
    expect(at('payloadVelocityRx', 'floorVelocityRx')).toBeCloseTo(1.3018803208, 9)
    expect(at('payloadVelocityRy', 'floorVelocityRy')).toBeCloseTo(1.2669675615, 9)
    expect(at('payloadVelocityRz', 'floorVelocityRx')).toBeCloseTo(-0.029121263, 9)
    expect(at('lower_payloadVelocityRx', 'floorVelocityRx')).toBeCloseTo(1.1099464886, 9)
    expect(at('lower_payloadVelocityRz', 'floorVelocityRx')).toBeCloseTo(-0.0062119827, 9)
    for (const axis of ['X', 'Y', 'Z', 'Rz']) {
      expect(at(`payloadVelocity${axis}`, `floorVelocity${axis}`)).toBeCloseTo(1, 10)
    }
  })

  it('answers force and motion alike in both directions: reciprocity of two bodies', () => {
    const model = stackedIsolation({ lower: damped(lower), upper: damped(upper) })
    for (const [above, below] of [
      ['Rx', 'Y'],
      ['X', 'Ry'],
      ['Rz', 'Rx'],
      ['Z', 'Rx'],
    ]) {
      const down = response(model, `payloadForce${above}`, `lower_payloadVelocity${below}`)
      const up = response(model, `lower_payloadForce${below}`, `payloadVelocity${above}`)
      const size = Math.max(...down.re.map(Math.abs), ...down.im.map(Math.abs))
      expect(distance(down, up)).toBeLessThan(1e-11 * size)
    }
  })

  it('does not depend on the references', () => {
    const points = { tool: [0.2, 0.1, 1.2] as Point }
    const build = (a: Point, b: Point) =>
      stackedIsolation({
        lower: { ...damped(lower), reference: a },
        upper: { ...damped(upper), reference: b, points },
      })
    const [usual, other] = [build([0, 0, 0], [0, 0, 0]), build([0, 0, 0], [0.4, -0.3, 0.8])]
    for (const input of ['floorVelocityX', 'floorVelocityRy', 'lower_payloadForceZ']) {
      for (const output of ['toolVelocityX', 'toolVelocityZ', 'lower_payloadVelocityRx', 'floorForceRx']) {
        const [a, b] = [usual, other].map((model) => response(model, input, output))
        const size = Math.max(1, ...a.re.map(Math.abs), ...a.im.map(Math.abs))
        expect(distance(a, b)).toBeLessThan(1e-11 * size)
      }
    }
    const list = (model: IsolationModel) =>
      poles(model.closed)
        .map(({ re, im }) => [re, im])
        .sort((p, q) => p[1] - q[1] || p[0] - q[0])
    const expected = list(usual)
    list(build([0.3, 0.2, -0.5], [-0.2, 0.5, 0.1])).forEach(([re, im], k) => {
      expect(Math.hypot(re - expected[k][0], im - expected[k][1])).toBeLessThan(1e-9 * Math.hypot(...expected[k]))
    })
  })

  it('of three storeys is the same put together from the top or from the bottom', () => {
    const middle: Stage = {
      concept: 'sixAxis',
      payload: {
        mass: 200,
        inertia: [20, 20, 30],
        centreOfMass: [0.05, 0, 0.5],
        supports: on(corners(0.5, 0.4, 0.4), law(5e5, 4e5)),
      },
    }
    const parts = [lower, middle, upper].map(damped)
    const up = stackedIsolation({
      lower: { concept: 'stacked', lower: parts[0], upper: parts[1] },
      upper: parts[2],
    })
    const down = stackedIsolation({
      lower: parts[0],
      upper: { concept: 'stacked', lower: parts[1], upper: parts[2] },
    })
    expect(up.closed).toEqual(down.closed)
    expect(poles(up.closed).every(({ re }) => re < 0)).toBe(true)
    const still = dcGain(up.closed)
    expect(
      still[up.closed.outputs.indexOf('payloadVelocityX')][up.closed.inputs.indexOf('floorVelocityX')],
    ).toBeCloseTo(1, 10)
  })
})

/** The same with 5 N·s/m per 100 N/m of every spring. */
function damped(stage: Stage): Stage {
  const supports = stage.payload.supports.map((support) => {
    const { stiffness, lateral } = support.mount as ReturnType<typeof law>
    return { ...support, mount: law(stiffness, lateral.stiffness, 0.005 * stiffness) }
  })
  return { ...stage, payload: { ...stage.payload, supports } as Stage['payload'] }
}

describe('a stack in six axes is refused', () => {
  const stack = (below: IsolationOptions, above: IsolationOptions) =>
    refusal(() => stackedIsolation({ lower: below, upper: above }))

  it('where it tips because what stands above leans over, though it would stand if that were rigid', () => {
    // Computed from the closed form k_θ − g (m₁h₁ + m₂z₂) − (m₂g)²/k_h − (m₂ g h)²/(k_θ₂ − m₂ g h): with the upper storey
    // stiff 2126 N·m/rad are left, as it is −324.
    const below: Stage = {
      concept: 'sixAxis',
      payload: {
        mass: 300,
        inertia: [20, 20, 30],
        centreOfMass: [0, 0, 0.1],
        supports: on(corners(0.4, 0.4, 0), law(7000, 1e5)),
      },
    }
    const above: Stage = {
      concept: 'sixAxis',
      payload: {
        mass: 300,
        inertia: [20, 20, 30],
        centreOfMass: [0, 0, 0.7],
        supports: on(corners(0.3, 0.3, 0.4), law(1e4, 1e3)),
      },
    }
    const error = stack(below, above)
    expect([error.code, error.details.path]).toEqual(['unstable', 'lower.payload'])
    expect(error.details.value).toBeCloseTo(-324, 0)
    const stiff = { ...above, payload: { ...above.payload, supports: on(corners(0.3, 0.3, 0.4), law(1e8, 1e8)) } }
    expect(() => stackedIsolation({ lower: below, upper: stiff })).not.toThrow()
  })

  it('with air springs below that are set for the lower payload alone', () => {
    const spring = airSpring({ area: 0.0125, volume: 0.004, load: 2206.5, lateral: { stiffness: 5e4 } })
    const supports = on(corners(0.7, 0.5, 0), spring)
    const error = stack({ ...lower, payload: { ...lower.payload, centreOfMass: [0, 0, 0.3], supports } }, upper)
    expect([error.code, error.details.path]).toEqual(['invalid-option', 'lower.payload.supports[0].mount'])
  })

  it('with one axis below or above', () => {
    const single: IsolationOptions = { concept: 'passive', payload: { mass: 300 }, mount: { stiffness: 1e5 } }
    for (const error of [stack(single, upper), stack(lower, single)]) {
      expect([error.code, error.details.path]).toEqual(['unsupported', 'upper.concept'])
    }
  })

  it('with another gravity, and with feet apart under what measures where it stands', () => {
    const floating = { ...upper, payload: { ...upper.payload, gravity: 0 } } as Stage
    expect(stack(lower, floating).details.path).toBe('lower.payload.gravity')
    const held: Stage = {
      ...upper,
      damping: {
        sensors: corners(0.3, 0.3, 0.6).map((position) => ({ position, direction: [0, 0, 1] })),
        actuators: corners(0.3, 0.3, 0.6).map((position) => ({ position, direction: [0, 0, 1] })),
        loops: [{ axis: 'Z', gain: 0, position: { stiffness: 1e4 } }],
      },
    }
    expect(stack({ ...lower, feet: 'independent' }, held).details.path).toBe('lower.feet')
  })
})
