import { describe, expect, it } from 'vitest'
import { currentOf, driveOf } from '../../../src/assessment/actuator-drive.js'
import { actuatorEffort } from '../../../src/assessment/index.js'
import { piezoStack, voiceCoil } from '../../../src/elements/index.js'
import { scopeOf, within } from '../../../src/internal/check.js'
import { activelyDampedIsolation } from '../../../src/isolation/index.js'
import { refusal } from '../refusal.js'
import { flatFloor } from './sites.js'

const scope = within(scopeOf('actuatorEffort'), 'actuators.x')
const coil = voiceCoil({ forceConstant: 20, resistance: 4, maxForce: 50, maxHeat: 30 })
const stack = piezoStack({
  stiffness: 30e6,
  damping: 3e3,
  stroke: 60e-6,
  drive: { capacitance: 6e-6, voltage: 100, maxCurrent: 0.5 },
})

describe('the current of an actuator', () => {
  it('of a coil is force over force constant, and its heat that of its continuous force', () => {
    const drive = driveOf(scope, 'actuatorForce', coil)
    // 1/20 A/N; 20 N/A over √4 Ω is 10 N/√W, and 30 W bear √30·10 N for good
    expect(drive).toEqual({
      of: 'value',
      current: 0.05,
      coil: { motorConstant: 10, heat: expect.closeTo(30, 9) },
      cautions: [],
    })
    expect(driveOf(scope, 'actuatorForce12', coil).of).toBe('value')
    expect(driveOf(scope, 'actuatorForce', voiceCoil({ forceConstant: 20, resistance: 4 })).coil?.heat).toBeNull()
  })

  it('of a stack is capacitance times voltage over stroke, times the rate', () => {
    // 6 µF · 100 V / 60 µm = 10 A per m/s
    expect(driveOf(scope, 'actuatorExpansion', stack)).toEqual({
      of: 'rate',
      current: expect.closeTo(10, 9),
      coil: null,
      cautions: [],
    })
  })

  it('follows what the actuator gives, infinite with it', () => {
    const followed = {
      ...({ name: 'x', output: 'actuatorForce', of: 'value', unit: 'N', headroom: 5 } as const),
      ...{ rms: 1, inRecord: null, inMoves: 2, peak: Infinity, limit: null },
    } as const
    expect(currentOf(scope, followed, 0.05)).toEqual({
      ...{ name: 'actuatorForceCurrent', output: 'actuatorForce', of: 'value', unit: 'A', headroom: 5 },
      ...{ rms: 0.05, inRecord: null, inMoves: 0.1, peak: Infinity, limit: null },
    })
    expect(refusal(() => currentOf(scope, { ...followed, peak: 1e300 }, 1e300)).message).toBe(
      'actuatorEffort: actuators.x gives a current beyond the range of numbers; the options together are too extreme',
    )
  })

  it.each<[string, string, object]>([
    ['must be an object with limits, got 3', 'actuatorForce', 3 as never],
    ['limits must be an object, got undefined', 'actuatorForce', { ...coil, limits: undefined }],
    ['motorConstant must be a finite number above 0 [N/√W], got 0', 'actuatorForce', { ...coil, motorConstant: 0 }],
    ['forceConstant must be a finite number above 0 [N/A], got 0', 'actuatorForce', { ...coil, forceConstant: 0 }],
    [
      'limits.continuousForce must be a finite number above 0 [N], got 0',
      'actuatorForce',
      { ...coil, limits: { continuousForce: 0 } },
    ],
    [
      'gives a current beyond the range of numbers; the options together are too extreme',
      'actuatorForce',
      { ...coil, forceConstant: 1e-320 },
    ],
    [
      'gives a heat beyond the range of numbers; the options together are too extreme',
      'actuatorForce',
      { ...coil, motorConstant: 1e-200 },
    ],
    ['must be a voice coil, whose current is known', 'actuatorForce', { ...coil, forceConstant: undefined }],
    ['must be a piezo stack with its drive, whose current is known', 'actuatorExpansion', coil],
    ['must be a piezo stack with its drive, whose current is known', 'actuatorExpansion', { ...stack, drive: null }],
    [
      'drive.capacitance must be a finite number above 0 [F], got 0',
      'actuatorExpansion',
      { ...stack, drive: { capacitance: 0, voltage: 1 } },
    ],
    [
      'drive.voltage must be a finite number above 0 [V], got 0',
      'actuatorExpansion',
      { ...stack, drive: { capacitance: 1, voltage: 0 } },
    ],
    ['stroke must be a finite number above 0 [m], got 0', 'actuatorExpansion', { ...stack, stroke: 0 }],
    [
      'gives a current beyond the range of numbers; the options together are too extreme',
      'actuatorExpansion',
      { ...stack, stroke: 1e-320 },
    ],
  ])('is refused: %s', (says, output, actuator) => {
    const { message } = refusal(() => driveOf(scope, output, actuator as never))
    expect(message.slice('actuatorEffort: actuators.x'.length).replace(/^[ .]/, '')).toBe(says)
  })
})

describe('the effort of a coil', () => {
  const payload = { mass: 100 }
  const mount = { stiffness: 16e3 }
  const model = activelyDampedIsolation({ payload, mount, damping: { gain: 2000, actuator: coil } })
  const floor = flatFloor(1e-8, 1e-4, 1e5)
  const effort = () => actuatorEffort(model, { floor, actuators: { actuatorForce: coil } })

  it('names the tightest of what is bounded, and no order without a motion in time', () => {
    const found = effort()
    const headrooms = found.efforts.flatMap(({ name, headroom }) => (headroom === null ? [] : [{ name, headroom }]))
    expect(headrooms.map(({ name }) => name)).toEqual(['actuatorForce', 'actuatorForceRms', 'actuatorForceCurrent'])
    // 50 N over three rms, 54.8 N over one; the current as the force
    expect(found.tightest).toBe('actuatorForce')
    expect([found.kind, found.padeOrder]).toEqual(['ActuatorEffort', null])
    const record = { inputs: { payloadForce: [0, 1, 0] }, sampleTime: 0.01 }
    expect(actuatorEffort(model, { record }).padeOrder).toBeNull()
    const late = activelyDampedIsolation({ payload, mount, damping: { gain: 2000, actuator: coil, delay: 1e-3 } })
    expect([actuatorEffort(late, { record }).padeOrder, actuatorEffort(late, { floor }).padeOrder]).toEqual([6, null])
  })

  it('is without end where nothing is asked of it', () => {
    const still = actuatorEffort(model, { floor: flatFloor(0, 1, 10), actuators: { actuatorForce: coil } })
    expect(still.efforts[0]).toMatchObject({ rms: 0, peak: 0, headroom: Infinity, inRecord: null, inMoves: null })
    expect(still.heat[0]).toMatchObject({ output: 'actuatorForce', steady: 0, mean: 0, peak: 0, headroom: Infinity })
  })

  it('is that of straight lines between the samples of a record, whose steepest counts on either side of each', () => {
    // The force of the motor follows g·v at once; v' of a mass that 100 N push from rest on is 1 m/s², so g v' = 2000 N/s, and in
    // the first step, in which the push grows to that, half as much on average: the end of it counts.
    const record = { inputs: { payloadForce: [0, 100, 100] }, sampleTime: 1e-4 }
    const rate = actuatorEffort(model, { record }).efforts.find(({ name }) => name === 'actuatorForceRate')
    expect(rate?.inRecord).toBeCloseTo(2000, -1)
    expect(rate?.unit).toBe('N/s')
  })
})
