import { checkAirSpring, checkMount } from '../elements/check-mount.js'
import type { DisplacementSensor } from '../elements/displacement-sensor.js'
import type { Geophone } from '../elements/geophone.js'
import type { LevellingValve } from '../elements/levelling-valve.js'
import { checkProfile } from '../elements/motion-phases.js'
import type { MotionProfile } from '../elements/motion-profile.js'
import type { OptimalRelaxation } from '../elements/optimal-relaxation.js'
import type { PiezoStack } from '../elements/piezo-stack.js'
import { checkPayloadOptions } from '../elements/rigid-payload-options.js'
import type { PayloadSupport, RigidMode, RigidPayload, TiltStiffness } from '../elements/rigid-payload-types.js'
import type { SampledMotion } from '../elements/sample-profile.js'
import type { TunedMassDamper } from '../elements/tuned-mass-damper.js'
import type {
  Actuator,
  AirSpring,
  CanonicalMount,
  CoilSurge,
  ElastomerMount,
  InstrumentNoise,
  Mount,
  MountRecord,
  Relaxation,
  Sensor,
} from '../elements/types.js'
import type { VoiceCoil } from '../elements/voice-coil.js'
import { fail, type Scope, within } from '../internal/check.js'
import type { StateSpace } from '../systems/types.js'
import type { FieldsFor, KindShape, RecordShapeFor } from './shape.js'

const relaxations: { readonly list: RecordShapeFor<Relaxation> } = {
  list: { fields: { stiffness: 'number', time: 'number' } },
}
const surge: { readonly list: RecordShapeFor<CoilSurge> } = {
  list: { fields: { mass: 'number', naturalFrequency: 'number', dampingRatio: 'number', modes: 'number' } },
}
const anyMount: KindShape = { kind: ['Mount', 'ElastomerMount', 'AirSpring'], without: 'MountLiteral' }
const canonicalMount: FieldsFor<CanonicalMount> = {
  stiffness: 'number',
  damping: 'number',
  relaxations,
  surge: { optional: surge },
  lateral: { optional: anyMount },
}

export const mountLiteralShape: RecordShapeFor<Mount> = {
  fields: {
    stiffness: 'number',
    damping: { optional: 'number' },
    relaxations: { optional: relaxations },
    surge: { optional: surge },
    lateral: { optional: anyMount },
  },
}

export const mountShape: RecordShapeFor<MountRecord> = {
  fields: canonicalMount,
  check: (scope, mount) => checkMount(scope, mount, 'surge-kept'),
}

export const elastomerMountShape: RecordShapeFor<ElastomerMount> = {
  fields: {
    ...canonicalMount,
    lossFactor: 'number',
    band: { tuple: ['number', 'number'] },
    staticRatio: 'number',
    fit: { fields: { stiffnessDeviation: 'number', lossFactorDeviation: 'number' } },
  },
  check: checkMount,
}

export const airSpringShape: RecordShapeFor<AirSpring> = {
  fields: {
    ...canonicalMount,
    area: 'number',
    volume: 'number',
    gaugePressure: 'number',
    ambientPressure: 'number',
    absolutePressure: 'number',
    load: 'number',
    ratedGaugePressure: { nullable: 'number' },
    polytropicExponent: 'number',
    heatExchange: { nullable: { fields: { time: 'number' } } },
    areaGradient: 'number',
    diaphragmStiffness: 'number',
    dampingChamber: { nullable: { fields: { volume: 'number', flowResistance: 'number' } } },
    gas: { fields: { stiffness: 'number', relaxations } },
    staticStiffness: 'number',
    naturalFrequency: 'number',
    cautions: { list: 'text' },
  },
  check: checkAirSpring,
}

export const levellingValveShape: RecordShapeFor<LevellingValve> = {
  fields: { flowGain: 'number', deadBand: 'number', delay: 'number' },
}

export const optimalRelaxationShape: RecordShapeFor<OptimalRelaxation> = {
  fields: { dampingRatio: 'number', crossingRatio: 'number', peak: 'number' },
}

export const tunedMassDamperShape: RecordShapeFor<TunedMassDamper> = {
  fields: {
    mass: 'number',
    naturalFrequency: 'number',
    dampingRatio: 'number',
    frequencyRatio: 'number',
    stiffness: 'number',
    damping: 'number',
    peak: 'number',
  },
}

const numbers = { list: 'number' } as const
const known = { optional: 'number' } as const
const place = { tuple: ['number', 'number', 'number'] } as const

