import { describe, expect, it } from 'vitest'
import { dynamicStiffness, springMount } from '../../../src/elements/index.js'
import { transmissibilityOf } from './transmissibility-of.js'

describe('springMount', () => {
  it('by elements keeps them', () => {
    const mount = springMount({ stiffness: 2e4, damping: 30 })
    expect(mount).toEqual({ kind: 'Mount', stiffness: 2e4, damping: 30, relaxations: [] })
    expect(springMount({ stiffness: 2e4 }).damping).toBe(0)
  })

  it('by behaviour gives the elements of a mass with that frequency and damping', () => {
    // Computed from the closed forms k = m(2πf)², c = 2ζm(2πf).
    const mount = springMount({ mass: 1000, naturalFrequency: 1.5, dampingRatio: 0.05 })
    expect(mount.stiffness).toBeCloseTo(88826.44, 3)
    expect(mount.damping).toBeCloseTo(942.477796, 6)
  })

  it('has the transmissibility of the Voigt model', () => {
    // Harris' Shock and Vibration Handbook, chapter on the theory of vibration isolation; |T| to six decimals, phase to
    // three: dampingRatio 0.1 and 0.5 at r = 0.5, 1, 2, 10, 100.
    const table = [
      [0.1, 0.5, 1.328229, -1.884],
      [0.1, 1, 5.09902, -78.69],
      [0.1, 2, 0.355862, -150.604],
      [0.1, 10, 0.022582, -115.408],
      [0.1, 100, 0.002003, -92.748],
      [0.5, 0.5, 1.240347, -7.125],
      [0.5, 1, Math.SQRT2, -45],
      [0.5, 2, 0.620174, -82.875],
      [0.5, 10, 0.101, -89.943],
      [0.5, 100, 0.010001, -90],
    ] as const
    for (const [dampingRatio, r, modulus, degrees] of table) {
      const found = transmissibilityOf(springMount({ mass: 40, naturalFrequency: 3, dampingRatio }), 40, 3 * r)
      expect(found.modulus).toBeCloseTo(modulus, 6)
      expect(found.degrees).toBeCloseTo(degrees, 3)
    }
  })

  it.each([
    [{ stiffness: -1 }, 'stiffness'],
    [{ stiffness: 1, damping: -1 }, 'damping'],
    [{ mass: 1, naturalFrequency: 0, dampingRatio: 0.1 }, 'naturalFrequency'],
    [{ mass: 1, naturalFrequency: 1, dampingRatio: -0.1 }, 'dampingRatio'],
    [{ stiffness: 1e300, damping: 1e300, mass: 1 }, 'mass'],
    [{ mass: 1, naturalFrequency: 1 }, 'dampingRatio'],
  ])('refuses %o at %s', (options, path) => {
    expect(() => springMount(options as never)).toThrow(
      expect.objectContaining({ name: 'IsolationError', details: expect.objectContaining({ path }) }),
    )
  })

  it('refuses values beyond the range of numbers', () => {
    const call = () => springMount({ mass: 1e300, naturalFrequency: 1e100, dampingRatio: 0 })
    expect(call).toThrow(expect.objectContaining({ code: 'out-of-range' }))
  })
})

describe('dynamicStiffness', () => {
  it('of a literal adds spring, dashpot and branches', () => {
    // Computed from the closed form k + jωc + Σ k(x² + jx)/(1 + x²) with ω = 1 rad/s and x = 0.5, 2.
    const mount = {
      stiffness: 10,
      damping: 3,
      relaxations: [
        { stiffness: 5, time: 0.5 },
        { stiffness: 20, time: 2 },
      ],
    }
    const K = dynamicStiffness(mount, [0, 1 / (2 * Math.PI)])
    expect([K.re[0], K.im[0]]).toEqual([10, 0])
    expect(K.re[1]).toBeCloseTo(27, 13)
    expect(K.im[1]).toBeCloseTo(13, 13)
  })

  it('takes negative springs and extreme times without overflow', () => {
    const branch = (time: number) => ({ stiffness: -2e3, relaxations: [{ stiffness: 5e3, time }] })
    expect(dynamicStiffness(branch(1e300), [1]).re[0]).toBe(3e3)
    expect(dynamicStiffness(branch(1e-300), [1]).re[0]).toBe(-2e3)
  })

  it.each([
    [{ stiffness: 1, relaxations: [{ stiffness: 1, time: 0 }] }, 'out-of-range', 'mount.relaxations[0].time'],
    [{ stiffness: 1, relaxations: [{ stiffness: 1 }] }, 'invalid-option', 'mount.relaxations[0].time'],
    [{ stiffness: 1, relaxations: {} }, 'invalid-option', 'mount.relaxations'],
    [{ stiffness: Number.POSITIVE_INFINITY }, 'not-finite', 'mount.stiffness'],
    [{ stiffness: 1, mass: 3 }, 'invalid-option', 'mount.mass'],
    [{ kind: 'Spring', stiffness: 1 }, 'invalid-option', 'mount.kind'],
    [{ kind: 'toString', stiffness: 1 }, 'invalid-option', 'mount.kind'],
    [{ stiffness: 1, lateral: { stiffness: '2' } }, 'invalid-option', 'mount.lateral.stiffness'],
    [undefined, 'invalid-option', 'mount'],
  ])('refuses %o as %s at %s', (mount, code, path) => {
    expect(() => dynamicStiffness(mount as never, [1])).toThrow(
      expect.objectContaining({ code, details: expect.objectContaining({ path }) }),
    )
  })

  it('refuses a grid that does not ascend', () => {
    expect(() => dynamicStiffness({ stiffness: 1 }, [2, 1])).toThrow('dynamicStiffness: frequencies[1] must ascend')
  })
})
