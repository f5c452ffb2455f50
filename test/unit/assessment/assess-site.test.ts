import { describe, expect, it } from 'vitest'
import { assess, type Site } from '../../../src/assessment/index.js'
import { idealActuator, type Point } from '../../../src/elements/index.js'
import {
  activelyDampedIsolation,
  passiveIsolation,
  simultaneousLoopMargin,
  sixAxisIsolation,
} from '../../../src/isolation/index.js'
import { type Spectrum, spectrum } from '../../../src/vibration/index.js'
import { refusal } from '../refusal.js'
import { flatFloor, voigt } from './sites.js'

/** Straight pieces in log-log hold to 1e-4 of a density, half of that in an rms. */
const pieces = 1e-4
const floor = flatFloor(1e-12, 0.5, 100)
const loud = flatFloor(4e-12, 0.5, 100)
const off = (found: number | null | undefined, expected: number) => Math.abs((found ?? 0) / expected - 1)

describe('the floor by axis', () => {
  const ratio = (change: Partial<Site>) => assess(voigt(2.5, 0.1), { floor, criterion: 'VC-E', ...change })

  it('is z for a model of one axis, unless another is asked for', () => {
    const alone = ratio({}).payload?.worst.ratio ?? 0
    expect(ratio({ floor: { x: floor, z: loud } }).payload?.worst.ratio).toBeCloseTo(2 * alone, 9)
    expect(ratio({ floor: { x: floor, z: loud }, axis: 'x' })).toMatchObject({ axis: 'x', otherAxes: [] })
    expect(ratio({ floor: { x: floor, z: loud }, axis: 'x' }).payload?.worst.ratio).toBeCloseTo(alone, 9)
    expect([ratio({ floor: { y: floor } }).axis, ratio({}).axis, ratio({ axis: 'y' }).axis]).toEqual(['y', null, 'y'])
  })

  it('takes the force along the same axis', () => {
    const force = spectrum({ quantity: 'force', frequency: [0.5, 100], density: [1e-9, 1e-9] })
    const site = { floor: { x: floor, z: floor } }
    expect(ratio({ ...site, payloadForce: { x: force } }).payload).toEqual(ratio(site).payload)
    expect(ratio({ ...site, payloadForce: { z: force } }).payload).toEqual(ratio({ payloadForce: force }).payload)
  })

  it.each([
    [{ floor: { x: floor, y: floor } }, 'invalid-option', 'axis'],
    [{ floor: { x: floor }, axis: 'z' }, 'invalid-option', 'axis'],
    [{ floor: { x: { ...floor, quantity: 'force' } } }, 'invalid-option', 'floor.x.quantity'],
    [{ floor: { w: floor } }, 'invalid-option', 'floor.w'],
    [{ floor: {} }, 'invalid-option', 'floor.quantity'],
    [{ axis: 'up' }, 'invalid-option', 'axis'],
    [{ payloadForce: { z: floor } }, 'invalid-option', 'payloadForce.z.quantity'],
    [{ statistic: 'peak' }, 'invalid-option', 'statistic'],
    [{ statistic: 'maximum', duration: 60 }, 'invalid-option', 'duration'],
    [{ confidence: 0.9 }, 'invalid-option', 'confidence'],
    [{ sensorNoise: flatFloor(1e-20, 2, 50) }, 'out-of-range', 'sensorNoise.frequency'],
    [{ moves: [] }, 'invalid-option', 'settling'],
    [{ settling: { band: 1e-6 } }, 'invalid-option', 'settling'],
    [{ tolerance: { limit: 0 } }, 'out-of-range', 'tolerance.limit'],
    [{ tolerance: { limit: 1, of: 'lens' } }, 'unknown-port', 'tolerance.of'],
    [{ tolerance: { limit: 1, exposure: 0 } }, 'out-of-range', 'tolerance.exposure'],
    [{ tolerance: { limit: 1, measure: 'most' } }, 'invalid-option', 'tolerance.measure'],
  ])('is refused: %o', (change, code, path) => {
    const error = refusal(() => ratio(change as Partial<Site>))
    expect([error.code, error.details.path, error.details.function]).toEqual([code, path, 'assess'])
  })
})