const supportShape: RecordShapeFor<PayloadSupport> = {
  fields: {
    position: place,
    mount: anyMount,
    lateral: { tuple: [anyMount, anyMount] },
    orientation: { list: numbers },
    valveGroup: { nullable: 'text' },
    loadShare: 'number',
    load: 'number',
    deflection: 'number',
  },
}

const modeShape: RecordShapeFor<RigidMode> = {
  fields: {
    name: 'text',
    frequency: { nullable: 'number' },
    dampingRatio: { nullable: 'number' },
    shape: numbers,
    energy: numbers,
  },
}

const tiltShape: RecordShapeFor<TiltStiffness> = {
  fields: { aboutX: 'number', aboutY: 'number', weakest: 'number', axis: { tuple: ['number', 'number'] } },
}

export const rigidPayloadShape: RecordShapeFor<RigidPayload> = {
  fields: {
    mass: 'number',
    inertia: { list: numbers },
    centreOfMass: place,
    gravity: 'number',
    supports: { list: supportShape },
    deflection: 'number',
    tilt: { tuple: ['number', 'number'] },
    stiffness: { list: numbers },
    modes: { list: modeShape },
    tipping: {
      fields: {
        verdict: { oneOf: ['stands', 'tips'] },
        height: 'number',
        gravityStiffness: 'number',
        slow: tiltShape,
        fast: tiltShape,
        margin: 'number',
        heightLimit: { nullable: 'number' },
        fastHeightLimit: { nullable: 'number' },
      },
    },
  },
  check: checkPayloadOptions,
}

export const noiseShape: { readonly nullable: RecordShapeFor<InstrumentNoise> } = {
  nullable: {
    fields: { frequency: 'grid', amplitudeDensity: 'series' },
    lengths: { amplitudeDensity: ['frequency'] },
  },
}

type Extra<T extends Base, Base> = Omit<FieldsFor<T>, keyof FieldsFor<Base>>

const geophoneFields: Extra<Geophone, Sensor> = {
  dampingRatio: 'number',
  loadedVoltagePerVelocity: { nullable: 'number' },
}

const displacementSensorFields: Extra<DisplacementSensor, Sensor> = {
  capacitance: { nullable: 'number' },
  capacitancePerGap: { nullable: 'number' },
}

export const sensorShape: RecordShapeFor<Sensor> = {
  fields: {
    measures: { oneOf: ['velocity', 'acceleration', 'displacement'] },
    dynamics: { kind: ['StateSpace'] },
    noise: noiseShape,
  },
  groups: [geophoneFields, displacementSensorFields],
  check: (scope, { dynamics }) => checkPorts(within(scope, 'dynamics'), dynamics, 'motion', ['signal']),
}

const piezoStackFields: Extra<PiezoStack, Actuator> = {
  stiffness: 'number',
  damping: 'number',
  stroke: 'number',
  drive: { nullable: { fields: { capacitance: 'number', voltage: 'number' } } },
}

const voiceCoilFields: Extra<VoiceCoil, Actuator> = {
  forceConstant: 'number',
  motorConstant: 'number',
  backEmf: { nullable: { kind: ['Mount'] } },
}

export const actuatorShape: RecordShapeFor<Actuator> = {
  fields: {
    dynamics: { kind: ['StateSpace'] },
    limits: { fields: { force: known, continuousForce: known, stroke: known, rate: known } },
    noise: noiseShape,
  },
  groups: [piezoStackFields, voiceCoilFields],
  check: (scope, { dynamics }) => checkPorts(within(scope, 'dynamics'), dynamics, 'command', ['force', 'expansion']),
}

export const motionProfileShape: RecordShapeFor<MotionProfile> = {
  fields: {
    distance: 'number',
    jerkTime: 'number',
    accelerationTime: 'number',
    velocityTime: 'number',
    peakVelocity: 'number',
    peakAcceleration: 'number',
    duration: 'number',
  },
  check: checkProfile,
}

export const sampledMotionShape: RecordShapeFor<SampledMotion> = {
  fields: { time: 'grid', position: 'series', velocity: 'series', acceleration: 'series', jerk: 'series' },
  lengths: { position: ['time'], velocity: ['time'], acceleration: ['time'], jerk: ['time'] },
}

function checkPorts(scope: Scope, { inputs, outputs }: StateSpace, input: string, output: readonly string[]): void {
  if (inputs.length === 1 && inputs[0] === input && outputs.length === 1 && output.includes(outputs[0])) return
  fail('invalid-option', scope, `must lead from ${input} to ${output.join(' or ')}`)
}
