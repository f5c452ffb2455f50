import { describe, expect, it } from 'vitest'
import { airSpring, type Point, type RigidPayloadOptions } from '../../../src/elements/index.js'
import {
  type IsolationModel,
  loopMargins,
  type SixAxisIsolationOptions,
  sixAxisIsolation,
} from '../../../src/isolation/index.js'
import { channel, frequencyResponse, poles, stability } from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

/** One chamber of 2.5 l on 125 cm² under a quarter of a tonne: gas stiffness 26027.575 N/m. */
const spring = (more: object = {}) =>
  airSpring({
    area: 0.0125,
    volume: 0.0025,
    load: 2451.6625,
    diaphragmStiffness: 2000,
    diaphragmDamping: 50,
    lateral: { stiffness: 4e4, damping: 200 },
    ...more,
  })
/** Springs at ±0.5 and ±0.4 m, those of one side on one valve. */
const payload = (mount: object, more: object = {}): RigidPayloadOptions => ({
  mass: 1000,
  inertia: [100, 200, 270],
  centreOfMass: [0, 0, 0],
  gravity: 0,
  supports: [-0.5, 0.5].flatMap((x) =>
    [-0.4, 0.4].map((y) => ({
      position: [x, y, 0] as Point,
      mount: mount as ReturnType<typeof spring>,
      valveGroup: `side${x}`,
    })),
  ),
  ...more,
})
const model = (mount: object, options: Partial<SixAxisIsolationOptions> = {}) =>
  sixAxisIsolation({ payload: payload(mount), sharedLine: { flowResistance: 2e7 }, ...options })

function response(of: IsolationModel, input: string, output: string, frequencies: readonly number[]) {
  return channel(frequencyResponse(of.closed, frequencies, { inputs: [input], outputs: [output] }), { input, output })
}

describe('air springs that a line joins', () => {
  it('lose their rocking stiffness slowly: 2 k b² s τ/(1 + s τ) a pair, with τ = R A²/k', () => {
    // Computed from the closed form of two chambers and a resistance each, τ = 0.120065 s: rocking rate per moment
    // s/(I s² + 4 b² (k s τ/(1 + s τ) + k_d + c_d s)), ten digits.
    const expected = [
      [0.01, 4.843603075e-6, 4.858328889e-5],
      [0.1, 2.35068863e-4, 2.471316649e-4],
      [1, 6.547610431e-4, 2.690754125e-4],
      [5, 2.396776734e-5, -3.823097706e-4],
    ]
    const grid = expected.map(([frequency]) => frequency)
    const found = response(model(spring()), 'payloadForceRx', 'payloadVelocityRx', grid)
    expected.forEach(([, re, im], k) => {
      expect(Math.hypot(found.re[k] - re, found.im[k] - im)).toBeLessThan(1e-8 * Math.hypot(re, im))
    })
  })

  it('move straight up and about the other axis as they would alone, with damping chambers too', () => {
    const grid = [0.2, 1, 2.5, 8]
    for (const mount of [spring(), spring({ dampingChamber: { volume: 0.005, flowResistance: 'optimal' } })]) {
      const alone = sixAxisIsolation({ payload: payload(mount) })
      const joined = model(mount)
      for (const axis of ['Z', 'Ry']) {
        const [a, b] = [alone, joined].map((of) => response(of, `payloadForce${axis}`, `payloadVelocity${axis}`, grid))
        const size = Math.max(...a.re.map(Math.abs), ...a.im.map(Math.abs))
        a.re.forEach((re, k) => {
          expect(Math.hypot(re - b.re[k], a.im[k] - b.im[k])).toBeLessThan(1e-11 * size)
        })
      }
    }
  })

  it('are apart behind a line that lets nothing through, and as one behind one that resists nothing', () => {
    const grid = [0.5, 2, 6]
    const rocking = (of: IsolationModel) => response(of, 'payloadForceRx', 'payloadVelocityRx', grid)
    const mount = spring({ dampingChamber: { volume: 0.005, flowResistance: 'optimal' } })
    const shut = rocking(model(mount, { sharedLine: { flowResistance: 1e16 } }))
    const apart = rocking(sixAxisIsolation({ payload: payload(mount) }))
    const open = rocking(model(mount, { sharedLine: { flowResistance: 1 } }))
    grid.forEach((frequency, k) => {
      expect(Math.hypot(shut.re[k] - apart.re[k], shut.im[k] - apart.im[k])).toBeLessThan(1e-7 * Math.abs(apart.im[k]))
      // Only the diaphragms are left: K = 4·0.16·(2000 + 50 s) N·m/rad and I = 100 kg·m². Computed.
      const omega = 2 * Math.PI * frequency
      const [re, im] = [1280 - 100 * omega ** 2, 32 * omega]
      const size = (omega * 1) / Math.hypot(re, im)
      expect(Math.hypot(open.re[k], open.im[k]) / size).toBeCloseTo(1, 5)
    })
  })

  it('let a tall load lean over slowly that stands in a vibration test', () => {
    // 1000 kg at 0.4 m over the plane of the springs, stiff sideways: fast stiffness 17938 N·m/rad against m g h = 3923, but
    // 1280 without the gas. Computed from the closed form I s² + C s + K − m g h + K_f s τ/(1 + s τ), I = 250 kg·m²: growth
    // at 1.26763 1/s. Lateral springs of 1e9 N/m stand for the pivot.
    const mount = spring({ lateral: { stiffness: 1e9, damping: 1e5 } })
    const tall = { mass: 1000, inertia: [90, 90, 100] as const, centreOfMass: [0, 0, 0.4] as const, gravity: 9.80665 }
    const build = (more: object) => sixAxisIsolation({ payload: payload(mount, tall), tipping: 'model', ...more })
    expect(stability(build({}).closed).verdict).toBe('stable')
    const unstable = poles(build({ sharedLine: { flowResistance: 2e7 } }).closed).filter(({ re }) => re > 1e-9)
    expect(unstable.map(({ im }) => im)).toEqual([0])
    expect(unstable[0].re).toBeCloseTo(1.26763, 4)
  })

  it.each([
    [{ sharedLine: { flowResistance: 0 } }, 'out-of-range', 'sharedLine.flowResistance'],
    [{ sharedLine: {} }, 'invalid-option', 'sharedLine.flowResistance'],
    [{ feet: 'independent' }, 'unsupported', 'sharedLine'],
    [
      {
        payload: payload(spring(), { supports: payload(spring()).supports.map(({ valveGroup: _, ...foot }) => foot) }),
      },
      'invalid-option',
      'sharedLine',
    ],
  ])('is refused with %j', (options, code, path) => {
    const error = refusal(() => model(spring(), options as object))
    expect([error.code, error.details.path]).toEqual([code, path])
  })
})