describe('six axes', () => {
  const mount = { stiffness: 25e4, damping: 3e3, lateral: { stiffness: 9e4, damping: 900 } }
  const supports = [-1, 1].flatMap((x) => [-1, 1].map((y) => ({ position: [x, y, 0] as Point, mount })))
  const payload = { mass: 1000, inertia: [90, 90, 160] as const, centreOfMass: [0, 0, 0] as const, supports }
  const model = sixAxisIsolation({ payload, points: { tool: [0.5, 0, 0.5] } })
  const along = (stiffness: number, damping: number) =>
    passiveIsolation({ payload: { mass: 1000 }, mount: { stiffness, damping }, count: 4 })

  it('are judged one by one, the nearest to its limit first, as models of one axis are', () => {
    const result = assess(model, { floor: { x: floor, z: loud }, criterion: 'VC-E' })
    const [x, z] = [
      assess(along(9e4, 900), { floor, criterion: 'VC-E' }),
      assess(along(25e4, 3e3), { floor: loud, criterion: 'VC-E' }),
    ]
    expect([result.axis, ...result.otherAxes.map(({ axis }) => axis)]).toEqual(['z', 'x'])
    const first = result.otherAxes[0]
    expect(off(result.payload?.worst.ratio, z.payload?.worst.ratio ?? 0)).toBeLessThan(pieces)
    expect(off(first?.payload?.worst.ratio, x.payload?.worst.ratio ?? 0)).toBeLessThan(pieces)
    expect(off(first?.staticCompliance, x.staticCompliance ?? 0)).toBeLessThan(1e-9)
    expect(off(first?.transmissibility.peak, x.transmissibility.peak)).toBeLessThan(1e-6)
    expect(off(first?.floorForce, x.floorForce ?? 0)).toBeLessThan(pieces)
    expect(result.reasons.some((reason) => reason.startsWith('along x, worst band'))).toBe(true)
    expect(result.cautions.join()).not.toContain('one axis')
  })

  it('stand all on a single spectrum', () => {
    const { axis, otherAxes } = assess(model, { floor, criterion: 'VC-E' })
    expect([axis, ...otherAxes.map((each) => each.axis)].sort()).toEqual(['x', 'y', 'z'])
  })

  it('have the tool where its point is', () => {
    const { tolerance } = assess(model, { floor, criterion: 'VC-E', tolerance: { of: 'tool', limit: 1e-6 } })
    expect(tolerance?.motion.map(({ axis }) => axis).sort()).toEqual(['x', 'y', 'z'])
    expect(tolerance?.ratio).toBe((tolerance?.motion[0]?.value ?? 0) / 1e-6)
  })

  it('refuse an axis of one', () => {
    expect(refusal(() => assess(model, { floor, criterion: 'VC-E', axis: 'z' })).code).toBe('unsupported')
  })
})

describe('what an assessment says beside the verdict', () => {
  it('where the payload moves more than the bare floor', () => {
    // |T|² = 1.01 of a mount at 2.1 Hz, ζ = 0.08: root of the closed form; T is above 1 up to √2·2.1 Hz.
    const { worseThanFloor } = assess(voigt(2.1, 0.08), { floor, criterion: 'VC-E' })
    expect(worseThanFloor.length).toBe(1)
    expect(worseThanFloor[0]?.[0]).toBeCloseTo(0.5, 9)
    expect(worseThanFloor[0]?.[1]).toBeCloseTo(2.96597, 2)
  })

  it('the rms and the force on the floor', () => {
    const model = passiveIsolation({
      payload: { mass: 500 },
      mount: { stiffness: 123370.055013617, damping: 1570.7963267949 },
    })
    const result = assess(model, { floor, criterion: 'VC-E' })
    // 2.5 Hz, ζ = 0.1: ∫|T|² S and ∫|m ω T|² S from 0.5 to 100 Hz by quadrature.
    expect(off(result.rms, 4.461392159050826e-6)).toBeLessThan(pieces)
    expect(off(result.floorForce, 0.03872778254004488)).toBeLessThan(pieces)
    expect(result.neighbourBands).toBeNull()
  })

  it('what that force does to a neighbour', () => {
    const model = passiveIsolation({
      payload: { mass: 500 },
      mount: { stiffness: 123370.055013617, damping: 1570.7963267949 },
      floor: { modes: [{ modalMass: 20000, naturalFrequency: 12, dampingRatio: 0.03, neighbourShape: 0.5 }] },
    })
    const { neighbourBands } = assess(model, { floor, criterion: 'VC-E' })
    // φ Y F in the 12.5 Hz band by quadrature of the closed form, Y the mobility of the mode and F the force of the mount.
    const band = neighbourBands?.bands.find(({ nominal }) => nominal === 12.5)
    expect(off(band?.rms, 1.2369349865819402e-8)).toBeLessThan(pieces)
  })

  it('what all loops bear at once', () => {
    const model = activelyDampedIsolation({
      payload: { mass: 100 },
      mount: { stiffness: 1e4 },
      damping: { gain: 2000, delay: 0.01 },
    })
    const { allLoops, reasons } = assess(model, { floor, criterion: 'VC-E' })
    expect(allLoops).toEqual(simultaneousLoopMargin(model, { proof: 'without-delay' }))
    expect(reasons.length).toBeGreaterThan(1)
  })
})

