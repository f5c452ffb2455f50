import { describe, expect, it } from 'vitest'
import * as restmass from '../../../src/index.js'
import { refusal } from '../refusal.js'

// Each case is a fault that random calls once found: a record or list that is right on the outside and wrong within.
// What is expected is one clear refusal, common practice, no source.

const {
  activelyDampedIsolation,
  airSpring,
  bandStatistic,
  channel,
  compareConcepts,
  compareLinesToCriterion,
  compareToModel,
  controlElements,
  differentiate,
  elastomerMount,
  errorRecord,
  filteredSensor,
  frequencyResponse,
  gain,
  geophone,
  integrate,
  integrator,
  levellingLimit,
  lineCriterion,
  lowPass,
  margins,
  mergeSweeps,
  minimumSampleRate,
  motionNoise,
  motionProfile,
  openLoop,
  passiveIsolation,
  piezoCurrent,
  piezoStack,
  plotLoop,
  plotModes,
  pneumaticIsolation,
  poles,
  predictPayload,
  prepare,
  replaceBlock,
  residualAmplitude,
  resolutionBias,
  rigidPayload,
  sampleProfile,
  sectionsSystem,
  simulateWithLimits,
  spectrogram,
  stageReaction,
  spectrogramBands,
  spectrumStatistic,
  stepResponse,
  sweep,
  transferEstimate,
  transmissibility,
  tuneSeriesStage,
  actuatorEffort,
  assess,
  spectrum,
  explain,
  parallelActiveIsolation,
  plotSweep,
  voiceCoil,
} = restmass

const holes = new Array(2)
const mount = { stiffness: 1e5, damping: 500 }
const passive = passiveIsolation({ payload: { mass: 1000 }, mount })
const spring = airSpring({ area: 0.01, volume: 0.002, load: 2451.6625 })
const levelled = pneumaticIsolation({
  payload: { mass: 1000 },
  mount: spring,
  count: 4,
  levelling: { flowGain: 0.005 },
})
const active = activelyDampedIsolation({ payload: { mass: 1000 }, mount, damping: { gain: 2000 } })
const response = frequencyResponse(integrator(), [1, 2])
const loop = lowPass({ cutoff: 10 })
const sensor = geophone({
  naturalFrequency: 4.5,
  dampingRatio: 0.6,
  noise: { frequency: [1, 10], amplitudeDensity: [1, 1] },
})
const stack = piezoStack({ stiffness: 3e7, stroke: 6e-5, drive: { capacitance: 6e-6, voltage: 100 } })
const noise = Array.from({ length: 512 }, (_, n) => Math.sin(n * n))
const estimate = transferEstimate({ input: noise, output: noise, sampleRate: 100, segmentLength: 64 })
const blocks = spectrogram({ samples: noise, sampleRate: 64, segmentLength: 64 })
const history = spectrogramBands(blocks, { from: 16, to: 16 })
const floor = { quantity: 'velocity', frequency: [1, 10, 100], density: [1e-12, 1e-12, 1e-12] } as const
const lines = lineCriterion({ frequency: [4, 80], velocity: [2e-6, 2e-6], lineWidth: 1 })
const limit = { name: 'actuatorForce', output: 'actuatorForce', value: 50, unit: 'N' }
const assessed = assess(passive, { floor: spectrum({ ...floor }), criterion: 'VC-E' })
const swept = sweep({ parameters: { x: [1, 2] }, evaluate: ({ x }) => ({ y: x }) })
const wires = { 'plant.u1': '-controller.y1', 'controller.u1': 'plant.y1' }
const halfDiagram = { blocks: { plant: integrator(), controller: {} }, inputs: [], outputs: {}, wires }
const wrong = (value: unknown) => value as never

