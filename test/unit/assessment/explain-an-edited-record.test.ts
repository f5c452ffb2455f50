import { describe, expect, it } from 'vitest'
import { type Assessment, assess, explain } from '../../../src/assessment/index.js'
import { motionProfile } from '../../../src/elements/index.js'
import { activelyDampedIsolation } from '../../../src/isolation/index.js'
import { refusal } from '../refusal.js'
import { flatFloor, voigt } from './sites.js'

// Sentences by common practice, no source: each says its number, or in words that there is none.
const floor = flatFloor(1e-12, 0.5, 100)
const profile = motionProfile({ distance: 0.05, maxVelocity: 1, maxAcceleration: 2 })
const model = activelyDampedIsolation({
  payload: { mass: 500 },
  mount: { stiffness: 2e5, damping: 800 },
  damping: { dampingRatio: 0.5 },
})
const record = assess(model, {
  floor,
  criterion: 'VC-D',
  moves: [{ profile, movingMass: 5 }],
  settling: { band: 1e-6 },
})
const said = (change: Partial<Assessment>) => explain({ ...record, ...change }).join('\n')
const loop = (change: object) => {
  const [first] = record.loops
  return said({ loops: [{ ...first, margins: { ...first.margins, ...change } }] })
}
const move = (change: object) => said({ settling: record.settling.map((each) => ({ ...each, ...change })) })

describe('explain says of', () => {
  it('a loop what it bears, and nothing of what has no end', () => {
    const bounded = { gainMargin: 2, gainReductionMargin: 0.25, phaseMarginDegrees: 40, delayMargin: 3e-3 }
    expect(loop(bounded)).toContain(
      'by itself bears up to 2 times its gain, no less than 0.25 of it, 40° more phase lag, 3 ms more delay.',
    )
    const free = { gainMargin: null, gainReductionMargin: null, phaseMarginDegrees: null, delayMargin: null }
    expect(loop(free)).toContain('by itself bears any more gain.')
  })

  it('all loops at once what they bear, without end too', () => {
    const loops = [record.loops[0], record.loops[0]]
    const allLoops = record.allLoops ?? ({ kind: 'SimultaneousMargin' } as never)
    const all = (change: object) => said({ loops, allLoops: { ...allLoops, ...change } as never })
    const bounded = { gainReductionMargin: 0.5, gainMargin: 1.5, phaseMarginDegrees: 20 }
    expect(all(bounded)).toContain(
      'All loops at once bear gains from 0.5 to 1.5 times what they are, or phases within ±20°',
    )
    expect(all({ ...bounded, gainMargin: null })).toContain('bear gains from 0.5 to any times what they are')
  })

  it('a payload that is never isolated for good, and one that nowhere moves more than the floor', () => {
    expect(said({ transmissibility: { ...record.transmissibility, isolationFrom: null } })).toContain(
      'it does not stay below 1',
    )
    expect(said({ worseThanFloor: [] })).toContain('moves more than the bare floor nowhere')
    expect(said({ worseThanFloor: [[1, 2]] })).toContain('moves more than the bare floor from 1 to 2 Hz')
  })

  it('a move what it needs of the actuators, where it leaves the payload and how delays were taken', () => {
    expect(move({ peakForce: null, peakExpansion: null })).not.toContain('of the actuators')
    expect(move({ peakForce: 12.5, peakExpansion: null })).toContain('needs 12.5 N of the actuators')
    expect(move({ peakForce: null, peakExpansion: 3e-6 })).toContain('needs 3 µm of the actuators')
    expect(move({ restsAt: 2e-6, peakDisplacement: 1e-5 })).toContain('leaves it 2 µm from where it was')
    expect(move({ restsAt: 0 })).not.toContain('from where it was')
    expect(move({ padeOrder: 6 })).toContain('Padé approximations of order 6')
    expect(move({ padeOrder: null })).not.toContain('Padé')
  })

  it('noise that is none, what is wrong with it', () => {
    const part = { ...floor, density: floor.density.map(() => -1) }
    const noise = { ...record.noise, contributions: { floor, 'sensor noise': part } } as never
    const { code, details } = refusal(() => said({ noise }))
    expect([code, details.path]).toEqual(['out-of-range', 'spectrum.density[0]'])
  })

  it('controllers that make the noise worse, and where each part of it is from', () => {
    const noisy = { ...record.noise, worseThanPassive: [[2, 3]] } as never
    expect(said({ noise: noisy })).toContain('The controllers make it worse from 2 to 3 Hz')
    const still = assess(voigt(2.5, 0.1), { floor, criterion: 'VC-E' })
    expect(explain({ ...still, noise: null }).join()).not.toContain('controllers')
  })
})
