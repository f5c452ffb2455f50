import { describe, expect, it } from 'vitest'
import { cautionsOf } from '../../../src/assessment/cautions.js'
import { type Assessment, explain } from '../../../src/assessment/index.js'
import { digits, type Findings, reasonsOf } from '../../../src/assessment/reasons.js'
import { airSpring, type Point } from '../../../src/elements/index.js'
import {
  activelyDampedIsolation,
  parallelActiveIsolation,
  seriesActiveIsolation,
  sixAxisIsolation,
  stackedIsolation,
} from '../../../src/isolation/index.js'
import { spectrum } from '../../../src/vibration/index.js'
import { voigt } from './sites.js'

// Sentences by common practice, no source. All numbers are invented; what stands in a sentence is theirs, in its unit.
const worst = { nominal: 10, rms: 1.2345e-6, limit: 1e-6, ratio: 1.2345 }
const held = (verdict: 'pass' | 'fail' | 'undecided', more: object = {}) => ({
  kind: 'CriterionComparison',
  criterion: 'VC-E',
  verdict,
  worst,
  doubts: [],
  missing: [],
  ...more,
})
const axis = (verdict: 'pass' | 'fail' | 'undecided', more: object = {}) => ({
  axis: null,
  floor: held('pass'),
  payload: held(verdict),
  noise: null,
  ...more,
})
const loop = (more: object = {}) => ({
  name: 'damping',
  port: 'controller.force',
  margins: { closedLoop: 'stable', modulusMargin: 0.5, modulusMarginFrequency: 12.345, ...more },
})
const effort = (more: object = {}) => ({
  name: 'actuatorForce',
  of: 'value',
  peak: 12.345,
  limit: 12.345,
  unit: 'N',
  inMoves: null,
  ...more,
})
const move = (more: object = {}) => ({
  settlingTime: 0.12345,
  within: null,
  band: 1e-6,
  axis: null,
  verdict: 'pass',
  ...more,
})
const tool = (more: object = {}) => ({
  of: 'payload',
  exposure: null,
  measure: 'rms',
  motion: [{ axis: null, value: 1.2345e-8 }],
  limit: 2e-8,
  ratio: 0.61725,
  ...more,
})
const reasons = (more: object) =>
  reasonsOf(
    {
      stability: { verdict: 'stable', unstablePoles: 0 },
      axes: [],
      loops: [],
      least: 0.5,
      effort: [],
      settling: [],
      tolerance: null,
      ...more,
    } as unknown as Findings,
    (port) => `unstable at ${port}`,
  )