describe('the noise of the model’s own instruments', () => {
  const table = (from: number, to: number) => ({
    frequency: Float64Array.of(from, to),
    amplitudeDensity: Float64Array.of(1e-4, 1e-4),
  })
  const model = (from: number, to: number) =>
    activelyDampedIsolation({
      payload: { mass: 100 },
      mount: { stiffness: 1e4 },
      damping: { gain: 2000, actuator: { ...idealActuator(), noise: table(from, to) } },
    })
  const level = (nominal: number, from: number, to: number) =>
    assess(model(from, to), { floor, criterion: 'VC-G' }).bands?.bands.find((band) => band.nominal === nominal)?.rms

  it('counts where it is known', () => {
    // In the 10 Hz band ∫|s/(m s² + g s + k)|² n² = (2.3570045e-8)² (m/s)², added to that of the floor, (3.7827849e-8)²
    // of 1 µm/s/√Hz: by quadrature of the closed forms.
    expect(off(level(10, 0.1, 1000), 4.457009e-8)).toBeLessThan(pieces)
    expect(off(level(10, 20, 1000), 3.7827849e-8)).toBeLessThan(pieces)
    expect(level(1, 20, 1000)).toBe(level(1, 30, 1000))
  })

  it('is named where it is not', () => {
    const { noise, reasons } = assess(model(0.1, 1000), { floor, criterion: 'VC-G' })
    expect(Object.keys(noise?.contributions ?? {})).toEqual(['floor', 'actuatorNoise'])
    expect(noise?.unknown).toEqual(['sensorNoise'])
    expect(reasons.some((reason) => reason.includes('sensorNoise'))).toBe(true)
  })
})

describe('what is not known about the levels', () => {
  const site: Site = { floor, criterion: 'VC-E' }
  const result = (change: Partial<Site>) => assess(voigt(2.5, 0.12), { ...site, ...change })

  it('leaves a verdict open that a longer record settles', () => {
    // 2.864 µm/s in the 2.5 Hz band against 3.125 µm/s: decided at face value; in 60 s the band has 2·0.577·60 = 69 degrees
    // of freedom and a level may be off by 15 %, in 6000 s by 1.5 %. J. S. Bendat, A. G. Piersol, Random Data, chapter 8.
    expect([result({}).verdict, result({ duration: 60 }).verdict, result({ duration: 6000 }).verdict]).toEqual([
      'pass',
      'undecided',
      'pass',
    ])
    expect(result({ duration: 60 }).reasons[0]).toMatch(
      /^worst band of the payload: .*; not decided: .*2\.5 Hz \(record\)/,
    )
  })

  it('leaves it open where the sensor may have made the level, through the mount as the floor', () => {
    const high = { floor: flatFloor(4e-12, 0.5, 100) }
    expect(result(high).verdict).toBe('fail')
    const open = result({ ...high, sensorNoise: flatFloor(3.9e-12, 0.5, 100) })
    expect(open.verdict).toBe('undecided')
    expect(open.payload?.doubts[0]?.causes).toContain('sensor')
  })

  it('states how the levels were taken over time', () => {
    const most: Spectrum = { ...floor, average: 'maximum' }
    expect(result({ floor: most }).payload?.statistic).toBe('maximum')
    expect(result({ floor: most, statistic: 'percentile' }).payload?.statistic).toBe('percentile')
    expect(result({}).floor.statistic).toBe('average')
  })
})

describe('the tolerance of a tool', () => {
  // So stiff that |T| is 1 within 1e-6 up to 100 Hz.
  const rigid = voigt(1e5, 0.1)
  const band = spectrum({ quantity: 'displacement', frequency: [1, 100], density: [1e-18, 1e-18] })
  const finding = (tolerance: Site['tolerance']) =>
    assess(rigid, { floor: band, criterion: 'VC-A', tolerance: tolerance as never }).tolerance

  it.each([
    // ∫ S (1 − sinc²(πfT)) df from 1 to 100 Hz with S = 1 nm²/Hz, by quadrature.
    [undefined, 9.9498743710662e-9],
    [0.5, 9.938597556623204e-9],
    [0.05, 9.497341755720585e-9],
  ])('counts what moves about the mean over %s s', (exposure, expected) => {
    const found = finding({ limit: 1e-8, ...(exposure === undefined ? {} : { exposure }) })
    expect(off(found?.motion[0]?.value, expected)).toBeLessThan(3 * pieces)
    expect(found?.range[0]).toBeCloseTo(1, 9)
  })

  it('may bound three times the rms', () => {
    const site: Site = { floor: band, criterion: 'VC-A', tolerance: { limit: 2e-8, measure: 'peak' } }
    const result = assess(rigid, site)
    expect(off(result.tolerance?.ratio, (3 * 9.9498743710662e-9) / 2e-8)).toBeLessThan(3 * pieces)
    expect(result.verdict).toBe('fail')
    expect(result.reasons[0]).toBe('motion of payload: 29.8 nm 3 rms, 20 nm allowed')
    expect(assess(rigid, { ...site, tolerance: { limit: 2e-8 } }).verdict).toBe('pass')
  })

  it('may be that of the mounts’ stretch', () => {
    const { tolerance } = assess(voigt(2.5, 0.1), { floor, criterion: 'VC-A', tolerance: { of: 'stretch', limit: 1 } })
    // ∫ |(T − 1)/ω|² S from 0.5 to 100 Hz by quadrature.
    expect(off(tolerance?.motion[0]?.value, 2.8159495793178966e-7)).toBeLessThan(pieces)
  })
})
