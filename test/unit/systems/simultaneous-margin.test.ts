import { describe, expect, it } from 'vitest'
import {
  type Diagram,
  delay,
  gain,
  integrator,
  lowPass,
  type StateSpace,
  series,
  simultaneousMargin,
  transferFunction,
} from '../../../src/systems/index.js'
import { delayBound } from '../../../src/systems/proven-disk.js'

const plantOf = (K: number, a: number) => transferFunction({ numerator: [K], denominator: [1, a, 0] })
const marginOf = (diagram: Diagram, ports: string[]) => simultaneousMargin(diagram as never, ports as never)

/** Loops K/(s(s + a)) beside each other, which do not act on each other. */
const sideBySide = (...loops: [number, number][]) =>
  marginOf(
    {
      blocks: Object.fromEntries(loops.map(([K, a], k) => [`p${k}`, plantOf(K, a)])),
      inputs: ['disturbance'],
      outputs: { motion: 'p0.y1' },
      wires: Object.fromEntries(loops.map((_, k) => [`p${k}.u1`, ['disturbance', `-p${k}.y1`]])),
    },
    loops.map((_, k) => `p${k}.y1`),
  )

describe('loops of L = K/(s(s + a))', () => {
  // Computed from the closed form: |S − ½| = ½|1 − L|/|1 + L|, largest at ω = √K, where it is ½ √(a² + 4K)/a.
  it('bear the disk 2a/√(a² + 4K), and gains and phases that go with it', () => {
    const found = sideBySide([1, 1])
    expect(found).toMatchObject({ kind: 'SimultaneousMargin', closedLoop: 'stable', ports: ['p0.y1'] })
    expect(found.diskMargin).toBeCloseTo(0.894427190999916, 9)
    expect(found.frequency).toBeCloseTo(0.15915494309189535, 6)
    // (√5 + 1)/(√5 − 1), its inverse, 2 atan(1/√5)
    expect(found.gainMargin).toBeCloseTo(2.618033988749895, 8)
    expect(found.gainReductionMargin).toBeCloseTo(0.3819660112501051, 9)
    expect(found.phaseMarginDegrees).toBeCloseTo(48.18968510422141, 7)
    expect(found.provenDiskMargin).toBeCloseTo(0.894427190999916, 8)
  })

  it('bear a delay by the better of both bounds at each frequency', () => {
    // computed from the closed form of both by a scan of 2 000 001 points and a search for the least, at 0.978015 rad/s
    expect(sideBySide([1, 1]).delayMargin).toBeCloseTo(1.0460075944887723, 8)
  })

  it.each([
    // 2/√17, 6/√13
    [[[4, 1]], 0.48507125007266594, 2],
    [[[1, 3]], 1.6641005886756874, 1],
    // Side by side: the lesser of both
    [[[1, 1], [4, 1]], 0.48507125007266594, 2],
    [[[1, 3], [1, 1]], 0.894427190999916, 1],
  ] as [[number, number][], number, number][])('%j bear %d together, at %d rad/s', (loops, disk, omega) => {
    const found = sideBySide(...loops)
    expect(found.diskMargin).toBeCloseTo(disk, 8)
    expect((found.frequency as number) * 2 * Math.PI).toBeCloseTo(omega, 5)
    expect(found.provenDiskMargin).toBeCloseTo(disk, 7)
  }) // biome-ignore format: pairs

  it('bear the same wherever the minus stands, and count a signal that is read twice twice', () => {
    const blocks = { plant: plantOf(1, 1), controller: gain(1), sensor: gain(1) }
    const disk = (plant: string, controller: string[], sensor: string, port: string) => {
      const wires = { 'plant.u1': plant, 'controller.u1': ['noise', ...controller], 'sensor.u1': sensor }
      return marginOf({ blocks, inputs: ['noise'], outputs: { y: 'plant.y1' }, wires }, [port]).diskMargin
    }
    for (const port of ['plant.y1', 'controller.y1', 'sensor.y1']) {
      expect(disk('-controller.y1', ['sensor.y1'], 'plant.y1', port)).toBeCloseTo(0.894427190999916, 9)
      expect(disk('controller.y1', ['-sensor.y1'], 'plant.y1', port)).toBeCloseTo(0.894427190999916, 9)
      expect(disk('controller.y1', ['sensor.y1'], '-plant.y1', port)).toBeCloseTo(0.894427190999916, 9)
      // K = 2: 2/3
      expect(disk('controller.y1', ['-sensor.y1', '-sensor.y1'], 'plant.y1', port)).toBeCloseTo(2 / 3, 9)
    }
  })

  it.each([
    ['unstable', -1],
    ['marginal', 0],
  ])('are %s and bear nothing at K = %d', (closedLoop, K) => {
    const found = sideBySide([1, 1], [K, 1])
    expect(found).toEqual({
      kind: 'SimultaneousMargin',
      closedLoop,
      ports: ['p0.y1', 'p1.y1'],
      diskMargin: null,
      frequency: null,
      provenDiskMargin: null,
      gainMargin: null,
      gainReductionMargin: null,
      phaseMarginDegrees: null,
      delayMargin: null,
    })
  })

  it('bear any delay where they never reach a gain of ½', () => {
    // 0.4/(s + 1): 1/(2|T|) above 1 at every frequency, since |T| = |0.4/(1.4 + jω)| < ½; by hand
    const lag = transferFunction({ numerator: [0.4], denominator: [1, 1] })
    const found = marginOf({ blocks: { lag }, inputs: [], outputs: {}, wires: { 'lag.u1': '-lag.y1' } }, ['lag.y1'])
    expect(found.delayMargin).toBeNull()
  })
})