describe('the reasons of a verdict', () => {
  it('are against it first, then what is open, then what is in favour', () => {
    const open = { verdict: 'undecided', doubts: [{ nominal: 4, causes: ['record', 'sensor'] }] }
    const found = reasons({
      axes: [
        axis('pass', { axis: 'z' }),
        axis('undecided', { axis: 'y', payload: held('undecided', open) }),
        axis('fail', { axis: 'x' }),
      ],
    })
    expect(found).toEqual({
      verdict: 'fail',
      reasons: [
        'along x, worst band of the payload: 1.23 µm/s in the 10 Hz band, 1.23 of VC-E',
        'along y, worst band of the payload: 1.23 µm/s in the 10 Hz band, 1.23 of VC-E; not decided: 4 Hz (record, sensor)',
        'along z, worst band of the payload: 1.23 µm/s in the 10 Hz band, 1.23 of VC-E',
      ],
    })
    expect(reasons({ axes: [axis('pass')] }).verdict).toBe('pass')
    expect(reasons({ axes: [axis('pass'), axis('undecided')] }).verdict).toBe('undecided')
    expect(reasons({ axes: [] })).toEqual({ verdict: 'pass', reasons: [] })
  })

  it('are about bands only where there is a steady state', () => {
    const missing = { floor: held('pass', { missing: [1, 1.25] }) }
    expect(reasons({ axes: [axis('pass', { axis: 'x', ...missing })] }).reasons[1]).toBe(
      'along x, not judged, since the floor record does not cover it: 1, 1.25 Hz',
    )
    expect(
      reasons({
        stability: { verdict: 'unstable', unstablePoles: 2 },
        axes: [axis('pass', { payload: null, ...missing })],
      }),
    ).toEqual({
      verdict: 'fail',
      reasons: ['the closed system is unstable: 2 poles right of the imaginary axis'],
    })
    expect(reasons({ stability: { verdict: 'marginal', unstablePoles: 0 } })).toEqual({
      verdict: 'fail',
      reasons: ['an undamped mode never settles, so there is no steady state'],
    })
  })

  it('are loops below their least margin, or not stable', () => {
    const said = (more: object) => reasons({ loops: [loop(more)] })
    expect(said({})).toEqual({
      verdict: 'pass',
      reasons: ['loop damping: modulus margin 0.5 at 12.3 Hz, at least 0.5'],
    })
    expect(said({ modulusMargin: 0.4999 })).toEqual({
      verdict: 'fail',
      reasons: ['loop damping: modulus margin 0.5 at 12.3 Hz, below 0.5'],
    })
    expect(said({ closedLoop: 'unstable' })).toEqual({
      verdict: 'fail',
      reasons: ['loop damping is unstable at controller.force'],
    })
  })

  it('are actuators beyond their bounds, by what was counted', () => {
    const said = (more: object) => reasons({ effort: [effort(more)] })
    expect(said({})).toEqual({ verdict: 'pass', reasons: ['actuatorForce: needs 12.3 N (3 rms) of 12.3 N'] })
    expect(said({ peak: 13, inMoves: 1 })).toEqual({
      verdict: 'fail',
      reasons: ['actuatorForce: needs 13 N (3 rms and the moves) of 12.3 N'],
    })
    expect(said({ of: 'rms', limit: Infinity }).reasons).toEqual(['actuatorForce: needs 12.3 N (rms) of infinite N'])
  })

  it('are moves that settle late, each by its number', () => {
    const settling = [
      move(),
      move({ verdict: 'fail', within: 0.1, axis: 'x' }),
      move({ settlingTime: null, verdict: 'fail' }),
    ]
    expect(reasons({ settling })).toEqual({
      verdict: 'fail',
      reasons: [
        'move 2: along x, within ±1 µm for good 0.123 s after its end, 0.1 s allowed',
        'move 3: within ±1 µm not before the next move',
        'move 1: within ±1 µm for good 0.123 s after its end',
      ],
    })
    expect(reasons({ settling: [move({ settlingTime: null, within: 2, verdict: 'fail' })] }).reasons).toEqual([
      'move 1: within ±1 µm not before the next move, 2 s allowed',
    ])
  })

  it('are what a tool bears, and what is not known of the noise', () => {
    expect(reasons({ tolerance: tool({ ratio: 1 }) })).toEqual({
      verdict: 'pass',
      reasons: ['motion of payload: 12.3 nm rms, 20 nm allowed'],
    })
    const strict = tool({ ratio: 1.001, measure: 'peak', exposure: 0.05, motion: [{ axis: 'y', value: 1e-7 }] })
    expect(reasons({ tolerance: strict })).toEqual({
      verdict: 'fail',
      reasons: ['motion of payload: along y, 100 nm 3 rms about the mean over 0.05 s, 20 nm allowed'],
    })
    const noise = { unknown: ['sensorNoise', 'actuatorNoise'] }
    expect(reasons({ axes: [axis('pass', { payload: null, noise })] })).toEqual({
      verdict: 'pass',
      reasons: ['not counted, since it is not known: noise at sensorNoise, actuatorNoise'],
    })
  })

  it('have three digits', () => {
    expect([1234567, 0.0012345, -5.5555, 0, Infinity, -Infinity].map(digits)).toEqual([
      '1230000',
      '0.00123',
      '-5.56',
      '0',
      'infinite',
      'infinite',
    ])
  })
})

