import { describe, expect, it } from 'vitest'
import { motionProfile, sampleProfile } from '../../../src/elements/index.js'
import { sixAxisIsolation, stageReaction } from '../../../src/isolation/index.js'
import { simulate } from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

const stage = { mass: 50, position: [0.1, -0.2, 0.4], direction: [1, 0, 0], reference: [0, 0, 0] } as const
const sampleTime = 0.001
const motion = sampleProfile(motionProfile({ distance: 0.2, maxVelocity: 0.5, maxAcceleration: 4, maxJerk: 100 }), {
  sampleTime,
})

describe('a stage that moves along x', () => {
  const wrench = stageReaction({ ...stage, motion })

  it('pushes back with mass times acceleration', () => {
    // 50 kg · 4 m/s², Newton's third law
    expect(Math.min(...wrench.reactionForceX)).toBeCloseTo(-200, 9)
    expect(wrench.reactionForceY.every((value) => value === 0)).toBe(true)
  })

  it('tips the payload after it by its weight once it stands', () => {
    // m·g·x = 50 · 9.80665 · 0.2 N·m; computed from the closed form
    expect(wrench.reactionForceRy[motion.time.length - 1]).toBeCloseTo(98.0665, 6)
  })

  it('tips the payload backwards as it starts, and turns it by its place beside the middle', () => {
    // M_y = m·g·x − m·a·z and M_z = m·a·y at the end of the first jerk, x = j t³/6 = 1.0667 mm: computed
    const n = Math.round(0.04 / sampleTime)
    expect(motion.acceleration[n]).toBeCloseTo(4, 9)
    expect(wrench.reactionForceRy[n]).toBeCloseTo(-79.476979, 5)
    expect(wrench.reactionForceRz[n]).toBeCloseTo(-40, 9)
  })

  it('leaves a payload that leans by its weight over the stiffness against tilt', () => {
    const mount = { stiffness: 1e5, damping: 3000, lateral: { stiffness: 1e5, damping: 3000 } }
    const supports = [-0.5, 0.5].flatMap((x) => [-0.5, 0.5].map((y) => ({ position: [x, y, 0] as const, mount })))
    const payload = {
      mass: 400,
      inertia: [30, 30, 40] as const,
      centreOfMass: [0, 0, 0] as const,
      supports,
      gravity: 0,
    }
    const { closed } = sixAxisIsolation({ payload })
    const held = { position: new Float64Array(5000).fill(0.2), acceleration: new Float64Array(5000) }
    const inputs = { ...stageReaction({ ...stage, motion: held }) }
    // 98.0665 N·m over 4 · 1e5 N/m · 0.25 m² = 0.980665 mrad; computed from the closed form
    expect(simulate(closed, { inputs, sampleTime: 0.002 }).outputs.stretchRy[4999]).toBeCloseTo(9.80665e-4, 9)
  })
})

describe('a stage is refused', () => {
  it.each([
    [{ direction: [0, 0, 0] }, 'out-of-range', 'direction'],
    [{ mass: 0 }, 'out-of-range', 'mass'],
    [{ motion: null }, 'invalid-option', 'motion'],
    [{ motion: { position: [0, 1], acceleration: [0] } }, 'dimension-mismatch', 'motion.acceleration'],
    [{ position: [0, 1] }, 'invalid-option', 'position'],
  ])('with %j', (more, code, path) => {
    const error = refusal(() => stageReaction({ ...stage, motion, ...more } as never))
    expect([error.code, error.details.path]).toEqual([code, path])
  })
})
