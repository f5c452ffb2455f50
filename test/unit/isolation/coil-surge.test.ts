import { describe, expect, it } from 'vitest'
import { dynamicStiffness, mountsInParallel, springMount } from '../../../src/elements/index.js'
import {
  activelyDampedIsolation,
  passiveIsolation,
  seriesActiveIsolation,
  stackedIsolation,
  transmissibility,
} from '../../../src/isolation/index.js'
import { channel, frequencyResponse, magnitude, stability } from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

// 25 kg on a coil spring at 4 Hz; 0.4 kg of coils.
const [payloadMass, coils] = [25, 0.4]
const k = 15791.367
const spring = (modes: number, dampingRatio = 0) =>
  springMount({ stiffness: k, surge: { mass: coils, dampingRatio, modes } })
const modelOf = (modes: number) => passiveIsolation({ payload: { mass: payloadMass }, mount: spring(modes) })
const sizes = (modes: number, grid: number[]) => [...magnitude(transmissibility(modelOf(modes), grid))]

describe('a coil spring with the mass of its coils', () => {
  it('resonates at n/2·√(k/m) with both ends held', () => {
    // A. M. Wahl, Mechanical Springs, 1963 (from memory): √(15791.367/0.4)/2 = 99.346 Hz and its multiples.
    const { surge } = spring(3)
    expect(surge?.[0]?.naturalFrequency).toBeCloseTo(99.34588, 5)
    // Each of them lets K grow beyond all bounds: ten thousand times k at a distance of 1e-5 or nearer.
    for (const n of [1, 2, 3]) {
      const K = dynamicStiffness(spring(3), [99.3458826 * n])
      expect(Math.abs(K.re[0] as number) / k).toBeGreaterThan(1e4)
    }
  })

  it('passes on what a rod of its mass does', () => {
    // T = (θ/sin θ)/(θ·cot θ − (m/m_s)·θ²), θ = ω·√(m_s/k): longitudinal waves in a uniform rod with a mass at its end, as in
    // J. C. Snowdon, NBS Handbook 128, 1979 (from memory); computed from it with mpmath.
    const table = [
      [2, 1.33659944909],
      [50, 0.0101187706843],
      [90, 0.0189518605394],
      [120, 0.00697687576108],
      [150, 0.00337436719859],
      [190, 0.00971982748568],
    ] as const
    const found = sizes(
      20,
      table.map(([f]) => f),
    )
    // Left out are the modes above the twentieth: at the payload a mass of 2m_s/π²·Σ 1/n² < 1.6e-4 of it, and in the force
    // passed on about (θ/21π)²·sin θ/θ, 1.1e-3 at 150 Hz.
    table.forEach(([, expected], i) => {
      expect(Math.abs((found[i] as number) / expected - 1)).toBeLessThan(2e-3)
    })
  })

  it('with one mode holds up to beyond the first resonance', () => {
    const [whole, one] = [sizes(20, [20, 60, 95, 105]), sizes(1, [20, 60, 95, 105])]
    whole.forEach((size, i) => {
      expect(Math.abs((one[i] as number) / size - 1)).toBeLessThan(0.25)
    })
    expect(Math.abs((one[0] as number) / (whole[0] as number) - 1)).toBeLessThan(0.02)
  })

  it('loses far more isolation than the massless spring promises', () => {
    const massless = passiveIsolation({ payload: { mass: payloadMass }, mount: { stiffness: k } })
    const damped = passiveIsolation({ payload: { mass: payloadMass }, mount: spring(1, 0.005) })
    const at = (model: typeof damped) => magnitude(transmissibility(model, [99.346]))[0] as number
    expect(at(damped) / at(massless)).toBeGreaterThan(100)
  })

  it('moves as the floor does under slow motion, and stays stable with damping', () => {
    expect(sizes(5, [1e-4])[0]).toBeCloseTo(1, 7)
    expect(stability(passiveIsolation({ payload: { mass: 1 }, mount: spring(5, 0.01) }).closed).verdict).toBe('stable')
  })

  it('keeps the balance of forces: floor and payload feel together what accelerates the coils', () => {
    // With both ends moved alike no spring is stretched; the floor force is then that of the payload and of the coils in
    // odd modes: for slow motion −ω²(m + m_s·8/π²), computed by hand from the masses.
    const model = modelOf(1)
    const f = 0.5
    const response = frequencyResponse(model.closed, [f])
    const one = (output: string) => channel(response, { input: 'floorVelocity', output })
    const force = one('floorForce').im[0] as number
    const payload = one('payloadVelocity').re[0] as number
    const omega = 2 * Math.PI * f
    const mean = (1 + payload) / 2
    const inner = coils * (8 / Math.PI ** 2) * mean
    // Internal mass at mean/(1 − (f/f₁)²), f₁ = 99.346 Hz.
    expect(force / (-omega * (payloadMass * payload + inner / (1 - (f / 99.3458826) ** 2)))).toBeCloseTo(1, 8)
  })

  it('counts once per mount', () => {
    const four = passiveIsolation({
      payload: { mass: payloadMass },
      count: 4,
      mount: springMount({ stiffness: k / 4, surge: { mass: coils / 4, dampingRatio: 0.01, modes: 2 } }),
    })
    const all = passiveIsolation({ payload: { mass: payloadMass }, mount: spring(2, 0.01) })
    const grid = [1, 99, 198]
    const expected = magnitude(transmissibility(all, grid))
    magnitude(transmissibility(four, grid)).forEach((size, i) => {
      expect(size).toBeCloseTo(expected[i] as number, 12)
    })
  })

  it('stands beside other mounts and in every concept', () => {
    const mount = mountsInParallel(spring(1, 0.01), { stiffness: 1e3, damping: 20 })
    expect(mount.surge).toEqual(spring(1, 0.01).surge)
    const payload = { mass: payloadMass }
    const stage = { mass: 10, actuator: { stiffness: 1e8, stroke: 1e-5 }, sensorLocation: 'floor' as const }
    const controller = { gain: 0, highPass: 0.1, lowPass: 100 }
    const models = [
      passiveIsolation({ payload, mount }),
      activelyDampedIsolation({ payload, mount, damping: { gain: 0 } }),
      seriesActiveIsolation({ payload, mount, activeStage: { ...stage, mass: 1e-3, controller } }),
      stackedIsolation({
        lower: { concept: 'passive', payload: { mass: 1e-3 }, mount: { stiffness: 1e8, damping: 1 } },
        upper: { concept: 'passive', payload, mount },
      }),
    ]
    const [first, ...others] = models.map((model) => magnitude(transmissibility(model, [3, 95]))) as [Float64Array]
    // A stage of 1 g on 1e8 N/m is as good as no stage: 1 − k/1e8.
    for (const size of others as Float64Array[]) {
      expect((size[0] as number) / (first[0] as number)).toBeCloseTo(1, 3)
      expect((size[1] as number) / (first[1] as number)).toBeCloseTo(1, 2)
    }
  })

  it.each([
    [{ mass: 0, dampingRatio: 0 }, 'out-of-range', 'surge.mass'],
    [{ mass: 1 }, 'invalid-option', 'surge.dampingRatio'],
    [{ mass: 1, dampingRatio: 0, modes: 1.5 }, 'out-of-range', 'surge.modes'],
    [{ mass: 1, dampingRatio: 0, modes: 21 }, 'out-of-range', 'surge.modes'],
    [{ mass: 1, dampingRatio: 0, coils: 3 }, 'invalid-option', 'surge.coils'],
  ])('refuses the surge %o as %s at %s', (surge, code, path) => {
    expect(refusal(() => springMount({ stiffness: 1, surge } as never))).toMatchObject({ code, details: { path } })
  })

  it('is refused in a literal that is not complete', () => {
    const mount = { stiffness: 1, surge: [{ mass: 1, naturalFrequency: 1, dampingRatio: 0 }] }
    const { details } = refusal(() => passiveIsolation({ payload: { mass: 1 }, mount: mount as never }))
    expect(details.path).toBe('mount.surge[0].modes')
  })
})