describe('one loop in two places', () => {
  // Computed from the closed form: L = K/s; a change at both ends multiplies, so that each may have the root of what one
  // alone may have. With S − ½ of the pair, μ² = (n + √(n² − 4|det|²))/2.
  const loop = {
    blocks: { plant: integrator(), controller: gain(3) },
    inputs: [],
    outputs: { motion: 'plant.y1' },
    wires: { 'plant.u1': 'controller.y1', 'controller.u1': '-plant.y1' },
  } as const

  it('bears the whole disk at one end: 2, since 1/(1 + L) − ½ of an integrator is an all-pass of ½', () => {
    const found = simultaneousMargin(loop, ['plant.y1'])
    expect(found.diskMargin).toBeCloseTo(2, 9)
    expect(found.phaseMarginDegrees).toBeCloseTo(90, 6)
    expect(found.gainReductionMargin).toBeCloseTo(0, 9)
    // The delay margin of K/s is π/2 over K; the bound is within a tenth below it.
    expect(found.delayMargin as number).toBeLessThanOrEqual(Math.PI / 6)
    expect(found.delayMargin as number).toBeGreaterThan((0.9 * Math.PI) / 6)
  })

  it('bears half of the phase at each of both', () => {
    const found = simultaneousMargin(loop, ['plant.y1', 'controller.y1'])
    expect(found.phaseMarginDegrees).toBeCloseTo(45, 6)
    expect(found.provenDiskMargin as number).toBeLessThanOrEqual((found.diskMargin as number) * (1 + 1e-9))
  })
})