describe('a list with holes is refused by', () => {
  it.each<[string, () => unknown, string]>([
    [
      'a mount',
      () => passiveIsolation({ payload: { mass: 1 }, mount: { ...mount, relaxations: holes } }),
      'mount.relaxations[0]',
    ],
    [
      'a six-axis payload',
      () => rigidPayload({ mass: 1, inertia: [1, 1, 1], centreOfMass: [0, 0, 0], supports: holes }),
      'supports[0]',
    ],
    ['sections', () => sectionsSystem(holes, { sampleTime: 0.1 }), 'sections[0]'],
    ['shards', () => mergeSweeps(holes), '[0].total'],
    ['appendages', () => passiveIsolation({ payload: { mass: 1, appendages: holes }, mount }), 'payload.appendages[0]'],
    ['outputs of a response', () => frequencyResponse(integrator(), [1], { outputs: holes }), 'outputs[0]'],
  ])('%s', (_, call, path) => {
    expect(refusal(call).details.path).toBe(path)
  })
})

describe('a record that is wrong within is refused by', () => {
  it.each<[string, () => unknown, string]>([
    [
      'channel, samples',
      () => channel({ ...response, re: Float64Array.of(NaN, 0) }, { input: 'u1', output: 'y1' }),
      'not-finite',
    ],
    [
      'channel, sizes',
      () => channel({ ...response, re: Float64Array.of(1) }, { input: 'u1', output: 'y1' }),
      'dimension-mismatch',
    ],
    [
      'channel, names',
      () => channel({ ...response, inputs: wrong(null) }, { input: wrong('u1'), output: 'y1' }),
      'invalid-option',
    ],
    [
      'transmissibility, noise of a sensor',
      () =>
        transmissibility({ ...active, noiseSources: [{ input: 'sensorNoise', unit: 'm/s', noise: wrong({}) }] }, [1]),
      'invalid-option',
    ],
    [
      'transmissibility, noise that is not even null',
      () => transmissibility({ ...active, noiseSources: [wrong({ input: 'sensorNoise', unit: 'm/s' })] }, [1]),
      'invalid-option',
    ],
    [
      'transmissibility, limit of an output that there is not',
      () => transmissibility({ ...active, limits: [{ ...limit, output: 'length' }] }, [1]),
      'invalid-option',
    ],
    [
      'transmissibility, limit of something else',
      () => transmissibility({ ...active, limits: [{ ...limit, of: wrong('mean') }] }, [1]),
      'invalid-option',
    ],
    [
      'parallelActiveIsolation, limits of an actuator',
      () => {
        const coil = voiceCoil({ forceConstant: 45, resistance: 3, stroke: 8e-3 })
        const actuator = { ...coil, limits: { ...coil.limits, stroke: NaN } }
        return parallelActiveIsolation({ payload: { mass: 1000 }, mount, feedback: { velocityGain: 100, actuator } })
      },
      'not-finite',
    ],
    ['mergeSweeps, a number of points', () => mergeSweeps([swept, { ...swept, total: NaN }]), 'not-finite'],
    [
      'plotSweep, a parameter',
      () =>
        plotSweep(
          { ...swept, rows: [{ ...(swept.rows[0] as (typeof swept.rows)[0]), parameters: { x: NaN } }] },
          { x: 'x', value: 'y' },
        ),
      'not-finite',
    ],
    ['explain, a number', () => explain({ ...assessed, staticCompliance: NaN }), 'not-finite'],
    [
      'actuatorEffort, samples without time between them',
      () => actuatorEffort(active, { record: { inputs: { payloadForce: [0, 1.2, 2.4] }, sampleTime: 5e-324 } }),
      'out-of-range',
    ],
    [
      'sweep, a NaN in a grid',
      () => sweep({ parameters: { x: [1, NaN] }, evaluate: ({ x }) => ({ y: x }) }),
      'not-finite',
    ],
    [
      'sweep, a NaN in a list',
      () => sweep({ parameters: [{ x: NaN }], evaluate: ({ x }) => ({ y: x }) }),
      'not-finite',
    ],
    [
      'stageReaction, a mass that no lever can bear',
      () =>
        stageReaction({
          mass: 1e300,
          position: [0, 1e9, 0.4],
          direction: [1, 0, 0],
          reference: [0, 0, 0],
          motion: { position: Float64Array.of(0, 0.2), acceleration: Float64Array.of(0, 0) },
        }),
      'out-of-range',
    ],
    ['controlElements, blocks', () => controlElements({ ...active, diagram: wrong({}) }), 'invalid-option'],
    [
      'transmissibility, closed',
      () => transmissibility({ ...passive, closed: { ...passive.closed, B: [] } }, [1]),
      'dimension-mismatch',
    ],
    ['levellingLimit, loops', () => levellingLimit({ ...levelled, loops: wrong([null]) }), 'invalid-option'],
    [
      'levellingLimit, port',
      () => levellingLimit({ ...levelled, loops: [{ name: 'levelling', port: 'x.y' }] }),
      'unknown-port',
    ],
    [
      'compareToModel, lines',
      () => compareToModel({ ...estimate, coherence: estimate.coherence.map(() => NaN) }, passive),
      'not-finite',
    ],
    [
      'plotLoop, margins',
      () => plotLoop(transmissibility(passive, [1, 2]), { margins: { ...margins(loop), gainCrossovers: wrong([{}]) } }),
      'invalid-option',
    ],
    [
      'predictPayload, an output that the diagram does not have',
      () =>
        predictPayload(
          { ...passive, closed: { ...passive.closed, outputs: ['x', 'stretch', 'floorForce'] } },
          { floor },
        ),
      'dimension-mismatch',
    ],
    [
      'compareConcepts, a concept',
      () => compareConcepts({ passive: { ...passive, concept: wrong(null) } }, { floor, criterion: 'VC-E' }),
      'invalid-option',
    ],
    [
      'residualAmplitude, a duration that is not that of its pieces',
      () => {
        const profile = motionProfile({ distance: 0.3, maxVelocity: 1, maxAcceleration: 10 })
        return residualAmplitude({ ...profile, velocityTime: 9 }, { naturalFrequency: 2, movingMass: 1, totalMass: 9 })
      },
      'invalid-option',
    ],
    [
      'compareToModel, a window that is a property of every object',
      () => compareToModel({ ...estimate, window: wrong('constructor') }, passive),
      'invalid-option',
    ],
    ['plotModes, frequency', () => plotModes(wrong([{ name: 'heave', energy: [1] }])), 'invalid-option'],
    ['motionNoise, table', () => motionNoise({ ...sensor, noise: wrong({}) }), 'invalid-option'],
    [
      'filteredSensor, table',
      () => filteredSensor({ ...sensor, noise: wrong({ frequency: [] }) }, loop),
      'invalid-option',
    ],
    [
      'piezoCurrent, drive',
      () => piezoCurrent({ ...stack, drive: wrong({}) }, { frequency: 1, travel: 1e-6 }),
      'invalid-option',
    ],
    [
      'pneumaticIsolation, chamber',
      () => pneumaticIsolation({ payload: { mass: 250 }, mount: { ...spring, dampingChamber: wrong({}) } }),
      'invalid-option',
    ],
    ['mergeSweeps, rows', () => mergeSweeps([{ ...swept, rows: wrong([{ index: 'x' }]) }]), 'invalid-option'],
    [
      'minimumSampleRate, a block',
      () => minimumSampleRate(wrong(halfDiagram), { controller: 'controller', from: 1, to: 10 }),
      'invalid-option',
    ],
  ])('%s', (_, call, code) => {
    expect(refusal(call).code).toBe(code)
  })
})

