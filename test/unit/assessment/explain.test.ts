import { describe, expect, it } from 'vitest'
import { assess, explain } from '../../../src/assessment/index.js'
import { airSpring, motionProfile, springMount, standardGravity } from '../../../src/elements/index.js'
import { activelyDampedIsolation, passiveIsolation } from '../../../src/isolation/index.js'
import { refusal } from '../refusal.js'
import { flatFloor, voigt } from './sites.js'

const floor = flatFloor(1e-12, 0.5, 100)
const site = { floor, criterion: 'VC-E' as const }

describe('explain', () => {
  it('says of a mount at 2.5 Hz what its numbers are', () => {
    // 3.332 µm/s, peak 5.1227736 and √2·2.5 Hz, 4.05285e-3 m/N for 1 kg; the floor 4.2820 µm/s at 80 Hz: see assess.
    expect(explain(assess(voigt(2.5, 0.1), { floor, criterion: 'VC-E' })).slice(0, -2)).toEqual([
      'Fails: worst band of the payload: 3.33 µm/s in the 2.5 Hz band, 1.07 of VC-E.',
      'The floor itself has 4.28 µm/s in the 80 Hz band, 1.37 of VC-E.',
      '|T| is 5.12 at most, at 2.48 Hz, and it stays below 1 from 3.54 Hz on.',
      // ∫|T|² S from 0.5 to 100 Hz by quadrature: 4.4614 µm/s; 77.456 µN for 1 kg, the value of 500 kg over 500.
      'The payload has 4.46 µm/s rms in all, and moves more than the bare floor from 0.5 to 3.53 Hz.',
      // 4052.85 µm/(2ζ√(1 − ζ²)) at 2.5·√(1 − 2ζ²) Hz, computed from these closed forms
      '1 N on the payload moves it by 4050 µm in the end, and by 20400 µm at 2.47 Hz, where it gives way most.',
      'The force on the floor is 0.0000775 N rms.',
    ])
  })

  it('says what is open, and why', () => {
    const [first] = explain(assess(voigt(2.5, 0.12), { floor, criterion: 'VC-E', duration: 60 }))
    expect(first).toMatch(/^Not decided: worst band of the payload: .* 2\.5 Hz \(record\)/)
  })

  it('says that there is no steady state, and nothing that would need one', () => {
    const said = explain(assess(voigt(2.5, 0), { floor, criterion: 'VC-E' }))
    expect(said[0]).toBe('Fails: an undamped mode never settles, so there is no steady state.')
    expect(said.join()).not.toContain('rms')
    expect(said).toContain('|T| is infinite at most, at 2.5 Hz, and it stays below 1 from 3.54 Hz on.')
  })

  it('says of the 1 Hz geophone on a 2 Hz spring where it sings, and at which gain it would not', () => {
    // ζ_s = 1.4; stable up to ζ_g (f₀/f_g − f_g/f₀) = 1.05, where it oscillates at f_g; computed from the closed form (Routh).
    const mount = springMount({ mass: 100, naturalFrequency: 2, dampingRatio: 0 })
    const sensor = { naturalFrequency: 1, dampingRatio: 0.7 }
    const damping = { dampingRatio: 1.4, sensor }
    const said = explain(assess(activelyDampedIsolation({ payload: { mass: 100 }, mount, damping }), site))
    expect(said.slice(0, 2)).toEqual([
      'Fails: the closed system is unstable: 2 poles right of the imaginary axis.',
      'Loop damping is unstable; stable below 0.75 times the gain, at 1 Hz.',
    ])
    expect(said.join()).not.toContain('bears')
  })

  it('says of a loop that sensor lead brings near to −1 that it is lead which it does not bear', () => {
    const mount = springMount({ mass: 100, naturalFrequency: 2, dampingRatio: 0 })
    const sensor = { naturalFrequency: 1, dampingRatio: 0.7 }
    const damping = { dampingRatio: 0.5, sensor }
    const said = explain(assess(activelyDampedIsolation({ payload: { mass: 100 }, mount, damping }), site)).join('\n')
    // At 1.310 Hz, where |L| = 1, arg L is −180° − 21.331°: computed from L = 2ζω₀s/(s² + ω₀²) · s²/(s² + 2ζ_gω_gs + ω_g²) by bisection.
    expect(said).toContain('21.3° more phase lead')
  })

  it('says which loop is in the way of the others', () => {
    const mass = 500
    const mount = airSpring({ area: 0.02, volume: 5e-3, load: mass * standardGravity, diaphragmDamping: 900 })
    const damping = { dampingRatio: 0.1 }
    const hasty = { payload: { mass }, mount, levelling: { flowGain: 0.5 }, damping }
    const said = explain(assess(activelyDampedIsolation(hasty), site)).join('\n')
    expect(said).toMatch(
      /Loop levelling is unstable; stable below 0\.\d+ times the gain, at [\d.]+ Hz; the other loops left as they are\./,
    )
  })

  it('goes through loops, moves, noise and neighbours', () => {
    const mass = 500
    const mount = airSpring({ area: 0.02, volume: 5e-3, load: mass * standardGravity, diaphragmDamping: 900 })
    const model = activelyDampedIsolation({
      payload: { mass },
      mount,
      levelling: { flowGain: 1e-3 },
      damping: { dampingRatio: 0.5, delay: 1e-3 },
      floor: { modes: [{ modalMass: 2e4, naturalFrequency: 12, dampingRatio: 0.03, neighbourShape: 0.5 }] },
    })
    const profile = motionProfile({ distance: 0.05, maxVelocity: 1, maxAcceleration: 2 })
    const moved = {
      floor: { z: floor },
      criterion: 'VC-D' as const,
      moves: [{ profile, movingMass: 5 }],
      settling: { band: 1e-6 },
    }
    const said = explain(assess(model, moved)).join('\n')
    for (const part of [
      'Along z, the floor itself',
      'Loop damping by itself bears',
      'Loop levelling by itself bears',
      'All loops at once bear gains from',
      'Move 1: within ±1 µm for good',
      'Move 1 displaces the payload by',
      'N of the actuators',
      'Padé approximations of order 6',
      'gives a neighbour',
      'not known: noise at sensorNoise, actuatorNoise',
      'Caution: Moving stages can crush',
    ]) {
      expect(said).toContain(part)
    }
    expect(said).not.toMatch(/NaN|undefined|null|\[object/)
  })

  it('refuses anything else', () => {
    for (const value of [null, undefined, {}, passiveIsolation({ payload: { mass: 1 }, mount: { stiffness: 1 } })]) {
      expect(refusal(() => explain(value as never)).code).toBe('invalid-option')
    }
  })
})
