import {
  accelerometer,
  activelyDampedIsolation,
  actuatorEffort,
  airSpring,
  airSpringForce,
  assess,
  bandHistory,
  bandStatistic,
  channel,
  compareConcepts,
  compareToCriterion,
  compareToModel,
  connect,
  controlElements,
  criterion,
  crossSpectrum,
  customCriterion,
  delay,
  diagram,
  discretize,
  displacementSensor,
  elastomerMount,
  errorRecord,
  expectedPeak,
  fitIsolator,
  frequencyResponse,
  gain,
  gainLimits,
  geophone,
  hInfinityNorm,
  IsolationError,
  idealActuator,
  isolationSummary,
  laminarFlowResistance,
  levelConfidence,
  levellingConsumption,
  levellingLimit,
  levellingValve,
  lineCriterion,
  lowPass,
  margins,
  mechanicalSystem,
  minimalForm,
  minimumSampleRate,
  mobilityModes,
  motionProfile,
  moveAndSettle,
  noiseBudget,
  oneThirdOctaveBands,
  onOffLevelling,
  optimalRelaxation,
  optimumFeedforward,
  orificeFlow,
  orificeFlowResistance,
  passiveIsolation,
  piezoStack,
  pneumaticActuator,
  pneumaticIsolation,
  quantizedSections,
  type RecordKind,
  type Records,
  record,
  rigidBodyMotion,
  rigidPayload,
  robustStability,
  sampleProfile,
  seriesActiveIsolation,
  sideBySideNoise,
  simulate,
  simulateWithLimits,
  simultaneousLoopMargin,
  simultaneousMargin,
  sixAxisIsolation,
  smallestTransmissibility,
  spectrogram,
  spectrogramBands,
  spectrum,
  springMount,
  stability,
  stackedIsolation,
  stateSpace,
  sweep,
  toleranceStudy,
  transferEstimate,
  transferFunction,
  tunedMassDamper,
  tuneRelaxation,
  voiceCoil,
  welch,
} from '../../../src/index.js'

const samples = Array.from({ length: 64 }, (_, n) => Math.sin(n) + Math.cos(n * n))
const noise = { frequency: [1, 10], amplitudeDensity: [1e-9, 0] }
const lag = lowPass({ cutoff: 5, order: 2 })
const loop = diagram({
  blocks: { plant: lag, constructor: delay({ seconds: 0.01 }) },
  inputs: ['force'],
  outputs: { motion: 'plant.y1', nothing: null },
  wires: { 'plant.u1': ['force', '-constructor.y1'], 'constructor.u1': 'plant.y1' },
})
const floor = spectrum({ quantity: 'velocity', frequency: [0.5, 100], amplitudeDensity: [2e-6, 2e-6] })
const bands = oneThirdOctaveBands(floor, { from: 1, to: 80 })
const spring = airSpring({
  area: 0.01,
  volume: 1e-3,
  load: 980.665,
  dampingChamber: { volume: 3e-3, flowResistance: 'optimal' },
  lateral: { stiffness: 1e4 },
})
const payload = { mass: 100 }
const mount = { stiffness: 1e5, damping: 300 }
const undamped = passiveIsolation({ payload, mount: { stiffness: 1e5 } })
const damped = activelyDampedIsolation({
  payload,
  mount,
  damping: { gain: 4000, sensor: geophone({ naturalFrequency: 1, dampingRatio: 0.7, noise }), delay: 1e-3 },
})
const actuator = piezoStack({ stiffness: 2e9, damping: 1.5e5, stroke: 2e-5, noise })
const controller = { gain: 3, highPass: 0.02, lowPass: 60 }
const series = { mass: 60, actuator, sensorLocation: 'activeStage' as const, controller }
const foot = { mount: spring, lateral: [{ stiffness: 2e4 }, mount] as const }
const table = rigidPayload({
  mass: 400,
  inertia: [40, 50, 60],
  centreOfMass: [0, 0, 0.1],
  supports: [
    { ...foot, position: [-1, -1, 0], valveGroup: 'front' },
    { ...foot, position: [1, -1, 0], valveGroup: 'front' },
    { ...foot, position: [-1, 1, 0] },
    { ...foot, position: [1, 1, 0] },
  ],
})
const body = mechanicalSystem({
  mass: [[2]],
  damping: [[4]],
  stiffness: [[200]],
  inputs: { force: [1] },
  outputs: { velocity: { velocity: [1] } },
})
const moving = diagram({
  blocks: { body },
  inputs: ['force'],
  outputs: { motion: 'body.velocity' },
  wires: { 'body.force': '-force' },
})
const digital = diagram({
  blocks: { plant: lag, controller: gain(2) },
  inputs: [],
  outputs: {},
  wires: { 'plant.u1': '-controller.y1', 'controller.u1': 'plant.y1' },
})
const motor = voiceCoil({ forceConstant: 20, resistance: 4, maxHeat: 10 })
const driven = activelyDampedIsolation({
  payload,
  mount: { stiffness: 1e5, damping: 100 },
  damping: { gain: 500, actuator: motor },
})
const profile = motionProfile({ distance: 0.3, maxVelocity: 1, maxAcceleration: 10, maxJerk: 500 })
const levelled = pneumaticIsolation({ payload, mount: spring, levelling: levellingValve({ flowGain: 1e-4 }) })
const hunting = pneumaticIsolation({
  payload,
  mount: airSpring({ area: 0.01, volume: 1e-3, load: 980.665 }),
  levelling: { flowGain: 1e-4 },
})
const response = frequencyResponse(lag, [0, 1, 10])