describe('explain', () => {
  const flat = (level: number) =>
    spectrum({ quantity: 'velocity', frequency: [1, 5], density: [level ** 2, level ** 2] })
  const along = (name: string | null, more: object = {}) => ({
    axis: name,
    floor: held('pass'),
    rms: 5.5555e-6,
    transmissibility: { peak: 3.3333, peakFrequency: 2.2222, isolationFrom: 4.4444 },
    worseThanFloor: [
      [1, 2],
      [3, 4.4444],
    ],
    staticCompliance: 7.7777e-6,
    peakCompliance: { value: 8.8888e-5, frequency: 9.9999 },
    floorForce: 0.11111,
    neighbourBands: null,
    noise: null,
    ...more,
  })
  const told = (more: object) =>
    explain({
      kind: 'Assessment',
      verdict: 'pass',
      reasons: [],
      loops: [],
      allLoops: null,
      settling: [],
      otherAxes: [],
      cautions: [],
      ...along(null),
      ...more,
    } as unknown as Assessment)

  it('says the verdict, the reasons, each axis, and the cautions last', () => {
    const reasons = ['first reason', 'second reason']
    const otherAxes = [along('x', { rms: null })]
    expect(told({ verdict: 'fail', reasons, otherAxes, cautions: ['Do not touch.'] })).toEqual([
      'Fails: first reason.',
      'Second reason.',
      'The floor itself has 1.23 µm/s in the 10 Hz band, 1.23 of VC-E.',
      '|T| is 3.33 at most, at 2.22 Hz, and it stays below 1 from 4.44 Hz on.',
      'The payload has 5.56 µm/s rms in all, and moves more than the bare floor from 1 to 2 Hz and 3 to 4.44 Hz.',
      '1 N on the payload moves it by 7.78 µm in the end, and by 88.9 µm at 10 Hz, where it gives way most.',
      'The force on the floor is 0.111 N rms.',
      'Along x, the floor itself has 1.23 µm/s in the 10 Hz band, 1.23 of VC-E.',
      'Along x, |T| is 3.33 at most, at 2.22 Hz, and it stays below 1 from 4.44 Hz on.',
      'Caution: Do not touch.',
    ])
    expect([told({})[0], told({ verdict: 'undecided' })[0]]).toEqual([
      'Passes: nothing stands against it.',
      'Not decided: nothing stands against it.',
    ])
  })

  it.each(['rms', 'floorForce', 'staticCompliance', 'peakCompliance'])('says no more of an axis without %s', (key) => {
    expect(told({ [key]: null })).toHaveLength(3)
  })

  it('says what a neighbour gets, by the loudest band, and where the noise is from', () => {
    const bands = [1e-9, 3.3333e-9, 2e-9].map((rms, k) => ({ nominal: [8, 10, 12.5][k], rms }))
    // 1 and 2 µm/s/√Hz over 4 Hz
    const noise = { contributions: { floor: flat(1e-6), sensorNoise: flat(2e-6) }, worseThanPassive: [[1, 2]] }
    expect(told({ neighbourBands: { bands }, noise, axis: 'y' }).slice(6)).toEqual([
      'Along y, it gives a neighbour 0.00333 µm/s at most, in the 10 Hz band.',
      'Along y, of that, 2 µm/s from floor, 4 µm/s from sensorNoise.',
      'Along y, the controllers make it worse from 1 to 2 Hz.',
    ])
    const alone = { contributions: { floor: flat(1e-6) }, worseThanPassive: [] }
    expect(told({ noise: alone })).toHaveLength(6)
  })

  it('says what loops bear, each by itself and all at once where there are several', () => {
    const margins = { closedLoop: 'stable', gainMargin: 2, gainReductionMargin: null, phaseMarginDegrees: -33.333 }
    const one = { name: 'damping', margins: { ...margins, delayMargin: 1.2345e-3 } }
    const other = { name: 'levelling', margins: { ...margins, closedLoop: 'unstable' } }
    const allLoops = { gainReductionMargin: 0.77777, gainMargin: 1.3333, phaseMarginDegrees: 15.555 }
    const bears = 'Loop damping by itself bears up to 2 times its gain, 33.3° more phase lead, 1.23 ms more delay.'
    expect(told({ loops: [one], allLoops }).slice(6)).toEqual([bears])
    expect(told({ loops: [one, other], allLoops }).slice(6)).toEqual([
      bears,
      'All loops at once bear gains from 0.778 to 1.33 times what they are, or phases within ±15.6°.',
    ])
    expect(told({ loops: [one, other], allLoops: { ...allLoops, gainReductionMargin: null } }).slice(6)).toEqual([
      bears,
    ])
    expect(told({ loops: [one, other], allLoops: null }).slice(6)).toEqual([bears])
  })

  it('says of each move what it does to payload, mounts, actuators and floor', () => {
    const moved = (more: object) => ({
      peakDisplacement: 1.2345e-3,
      peakStretch: 2.3456e-3,
      peakForce: null,
      peakExpansion: null,
      peakFloorForce: 3.4567,
      restsAt: 1.2e-6,
      padeOrder: null,
      ...more,
    })
    const settling = [moved({}), moved({ peakForce: 4.5678, peakExpansion: 5.6789e-6, restsAt: -1.3e-6, padeOrder: 6 })]
    expect(told({ settling }).slice(6)).toEqual([
      'Move 1 displaces the payload by 1230 µm at most and stretches the mounts by 2350 µm, puts 3.46 N on the floor.',
      'Move 2 displaces the payload by 1230 µm at most and stretches the mounts by 2350 µm, needs 4.57 N of the actuators, ' +
        'needs 5.68 µm of the actuators, puts 3.46 N on the floor, leaves it -1.3 µm from where it was, ' +
        'delays taken as Padé approximations of order 6.',
    ])
  })
})