describe('a loop with delay', () => {
  const around = (plant: StateSpace<'u1', 'y1'>, seconds: number) => {
    const blocks = { plant, late: delay({ seconds }) }
    const wires = { 'plant.u1': '-late.y1', 'late.u1': 'plant.y1' } as const
    return simultaneousMargin({ blocks, inputs: [], outputs: { motion: 'plant.y1' }, wires } as const, ['plant.y1'])
  }

  // Computed from the closed form by a scan of 4 000 001 points and a search for the minimum: 1/max |1/(1 + L) − ½| of L = K e^(−sτ)/s.
  it.each([
    [3, 0.1, 1.1980843896012956],
    [1, 1, 0.37119685030777766],
  ])('of gain %d and %d s bears the disk %d, and all but three hundredths of it for certain', (K, seconds, disk) => {
    const found = around(series(gain(K), integrator()), seconds)
    expect(found.diskMargin as number).toBeCloseTo(disk, 6)
    expect(found.provenDiskMargin as number).toBeLessThan(found.diskMargin as number)
    expect(found.provenDiskMargin as number).toBeGreaterThan(0.97 * disk)
  })

  it('that is late in two places, one behind the other, is sampled no more than one that is late once', () => {
    // A chain of delays has unit gain at any frequency; only the gain around the ring says how far to look.
    const filter = lowPass({ cutoff: 50, order: 2 })
    const plant = series(integrator(), filter, delay({ seconds: 4e-5 }))
    const [once, twice] = [around(series(integrator(), filter), 1e-4), around(plant, 6e-5)]
    expect((twice.diskMargin as number) / (once.diskMargin as number)).toBeCloseTo(1, 6)
    expect((twice.provenDiskMargin as number) / (once.provenDiskMargin as number)).toBeCloseTo(1, 2)
  }, 5000)

  it('has no proof where none is asked for, which a loop without delay has all the same', () => {
    const blocks = { plant: integrator(), late: delay({ seconds: 0.1 }) }
    const wires = { 'plant.u1': '-late.y1', 'late.u1': 'plant.y1' } as const
    const loop = { blocks, inputs: [], outputs: { motion: 'plant.y1' }, wires } as const
    const given = simultaneousMargin(loop, ['plant.y1'])
    const left = simultaneousMargin(loop, ['plant.y1'], { proof: 'without-delay' })
    expect(left).toEqual({ ...given, provenDiskMargin: null })
    const straight = { ...loop, blocks: { ...blocks, late: gain(1) } }
    expect(simultaneousMargin(straight, ['plant.y1'], { proof: 'without-delay' }).provenDiskMargin).toBeCloseTo(2, 6)
  })

  it('has no proof where the model is too large for it, or has too many delays', () => {
    const filter = lowPass({ cutoff: 50, order: 10 })
    const filters = Array.from({ length: 9 }, () => filter).reduce((a, b) => series(a, b))
    const found = around(series(integrator(), filters), 1e-4)
    expect([found.closedLoop, found.provenDiskMargin]).toEqual(['stable', null])
    const six = Array.from({ length: 5 }, () => delay({ seconds: 1e-3 })).reduce((a, b) => series(a, b))
    const often = around(series(integrator(), six), 1e-3)
    expect([often.closedLoop, often.provenDiskMargin]).toEqual(['stable', null])
    // L = e^(−0.006 s)/s: the same in one piece
    expect(often.diskMargin).toBeCloseTo(around(integrator(), 6e-3).diskMargin as number, 6)
  })

  it('has a Padé form within the bound of its error, at every frequency', () => {
    const { padeOrder: n, corner, height } = delayBound
    const factorial = (k: number): number => (k < 2 ? 1 : k * factorial(k - 1))
    // G. A. Baker, P. Graves-Morris, Padé Approximants, 2nd edition 1996, section 1.2: p(s) of e^(−s) ≈ p(−s)/p(s).
    const coefficient = (k: number) =>
      (factorial(2 * n - k) * factorial(n)) / (factorial(2 * n) * factorial(k) * factorial(n - k))
    const error = (x: number) => {
      let [re, im] = [0, 0]
      for (let k = 0; k <= n; k++) {
        const value = coefficient(k) * x ** k
        if (k % 2 === 0) re += k % 4 === 0 ? value : -value
        else im += k % 4 === 1 ? value : -value
      }
      const late = x - 2 * Math.atan2(im, re)
      return 2 * Math.abs(Math.sin(late / 2))
    }
    const bound = (x: number) => (height * (x / corner) ** 4) / (1 + (x / corner) ** 4)
    // Below 0.1 the error is below (n!)²/((2n)! (2n + 1)!) x^(2n+1), 1.7e-13 x¹³, and the bound above 1e-4 x⁴.
    expect(bound(0.1)).toBeGreaterThan(1e-4 * 0.1 ** 4)
    // The phase error grows, its derivative being x^(2n)/|p|² over a constant; up to π the error grows with it.
    let x = 0.1
    for (; error(x) < 1.999; x *= 1.0005) expect(bound(x)).toBeGreaterThan(error(1.0005 * x))
    // From here on the bound is above 2, which no error is.
    expect(bound(x)).toBeGreaterThan(2)
  })
})
