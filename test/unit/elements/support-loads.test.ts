import { describe, expect, it } from 'vitest'
import { type Point, supportLoads } from '../../../src/elements/index.js'
import { refusal } from '../refusal.js'

const triangle = [[-1, 0, 0] as Point, [1, -1, 0] as Point, [1, 1, 0] as Point].map((position) => ({ position }))
const square = [[-1, -1, 0] as Point, [-1, 1, 0] as Point, [1, -1, 0] as Point, [1, 1, 0] as Point]
const gravity = 10

describe('loads of supports', () => {
  it('under three points follow from statics, whatever their stiffness', () => {
    // Moments about the line of the two right points: 1000 N · 0.5 m = N · 2 m. Computed from ΣN = W, ΣM = 0.
    const loads = supportLoads({ mass: 100, gravity, centreOfMass: [0.5, 0.25, 3], supports: triangle })
    const uneven = triangle.map((support, i) => ({ ...support, stiffness: 10 ** i }))
    const again = supportLoads({ mass: 100, gravity, centreOfMass: [0.5, 0.25, 3], supports: uneven })
    for (const list of [loads, again]) {
      expect(list[0]).toBeCloseTo(250, 9)
      expect(list[1]).toBeCloseTo(250, 9)
      expect(list[2]).toBeCloseTo(500, 9)
    }
  })

  it('under four equal points spread as a plane', () => {
    // N = W/4 (1 + x x_c/a² + y y_c/b²), computed
    const supports = square.map((position) => ({ position }))
    const loads = supportLoads({ mass: 100, gravity, centreOfMass: [0.2, 0.1, 0], supports })
    ;[175, 225, 275, 325].forEach((load, i) => {
      expect(loads[i]).toBeCloseTo(load, 9)
    })
  })

  it('under four points follow their stiffness', () => {
    // A payload over the middle of a table with one diagonal three times as stiff. Computed from ΣN = W, ΣM = 0 and a plane.
    const supports = square.map((position, i) => ({ position, stiffness: i === 0 || i === 3 ? 3 : 1 }))
    const loads = supportLoads({ mass: 100, gravity, centreOfMass: [0, 0, 0], supports })
    ;[375, 125, 125, 375].forEach((load, i) => {
      expect(loads[i]).toBeCloseTo(load, 9)
    })
  })

  it('are equal on a common valve, and three valves make it statics', () => {
    const supports = square.map((position, i) => ({ position, ...(i < 2 ? { valveGroup: 'left' } : { stiffness: i }) }))
    const loads = supportLoads({ mass: 100, gravity, centreOfMass: [0.2, 0.1, 0], supports })
    // ΣM about y: left pair carries W (1 − 0.2)/2; right ones differ by W·0.1 over a lever of 1 m. Computed.
    ;[200, 200, 250, 350].forEach((load, i) => {
      expect(loads[i]).toBeCloseTo(load, 9)
    })
  })

  it.each([
    ['outside the polygon', [1.1, 0, 0], triangle, 'centreOfMass'],
    ['beside two points', [0, 0.1, 0], [{ position: [-1, 0, 0] }, { position: [1, 0, 0] }], 'centreOfMass'],
    [
      'outside the middle of a common valve',
      [-0.5, 0.5, 0],
      [{ position: [-1, -1, 0], valveGroup: 'a' }, { position: [-1, 1, 0], valveGroup: 'a' }, { position: [1, 0, 0] }],
      'centreOfMass',
    ],
  ] as const)('are refused with the centre of mass %s', (_, centreOfMass, supports, path) => {
    const error = refusal(() => supportLoads({ mass: 1, centreOfMass, supports }))
    expect([error.code, error.details.path]).toEqual(['out-of-range', path])
  })

  it.each([
    ['no support', [], 'supports'],
    ['a stiffness below 0', [{ position: [0, 0, 0], stiffness: -1 }], 'supports[0].stiffness'],
    ['a valve without a name', [{ position: [0, 0, 0], valveGroup: '' }], 'supports[0].valveGroup'],
    ['a place of two numbers', [{ position: [0, 0] }], 'supports[0].position'],
  ])('are refused with %s', (_, supports, path) => {
    const error = refusal(() => supportLoads({ mass: 1, centreOfMass: [0, 0, 0], supports } as never))
    expect(error.details.path).toBe(path)
  })
})