describe('the cautions', () => {
  // Common practice, no source: hardware that can hurt someone, and whom to ask.
  const tip = 'Heavy and top-heavy loads can tip: check stability, anchorage and seismic restraint with local codes.'
  const air = 'Air springs are pressure equipment: have them rated, protected and inspected as local codes demand.'
  const piezo = 'Piezo drives carry high voltage: follow local electrical-safety codes.'
  const force =
    'A loop that runs away moves the load with full force: limit force and stroke in hardware, with a safe stop.'
  const stage = 'Moving stages can crush: guard them as local machine-safety codes demand.'
  const one = 'Predictions are linear and for one axis: verify them by measurement before relying on them.'
  const six = 'Predictions are linear: verify them by measurement before relying on them.'
  const payload = { mass: 500 }
  const mount = { stiffness: 2e5, damping: 800 }
  const spring = airSpring({ area: 0.02, volume: 4e-3, load: 500 * 9.80665, diaphragmDamping: 900 })
  const storey = (concept: 'passive' | 'pneumatic', on: object) => ({ concept, payload, ...on }) as never
  const active = { mass: 60, actuator: { stiffness: 2e9, damping: 1.5e5, stroke: 2e-5 } }
  const controller = { gain: 3, highPass: 0.02, lowPass: 60 }
  const feet = [-1, 1].flatMap((x) => [-1, 1].map((y): Point => [x, y, 0]))

  it.each([
    ['a passive table', voigt(2, 0.1), [tip, one]],
    [
      'an active one on air',
      activelyDampedIsolation({ payload, mount: spring, damping: { gain: 100 } }),
      [tip, air, force, one],
    ],
    [
      'a piezo stage',
      seriesActiveIsolation({
        payload,
        mount,
        activeStage: { ...active, sensorLocation: 'activeStage' as const, controller },
      }),
      [tip, piezo, force, one],
    ],
    [
      'a feedforward of a stage',
      parallelActiveIsolation({ payload, mount, feedback: { velocityGain: 10 }, feedforward: { gain: 0.5 } }),
      [tip, force, stage, one],
    ],
    [
      'air below',
      stackedIsolation({
        lower: storey('pneumatic', {
          mount: airSpring({ area: 0.02, volume: 4e-3, load: 1000 * 9.80665, diaphragmDamping: 900 }),
        }),
        upper: storey('passive', { mount }),
      }),
      [tip, air, one],
    ],
    [
      'six axes',
      sixAxisIsolation({
        payload: {
          mass: 500,
          inertia: [90, 90, 160],
          centreOfMass: [0, 0, 0],
          supports: feet.map((position) => ({ position, mount: { ...mount, lateral: mount } })),
        },
      }),
      [tip, six],
    ],
  ])('of %s', (_, model, expected) => {
    expect(cautionsOf(model, false)).toEqual(expected)
  })

  it('of a stage that moves', () => {
    expect(cautionsOf(voigt(2, 0.1), true)).toEqual([tip, stage, one])
  })
})
