import { describe, expect, it } from 'vitest'
import type { Point } from '../../../src/elements/index.js'
import {
  type IsolationModel,
  passiveIsolation,
  type SixAxisAppendage,
  type SixAxisIsolationOptions,
  sixAxisIsolation,
} from '../../../src/isolation/index.js'
import { channel, frequencyResponse, poles, stability } from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

const frequencies = [0.7, 2.3, 11.5, 13, 45]
const mount = { stiffness: 5e4, damping: 200, lateral: { stiffness: 4e4, damping: 150 } }
const payload = {
  mass: 1000,
  inertia: [140, 240, 270] as const,
  centreOfMass: [0, 0, 0] as Point,
  supports: [-0.6, 0.6].flatMap((x) => [-0.4, 0.4].map((y) => ({ position: [x, y, -0.5] as Point, mount }))),
}
const column: SixAxisAppendage = {
  mass: 60,
  naturalFrequency: 12,
  dampingRatio: 0.01,
  position: [0, 0, 0.4],
  direction: [0, 0, 2],
}
const build = (appendages: readonly SixAxisAppendage[], more: Partial<SixAxisIsolationOptions> = {}) =>
  sixAxisIsolation({ payload, appendages, ...more })

function response(model: IsolationModel, input: string, output: string) {
  return channel(frequencyResponse(model.closed, frequencies, { inputs: [input], outputs: [output] }), {
    input,
    output,
  })
}

function distance(a: { re: Float64Array; im: Float64Array }, b: { re: Float64Array; im: Float64Array }): number {
  return Math.max(...Array.from(a.re, (re, k) => Math.hypot(re - b.re[k], a.im[k] - b.im[k])))
}

describe('appendages in six axes', () => {
  it('along z are those of one axis, whose rigid part is lighter by them', () => {
    const { mass, naturalFrequency, dampingRatio } = column
    const one = passiveIsolation({
      payload: { mass: 940, appendages: [{ mass, naturalFrequency, dampingRatio }] },
      mount,
      count: 4,
    })
    for (const [from, to] of [
      ['floorVelocity', 'payloadVelocity'],
      ['payloadForce', 'stretch'],
      ['reactionForce', 'floorForce'],
    ]) {
      // A few roundings of numbers of the order of 1 to 10.
      expect(distance(response(build([column]), `${from}Z`, `${to}Z`), response(one, from, to))).toBeLessThan(1e-12)
    }
  })

  it('move with the payload where they are stiff, and leave it lighter along them where they are soft', () => {
    const upright = { ...column, position: [0.3, 0.2, 0.4] as Point, direction: [1, 1, 0] as Point }
    const rigid = sixAxisIsolation({ payload })
    const stiff = build([{ ...upright, naturalFrequency: 1e5 }])
    expect(
      distance(
        response(stiff, 'floorVelocityX', 'payloadVelocityRz'),
        response(rigid, 'floorVelocityX', 'payloadVelocityRz'),
      ),
    ).toBeLessThan(1e-6)
    // Far above its frequency a force along x finds 1000 − 60 cos² 45° = 970 kg at the centre of mass. Computed from the
    // closed form of the mass matrix, the coupling to rotation left out by a place straight above or below.
    const soft = build([{ ...upright, position: [0, 0, 0], naturalFrequency: 0.01 }])
    const grid = [1e4]
    const ports = { input: 'payloadForceX', output: 'payloadVelocityX' }
    const { re, im } = channel(
      frequencyResponse(soft.closed, grid, { inputs: [ports.input], outputs: [ports.output] }),
      ports,
    )
    // Both x and y are lighter: the inverse of [[970, −30], [−30, 970]] has 970/(970² − 30²).
    expect(Math.hypot(re[0], im[0]) * 2 * Math.PI * 1e4).toBeCloseTo(970 / (970 ** 2 - 30 ** 2), 7)
  })

  it('are read by their own velocity, and keep the poles whatever the reference', () => {
    const leaning = { ...column, position: [0.3, 0.2, 0.4] as Point, direction: [1, 0, 0.5] as Point }
    const models = [[0, 0, 0] as Point, [0.4, -0.2, 0.6] as Point].map((reference) =>
      build([leaning, column], { reference }),
    )
    expect(models[0].closed.outputs).toContain('appendage2Velocity')
    const lists = models.map(({ closed }) =>
      poles(closed)
        .map(({ re, im }) => [re, im])
        .sort((p, q) => p[1] - q[1] || p[0] - q[0]),
    )
    expect(lists[0]).toHaveLength(12 + 4)
    lists[1].forEach(([re, im], k) => {
      expect(Math.hypot(re - lists[0][k][0], im - lists[0][k][1])).toBeLessThan(1e-9 * Math.hypot(...lists[0][k]))
    })
    const [a, b] = models.map((model) => response(model, 'floorVelocityZ', 'appendage1Velocity'))
    expect(distance(a, b)).toBeLessThan(1e-11)
    expect(stability(models[0].closed).verdict).toBe('stable')
  })

  it.each([
    [[], 'invalid-option', 'appendages'],
    [[{ ...column, mass: 0 }], 'out-of-range', 'appendages[0].mass'],
    [[{ ...column, direction: [0, 0, 0] }], 'out-of-range', 'appendages[0].direction'],
    [[{ ...column, mass: 1200 }], 'out-of-range', 'appendages'],
    [[{ ...column, stiffness: 1 }], 'invalid-option', 'appendages[0].stiffness'],
  ] as const)('are refused as %j', (appendages, code, path) => {
    const error = refusal(() => build(appendages as never))
    expect([error.code, error.details.path]).toEqual([code, path])
  })
})