describe('a record that lacks a part is refused by', () => {
  it.each<[string, () => unknown, string]>([
    [
      'bandStatistic, freedom',
      () =>
        bandStatistic({ ...history, bands: history.bands.map((band) => ({ ...band, degreesOfFreedom: wrong([0]) })) }),
      'history.bands[0].degreesOfFreedom',
    ],
    [
      'spectrumStatistic, averages',
      () => spectrumStatistic({ ...blocks, averages: wrong(undefined) }),
      'spectrogram.averages',
    ],
    [
      'spectrogramBands, averages too few to be any',
      () => spectrogramBands({ ...blocks, effectiveAverages: 5e-324 }, { from: 16, to: 16 }),
      'spectrogram.effectiveAverages',
    ],
    [
      'compareLinesToCriterion, name',
      () => compareLinesToCriterion(floor, { ...lines, name: wrong(Symbol('x')) }),
      'criterion.name',
    ],
    [
      'simulateWithLimits, limit',
      () =>
        simulateWithLimits({ ...active, limits: [{ ...limit, value: wrong(10n) }] }, { inputs: {}, sampleTime: 0.1 }),
      'limits[0].value',
    ],
    [
      'frequencyResponse, handle',
      () => frequencyResponse({ ...prepare(integrator()), factors: { kernel: {} } }, [1]),
      'system',
    ],
    ['poles, handle', () => poles({ ...prepare(integrator()), factors: wrong(null) }), 'system.factors'],
    [
      'margins, handle within a handle',
      () => margins({ ...prepare(integrator()), system: wrong(prepare(integrator())) }),
      'loop',
    ],
  ])('%s', (_, call, path) => {
    expect(refusal(call).details.path).toBe(path)
  })
})