const ground = Array.from({ length: 1024 }, (_, n) => Math.sin(n * n * 0.7) + Math.cos(n ** 2.3))
const reply = [0, 0]
for (let n = 2; n < 1024; n++) reply[n] = 1.9 * reply[n - 1] - 0.95 * reply[n - 2] + 0.05 * ground[n - 1]
const estimate = transferEstimate({ input: ground, output: reply, sampleRate: 100, segmentLength: 128 })

const blocks = spectrogram({ samples: ground, sampleRate: 100, segmentLength: 128 })
const history = spectrogramBands(blocks, { from: 10, to: 20 })

/** At least one record of every kind, made by the package itself. */
export const everyRecord: { readonly [K in RecordKind]: readonly Records[K][] } = {
  StateSpace: [
    stateSpace({ A: [[-0]], B: [[1]], C: [[2]], D: [[3]], role: 'controller' }),
    gain(2),
    connect(loop),
    damped.closed,
  ],
  DiscreteStateSpace: [discretize(lag, { sampleTime: 0.01, method: 'bilinear' })],
  MechanicalSystem: [body],
  Diagram: [loop, moving],
  ComplexSeries: [channel(response, { input: 'u1', output: 'y1' })],
  FrequencyResponse: [
    response,
    frequencyResponse(damped.closed, [1, 2]),
    frequencyResponse(lag, [1], { errorBound: 'residual' }),
  ],
  Stability: [stability(lag), stability(connect(loop))],
  Margins: [margins(lag), margins(gain(-2))],
  GainLimits: [gainLimits(lag), gainLimits(gain(-2))],
  RobustStability: [
    robustStability({ box: { cutoff: [1, 2] }, system: lowPass }),
    robustStability({
      box: { k: [-0.5, 2] },
      system: ({ k }) => transferFunction({ numerator: [1], denominator: [1, k] }),
    }),
  ],
  SimultaneousMargin: [simultaneousLoopMargin(damped), simultaneousMargin(loop, ['plant.y1'])],
  HInfinityNorm: [hInfinityNorm(lag), hInfinityNorm(gain(3))],
  MinimalForm: [minimalForm(lag), minimalForm(discretize(lag, { sampleTime: 0.01, method: 'bilinear' }))],
  LimitedSimulation: [
    simulateWithLimits(damped, {
      inputs: { payloadForce: [100, 0, 0] },
      sampleTime: 0.01,
      limits: [{ output: 'actuatorForce', value: 1 }],
    }),
  ],
  Simulation: [simulate(lag, { inputs: { u1: [0, 1, 2] }, sampleTime: 0.1 })],
  Mount: [
    springMount({ stiffness: 1e4, damping: 20 }),
    springMount({ stiffness: 1e4, surge: { mass: 0.2, dampingRatio: 0.01 } }),
    {
      ...springMount({ stiffness: 1e4, damping: 20 }),
      lateral: elastomerMount({ stiffness: 1, lossFactor: 0.1, band: [1, 9] }),
    },
  ],
  ElastomerMount: [elastomerMount({ stiffness: 1e6, lossFactor: 0.2, band: [5, 50] })],
  AirSpring: [
    spring,
    airSpring({ area: 0.01, volume: 1e-3, gaugePressure: 3e5, heatExchange: { time: 2 }, ratedGaugePressure: 2e5 }),
  ],
  AirSpringForce: [airSpringForce(spring, { travel: [0.01, -0.01] })],
  FlowResistance: [
    laminarFlowResistance({ diameter: 1e-3, length: 0.05 }),
    orificeFlowResistance({ diameter: 1e-3, flow: 1e-5, absolutePressure: 4e5 }),
  ],
  OrificeFlow: [orificeFlow({ diameter: 1e-3, upstreamAbsolutePressure: 4e5, downstreamAbsolutePressure: 0 })],
  LevellingConsumption: [levellingConsumption(spring, { load: 2e3 })],
  OptimalRelaxation: [optimalRelaxation({ stiffnessRatio: 3 })].filter((record) => record !== null),
  TunedMassDamper: [tunedMassDamper({ mass: 400, naturalFrequency: 12, massRatio: 0.05 })],
  LevellingValve: [levellingValve({ flowGain: 0.006, deadBand: 1e-4 })],
  RigidPayload: [table],
  Sensor: [
    geophone({ naturalFrequency: 4.5, dampingRatio: 0.56 }),
    geophone({ naturalFrequency: 1, dampingRatio: 0.7, noise }),
    accelerometer({ naturalFrequency: 400, dampingRatio: 0.7, noise: { ...noise, referredTo: 'motion' } }),
    displacementSensor({ plates: { area: 1e-4, gap: 5e-4 } }),
  ],
  Actuator: [
    idealActuator({ bandwidth: 100 }),
    actuator,
    piezoStack({ stiffness: 3e7, stroke: 6e-5, drive: { capacitance: 6e-6, voltage: 100, maxCurrent: 0.2 } }),
    pneumaticActuator({ bandwidth: 3, delay: 0.01, maxForce: 500 }),
    voiceCoil({ forceConstant: 20, resistance: 4, inductance: 1e-3, drive: 'voltage', maxForce: 50 }),
    voiceCoil({ forceConstant: 20, resistance: 4 }),
  ],
  MotionProfile: [profile],
  SampledMotion: [sampleProfile(profile, { sampleTime: 0.1 })],
  VibrationRecord: [
    record({ samples: [1, 1, 1], sampleRate: 10, quantity: 'force' }),
    record({ samples, sampleRate: 10, quantity: 'velocity' }),
  ],
  Spectrum: [floor, welch({ samples, sampleRate: 10, segmentLength: 16, quantity: 'force' })],
  Bands: [bands, bandStatistic(history, { statistic: 'percentile', exceeded: 10 })],
  BandHistory: [
    history,
    bandHistory({ samples: ground, sampleRate: 100, from: 31.5, to: 31.5, timeConstant: 0.125, blockDuration: 1 }),
  ],
  Spectrogram: [blocks],
  ExpectedPeak: [expectedPeak({ rms: 4e-6, frequency: 10, duration: 60 })],
  Criterion: [criterion('VC-D'), customCriterion({ frequency: [4, 80], velocity: [1e-6, 1e-6], name: '__proto__' })],
  CrossSpectrum: [crossSpectrum({ x: samples, y: samples, sampleRate: 10, segmentLength: 16 })],
  CriterionComparison: [
    compareToCriterion(bands, 'VC-C'),
    compareToCriterion({ quantity: 'velocity', bands: [{ nominal: 8, rms: 6.3e-6 }] }, 'VC-D', {
      convention: 'either',
      duration: 8,
    }),
    compareToCriterion({ quantity: 'velocity', bands: [{ nominal: 8, rms: 0 }] }, 'VC-D'),
  ],
  LineCriterion: [lineCriterion({ frequency: [1, 10], acceleration: [1e-5, 1e-4], lineWidth: 0.5, name: 'bench' })],
  LevelConfidence: [levelConfidence({ bandwidth: 1, duration: 8 })],
  TransferEstimate: [
    transferEstimate({ input: samples.map(() => 0), output: samples, sampleRate: 10, segmentLength: 16 }),
  ],
  IsolationModel: [
    undamped,
    damped,
    levelled,
    seriesActiveIsolation({ payload, mount, activeStage: series }),
    stackedIsolation({
      lower: { concept: 'passive', payload, mount },
      upper: { concept: 'activelyDamped', payload, mount, damping: { gain: 100 } },
    }),
    sixAxisIsolation({ payload: table, points: { tool: [0, 0, 1] }, levelling: { flowGain: 1e-3 } }),
  ],
  MobilityModes: [mobilityModes({ frequency: [1, 2, 3], re: [1, 3, 1], im: [1, 0, -1] }, { count: 1 })],
  LevellingLimit: [
    levellingLimit(levelled, { rocking: { inertia: 9, springDistance: 0.3, centreOfMassHeight: 0.1 } }),
    levellingLimit(hunting),
  ],
  OnOffLevelling: [
    onOffLevelling(levelled, { rate: 1e-3 }),
    onOffLevelling(levelled, { rate: 1e-3, deadBand: 1 }),
    onOffLevelling(hunting, { rate: 1e-3 }),
  ],
  IsolationSummary: [isolationSummary(damped), isolationSummary(undamped)],
  ControlElements: [controlElements(damped)],
  Tuning: [tuneRelaxation({ payload, stiffness: 1e4, stiffnessRatio: 3 })],
  OptimumFeedforward: [optimumFeedforward({ floor, sensorNoise: floor })],
  ActuatorEffort: [
    actuatorEffort(driven, { floor, moves: [{ profile, movingMass: 2 }], actuators: { actuatorForce: motor } }),
    actuatorEffort(driven, { record: { inputs: { payloadForce: [1, 0, 0] }, sampleTime: 0.1 } }),
  ],
  Assessment: [
    assess(damped, {
      floor,
      criterion: 'VC-E',
      duration: 100,
      moves: [{ profile, movingMass: 2 }],
      settling: { band: 1e-6 },
      tolerance: { limit: 1e-8, exposure: 0.1 },
    }),
    assess(undamped, { floor, criterion: 'VC-E' }),
    assess(sixAxisIsolation({ payload: table }), { floor: { x: floor, z: floor }, criterion: 'VC-E' }),
  ],
  ConceptComparison: [compareConcepts({ damped, undamped }, { floor, criterion: 'VC-C' })],
  SweepResult: [sweep({ parameters: { x: [1, 0] }, evaluate: ({ x }) => ({ y: x, ratio: x / x, big: 1 / x }) })],
  ToleranceStudy: [
    toleranceStudy({
      tolerances: { x: { nominal: 1, relative: 0.5 } },
      samples: 2,
      seed: 1,
      evaluate: ({ x }) => x > 1,
    }),
    toleranceStudy({
      tolerances: { cutoff: { nominal: 1, relative: 0.5 } },
      samples: 1,
      seed: 1,
      evaluate: () => true,
      system: lowPass,
    }),
  ],
  QuantizedSections: [
    quantizedSections([{ b: [0.2, 0, 0], a: [1, -0.9, 0] }], { format: 'single', sampleTime: 1e-3 }),
    quantizedSections([{ b: [0.2, 0, 0], a: [1, -1, 0] }], {
      format: { integerBits: 1, fractionBits: 8 },
      sampleTime: 1e-3,
    }),
  ],
  SampleRateLimit: [minimumSampleRate(digital, { controller: 'plant', from: 100, to: 200 })],
  NoiseBudget: [noiseBudget(damped, { floor })],
  MoveSettling: [
    moveAndSettle(damped, { move: { profile, movingMass: 2 }, band: 1e-3, sampleTime: 0.1 }),
    moveAndSettle(damped, { move: { profile, movingMass: 2, repeatEvery: 0.5 }, band: 1e-9, sampleTime: 0.1 }),
  ],
  IsolatorFit: [fitIsolator(estimate, { to: 10 })],
  ModelComparison: [compareToModel(estimate, damped), compareToModel(estimate, undamped)],
  RigidBodyMotion: [
    rigidBodyMotion({
      sensors: [1, 2].map((x) => ({ position: [x, 0, 0], direction: [0, 0, 1], samples }) as const),
      axes: ['z', 'rotationY'],
    }),
  ],
  SideBySideNoise: [sideBySideNoise({ first: samples, second: samples, sampleRate: 10, segmentLength: 16 })],
  SmallestTransmissibility: [
    smallestTransmissibility({
      floor,
      payloadSensorNoise: floor,
      floorSensorNoise: { ...floor, density: [1, 0] },
      averages: 10,
    }),
  ],
  ErrorRecord: [
    errorRecord(
      new IsolationError('not-finite', 'gain: value is NaN', { function: 'gain', path: 'value', value: NaN }),
    ),
    errorRecord(new IsolationError('singular', 'poles: none', { function: 'poles', path: '', value: 'x', unit: 'Hz' })),
  ],
}