describe('levelling in six axes', () => {
  /** Springs of 200 N·s/m without diaphragm stiffness, stiff sideways, one pair on one valve; 1000 kg at 0.4 m. */
  const levelled = (rate: number, more: object = {}) => {
    const mount = airSpring({
      area: 0.0125,
      volume: 0.0025,
      load: 2451.6625,
      diaphragmDamping: 200,
      lateral: { stiffness: 1e9, damping: 1e6 },
    })
    const { supports } = payload(mount)
    return sixAxisIsolation({
      payload: {
        mass: 1000,
        inertia: [120, 200, 270],
        centreOfMass: [0, 0, 0.4],
        supports: supports.map(({ valveGroup, ...foot }, i) => (i < 2 ? { ...foot, valveGroup } : foot)),
      },
      levelling: { flowGain: 0.0125 * rate },
      ...more,
    })
  }

  it('in rocking bears κ < (c_θ/I)(1 − m g h/k_θ), here less than vertically', () => {
    // Computed from the closed form of Routh: c_θ = 200 N·m·s, I = 360 kg·m², k_θ = 26027.575 and m g h = 3922.66 N·m/rad
    // give 0.4718268 1/s at 1.247135 Hz; vertically c/m = 0.8 1/s.
    expect(stability(levelled(0.4718268 * 0.999).closed).verdict).toBe('stable')
    const above = levelled(0.4718268 * 1.001).closed
    expect(stability(above)).toMatchObject({ verdict: 'unstable', unstablePoles: 2 })
    const hunting = poles(above).find(({ re, im }) => re > 0 && im > 0)
    expect(hunting?.naturalFrequency).toBeCloseTo(1.247135, 3)
  })

  it('has margins loop by loop with the others closed', () => {
    const list = loopMargins(levelled(0.1))
    expect(list.map(({ name }) => name)).toEqual(['levelling1', 'levelling2', 'levelling3'])
    for (const { margins } of list) {
      expect(margins.closedLoop).toBe('stable')
      // Each is at least as far from its limit as all of them together, 0.4718/0.1.
      expect(margins.gainMargin ?? Number.POSITIVE_INFINITY).toBeGreaterThan(4.718)
    }
  })
})