describe('a line without input power', () => {
  it('says nothing about a model', () => {
    const silent = { ...estimate, inputDensity: estimate.inputDensity.map((value, k) => (k === 7 ? 0 : value)) }
    const { frequency } = compareToModel(silent, passive)
    expect(frequency).not.toContain(estimate.frequency[7])
    expect(frequency).toHaveLength(compareToModel(estimate, passive).frequency.length - 1)
  })

  it('may have a coherence that rounding put above 1', () => {
    const rounded = { ...estimate, coherence: estimate.coherence.map(() => 1 + 1e-12) }
    expect(compareToModel(rounded, passive).verdict).toBe('departs')
  })
})

describe('a number at the end of the range of numbers', () => {
  it('is a segment too short to show any of the ringing', () => {
    // The limit of no ringing within a segment: the peak is not seen at all, derived.
    expect(resolutionBias({ naturalFrequency: 0.25, dampingRatio: 0.05, segmentDuration: 5e-324 })).toBeCloseTo(-1, 12)
  })

  it('is a time between samples that would make millions of them', () => {
    const profile = motionProfile({ distance: 0.3, maxVelocity: 1, maxAcceleration: 10 })
    expect(refusal(() => sampleProfile(profile, { sampleTime: 1e-7 })).details.path).toBe('sampleTime')
    expect(refusal(() => stepResponse(loop, { duration: 20, sampleTime: 1e-6 })).details.path).toBe('duration')
  })

  it('is a frequency at which the response overflows', () => {
    expect(refusal(() => frequencyResponse(integrator(), [5e-324])).code).toBe('singular')
  })
})

describe('an absent argument is refused by', () => {
  it.each<[string, () => unknown]>([
    ['integrate', () => integrate(wrong(undefined))],
    ['differentiate', () => differentiate(wrong(undefined))],
    ['errorRecord', () => errorRecord(wrong(undefined))],
    ['minimumSampleRate', () => minimumSampleRate(wrong(undefined), wrong(undefined))],
    ['tuneSeriesStage', () => tuneSeriesStage(wrong(undefined))],
    ['elastomerMount', () => elastomerMount(wrong(undefined))],
  ])('%s', (name, call) => {
    const { code, details } = refusal(call)
    expect([code, details.function]).toEqual(['invalid-option', name])
  })
})

describe('a message', () => {
  it('has a bounded length whatever the names are', () => {
    const long = 'x'.repeat(100_000)
    const diagram = { blocks: { amplifier: gain(1) }, inputs: [], outputs: {}, wires: { 'amplifier.u1': null } }
    expect(refusal(() => replaceBlock(diagram, wrong(long), gain(1))).message.length).toBeLessThan(1300)
    expect(refusal(() => openLoop(diagram, wrong(long))).message.length).toBeLessThan(1300)
  })

  it('shows a name that is no text', () => {
    const diagram = { blocks: { amplifier: gain(1) }, inputs: [], outputs: {}, wires: { 'amplifier.u1': null } }
    for (const name of [Symbol('y'), [NaN], Object.create(null)]) {
      expect(refusal(() => openLoop(diagram, wrong(name))).code).toBe('unknown-port')
      expect(refusal(() => replaceBlock(diagram, wrong(name), gain(1))).code).toBe('unknown-port')
    }
  })
})
