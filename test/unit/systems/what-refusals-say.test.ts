import { expect, it } from 'vitest'
import * as systems from '../../../src/systems/index.js'
import { told } from './told.js'

const {
  absolutePhaseDegrees,
  adaptiveFrequencies,
  bandPass,
  channel,
  delay,
  discretize,
  frequencyResponse,
  gain,
  gainLimits,
  h2Norm,
  hInfinityNorm,
  impulseResponse,
  integrator,
  logFrequencies,
  lowPass,
  margins,
  mechanicalSystem,
  motionFeedback,
  parallel,
  poles,
  prepare,
  quantizedSections,
  robustStability,
  secondOrderSections,
  sectionsSystem,
  series,
  settlingTime,
  simulate,
  stability,
  stateSpace,
  stationaryCovariance,
  stepResponse,
  transferFunction,
} = systems

const lag = transferFunction({ numerator: [1], denominator: [1, 1] })
const growing = transferFunction({ numerator: [1], denominator: [1, -100] })
const free = transferFunction({ numerator: [1], denominator: [1, 0, (2 * Math.PI) ** 2] })
const two = gain([[1, 1]])
const pair = stateSpace({ A: [[-1]], B: [[1, 1]], C: [[1], [2]] })
const wide = gain(Array.from({ length: 100 }, () => new Array(1000).fill(1)))
const grid = Array.from({ length: 501 }, (_, k) => k)
const late = delay({ seconds: 1 })
const digital = discretize(lag, { sampleTime: 0.01, method: 'bilinear' })
const response = frequencyResponse(lag, [1, 2])
const ring = {
  ...stateSpace({ A: [[-1]], B: [[1]], C: [[0]] }),
  delays: { seconds: [0.5], B: [[0]], C: [[1]], D12: [[1]], D21: [[0]], D22: [[1]] },
}
const delays = Array.from({ length: 9 }, (_, k) => k)
const manyDelays = {
  ...stateSpace({ A: [[-1]], B: [[1]], C: [[1]] }),
  delays: {
    seconds: delays.map(() => 1),
    B: [delays.map(() => 0.1)],
    C: delays.map(() => [0.1]),
    D12: [delays.map(() => 0)],
    D21: delays.map(() => [0]),
    D22: delays.map(() => delays.map(() => 0)),
  },
}
const box = { k: [1, 2] } as const
const format = { integerBits: 1, fractionBits: 8 }

// What is wrong, where, what was given and what may be, with the plain data that goes with it.
it.each<[string, () => unknown]>([
  [
    'unsupported: absolutePhaseDegrees: can pull out delays in series only; use pade(system, { order }) first, or phaseDegrees',
    () => absolutePhaseDegrees(parallel(lag, late), [1]),
  ],
  [
    'ill-conditioned: absolutePhaseDegrees: has no phase for a channel that is zero',
    () => absolutePhaseDegrees(gain(0), [1]),
  ],
  [
    'invalid-option: absolutePhaseDegrees: channel must name an input and an output of a system with several',
    () => absolutePhaseDegrees(pair, [1]),
  ],
  [
    "unknown-port: absolutePhaseDegrees: channel.input is 'u3'; there are u1, u2",
    () => absolutePhaseDegrees(pair, [1], { input: 'u3', output: 'y1' } as never),
  ],
  [
    "unknown-port: absolutePhaseDegrees: channel.output is 'y0'; there are y1, y2",
    () => absolutePhaseDegrees(pair, [1], { input: 'u1', output: 'y0' } as never),
  ],
  [
    'singular: absolutePhaseDegrees: frequencies hit a pole at 1 Hz {"value":1,"unit":"Hz"}',
    () => absolutePhaseDegrees(free, [0.5, 1]),
  ],
  [
    'singular: adaptiveFrequencies: from is a pole at 1 Hz',
    () => adaptiveFrequencies(free, { from: 1, to: 3, tolerance: 0.1 }),
  ],
  [
    'singular: adaptiveFrequencies: to is a pole at 1 Hz',
    () => adaptiveFrequencies(free, { from: 0.5, to: 1, tolerance: 0.1 }),
  ],
  [
    'out-of-range: bandPass: to must lie further above from: 1 Hz, got 1.0000000000001',
    () => bandPass({ from: 1, to: 1 + 1e-13 }),
  ],
  ['invalid-option: poles: system must be a handle as prepare made it', () => poles({ ...prepare(lag), factors: {} })],
  [
    'invalid-option: lowPass: dampingRatio goes with order 2 only, got order 3',
    () => lowPass({ cutoff: 1, order: 3, dampingRatio: 0.5 }),
  ],
  [
    "unknown-port: channel: input is 'u2'; there are 'u1'",
    () => channel(response, { input: 'u2' as never, output: 'y1' }),
  ],
  [
    "unknown-port: channel: output is 'y2'; there are 'y1'",
    () => channel(response, { input: 'u1', output: 'y2' as never }),
  ],
  [
    'dimension-mismatch: channel: needs 2 real and imaginary parts as Float64Array',
    () => channel({ ...response, re: new Float64Array(3) }, { input: 'u1', output: 'y1' }),
  ],
  ['unsupported: stability: cannot judge 9 delays in loops with each other, at most 8', () => stability(manyDelays)],
  [
    'algebraic-loop: margins: cannot close a loop whose direct gain is -1: 1 + L vanishes at high frequency',
    () => margins(gain(-1)),
  ],
  ['dimension-mismatch: margins: loop must have one input and one output, got 2 and 1', () => margins(two)],
  [
    'unsupported: margins: cannot list the crossovers of a loop with delay whose gain does not roll off',
    () => margins(late),
  ],
  [
    'unsupported: margins: cannot list the crossovers of a loop with delay that stays above 0.001 up to 4731686.458122055 Hz',
    () => margins(series(transferFunction({ numerator: [29700], denominator: [1, 30] }), delay({ seconds: 0.1 }))),
  ],
  [
    'dimension-mismatch: gainLimits: loop must have one input and one output, got 1 and 2',
    () => gainLimits(gain([[1], [1]])),
  ],
  [
    "invalid-option: discretize: prewarp belongs to the method 'bilinear' only",
    () => discretize(lag, { sampleTime: 1, method: 'zero-order-hold', prewarp: 0.1 }),
  ],
  [
    'out-of-range: discretize: prewarp must be a finite number above 0 and below 0.5 [Hz], got 0.5 {"value":0.5,"allowed":"a finite number above 0 and below 0.5 [Hz]","unit":"Hz"}',
    () => discretize(lag, { sampleTime: 1, method: 'bilinear', prewarp: 0.5 }),
  ],
  [
    'out-of-range: discretize: sampleTime is too long for this system: its exponential overflows in 100 s {"value":100,"unit":"s"}',
    () => discretize(growing, { sampleTime: 100, method: 'zero-order-hold' }),
  ],
  [
    'singular: discretize: meets a pole at 100 rad/s; choose another sample time',
    () => discretize(growing, { sampleTime: 0.02, method: 'bilinear' }),
  ],
  [
    "unknown-port: frequencyResponse: inputs[0] is 'u2'; there are u1",
    () => frequencyResponse(lag, [1], { inputs: ['u2' as never] }),
  ],
  [
    'singular: frequencyResponse: frequencies hit a pole of the channel u1 to y1 at 1 Hz {"value":1,"unit":"Hz"}',
    () => frequencyResponse(free, [1]),
  ],
  [
    'out-of-range: frequencyResponse: frequencies must be at most 500 frequencies for 100000 channels, got 501; ask for fewer inputs and outputs {"value":501,"allowed":"at most 500 frequencies for 100000 channels"}',
    () => frequencyResponse(wide, grid),
  ],
  ["invalid-option: gain: value must be a number or an array of rows, got '3'", () => gain('3' as never)],
  ['invalid-option: gain: value must be a number or an array of rows, got an array', () => gain([3 as never])],
  ['unstable: hInfinityNorm: system is marginal; its gain has no bound', () => hInfinityNorm(integrator())],
  [
    'singular: hInfinityNorm: has a response beyond the range of numbers',
    () => hInfinityNorm(stateSpace({ A: [[-1]], B: [[1e200]], C: [[1e200]] })),
  ],
  [
    'unsupported: hInfinityNorm: has no answer for a system with delays; use pade(system, { order }) first',
    () => hInfinityNorm(late),
  ],
  ['unstable: h2Norm: system is unstable; it has no steady state', () => h2Norm(growing)],
  [
    'improper: stationaryCovariance: system has a direct gain: white noise through it has no finite variance',
    () => stationaryCovariance(parallel(lag, gain(1))),
  ],
  [
    'out-of-range: stationaryCovariance: gives a covariance beyond the range of numbers; the options together are too extreme',
    () => stationaryCovariance(stateSpace({ A: [[-1]], B: [[1e90]], C: [[1e90]] })),
  ],
  [
    'out-of-range: logFrequencies: count must leave 1 to 1.0000000000000004 Hz distinct frequencies, got 9 {"value":9}',
    () => logFrequencies({ from: 1, to: 1 + 2 ** -51, count: 9 }),
  ],
  [
    'out-of-range: mechanicalSystem: mass must be symmetric and positive definite [kg] {"unit":"kg"}',
    () => mechanicalSystem({ mass: [[-1]], damping: [[0]], stiffness: [[1]], inputs: {}, outputs: {} }),
  ],
  [
    'invalid-option: mechanicalSystem: inputs must be an object by name, got an array',
    () => mechanicalSystem({ mass: [[1]], damping: [[0]], stiffness: [[1]], inputs: [] as never, outputs: {} }),
  ],
  [
    'invalid-option: motionFeedback: derivativeCorner has no gain to go with',
    () => motionFeedback({ derivativeCorner: 10 }),
  ],
  ['unsupported: poles: has no answer for a system with delays; use pade(system, { order }) first', () => poles(late)],
  [
    'out-of-range: quantizedSections: sections[0].b[0] is beyond single precision {"value":1e+39}',
    () => quantizedSections([{ b: [1e39, 0, 0], a: [1, 0, 0] }], { format: 'single', sampleTime: 1 }),
  ],
  [
    'out-of-range: quantizedSections: sections[0].a[2] of -2.5 is beyond the format, from -2 to below 2 {"value":-2.5,"allowed":"from -2 to below 2"}',
    () => quantizedSections([{ b: [0, 0, 0], a: [1, 0, -2.5] }], { format, sampleTime: 1 }),
  ],
  [
    'out-of-range: robustStability: box must have 1 to 6 parameters, got 0',
    () => robustStability({ box: {}, system: () => lag }),
  ],
  [
    'invalid-option: robustStability: box.k must be [least, largest], got 3',
    () => robustStability({ box: { k: 3 as never }, system: () => lag }),
  ],
  [
    'invalid-option: robustStability: system must be a StateSpace, got 3',
    () => robustStability({ box, system: () => 3 as never }),
  ],
  [
    'unsupported: secondOrderSections: system must be a discrete system; use discretize first',
    () => secondOrderSections(lag as never),
  ],
  [
    'dimension-mismatch: secondOrderSections: system must have one input and one output, got 2 and 2',
    () => secondOrderSections(discretize(pair, { sampleTime: 1, method: 'bilinear' })),
  ],
  [
    'dimension-mismatch: sectionsSystem: sections[0].b must have 3 entries, got 2',
    () => sectionsSystem([{ b: [1, 0] as never, a: [1, 0, 0] }], { sampleTime: 1 }),
  ],
  [
    'out-of-range: sectionsSystem: sections[0].a[0] must be a finite number of at least 1 and of at most 1, got 2 {"value":2,"allowed":"a finite number of at least 1 and of at most 1"}',
    () => sectionsSystem([{ b: [1, 0, 0], a: [2 as never, 0, 0] }], { sampleTime: 1 }),
  ],
  [
    'dimension-mismatch: settlingTime: system must have one input and one output, got 2 and 2',
    () => settlingTime(pair, { band: 0.1 }),
  ],
  ['unstable: settlingTime: system is unstable; it does not settle', () => settlingTime(growing, { band: 0.1 })],
  [
    'out-of-range: settlingTime: relative is a fraction of a final value of 0; give the band in the unit of the signal',
    () => settlingTime(series(gain(0), lag), { band: 0.1, relative: 'of-final' }),
  ],
  [
    'out-of-range: settlingTime: relative is a fraction of a step of 0; give the band in the unit of the signal',
    () => settlingTime({ time: [0, 1], values: [2, 2] }, { band: 0.1, relative: 'of-step' }),
  ],
  [
    'invalid-option: settlingTime: record.time must have at least one entry, got none',
    () => settlingTime({ time: [], values: [] }, { band: 0.1 }),
  ],
  [
    'dimension-mismatch: settlingTime: record.values must have 2 entries, got 1',
    () => settlingTime({ time: [0, 1], values: [2] }, { band: 0.1 }),
  ],
  [
    'invalid-option: settlingTime: record.time[1] must ascend, got 0 after 0',
    () => settlingTime({ time: [0, 0], values: [2, 2] }, { band: 0.1 }),
  ],
  [
    'unknown-port: simulate: inputs.u2 is not an input; there are u1',
    () => simulate(lag, { inputs: { u2: [1] } as never, sampleTime: 1 }),
  ],
  [
    'dimension-mismatch: simulate: inputs.u2 must have 2 samples, got 1',
    () => simulate(pair, { inputs: { u1: [1, 2], u2: [1] }, sampleTime: 1 }),
  ],
  [
    'invalid-option: simulate: inputs must hold at least one sample of one input',
    () => simulate(lag, { inputs: {}, sampleTime: 1 }),
  ],
  [
    'dimension-mismatch: simulate: initialState must have 1 entries, got 2',
    () => simulate(lag, { inputs: { u1: [1] }, sampleTime: 1, initialState: [1, 2] }),
  ],
  [
    'invalid-option: simulate: sampleTime does not apply to a discrete system',
    () => simulate(digital, { inputs: { u1: [1] }, sampleTime: 1 }),
  ],
  [
    'out-of-range: simulate: has a response beyond the range of numbers',
    () => simulate(growing, { inputs: { u1: new Float64Array(20).fill(1) }, sampleTime: 1 }),
  ],
  ['unsupported: stability: cannot judge a ring of delays whose gain does not roll off', () => stability(ring)],
  ['invalid-option: stateSpace: A must be an array of rows', () => stateSpace({ A: 3 as never, B: [], C: [] })],
  [
    'invalid-option: stepResponse: input must name one of u1, u2',
    () => stepResponse(pair, { duration: 1, sampleTime: 0.1 }),
  ],
  [
    "unknown-port: stepResponse: input is 'u2'; there are u1",
    () => stepResponse(lag, { input: 'u2' as never, duration: 1, sampleTime: 0.1 }),
  ],
  [
    'improper: impulseResponse: input reaches y1 directly; an impulse has no samples',
    () => impulseResponse(parallel(lag, gain(1)), { duration: 1, sampleTime: 0.1 }),
  ],
  [
    'invalid-option: transferFunction: denominator must not be zero',
    () => transferFunction({ numerator: [1], denominator: [0, 0] }),
  ],
  [
    'invalid-option: transferFunction: numerator must have at least one coefficient, got none',
    () => transferFunction({ numerator: [], denominator: [1] }),
  ],
  [
    'out-of-range: transferFunction: denominator must be of degree 500 at most, got 501 {"value":501,"allowed":"0 to 500"}',
    () => transferFunction({ numerator: [1], denominator: new Float64Array(502).fill(1) }),
  ],
  [
    'improper: transferFunction: numerator must be of degree 1 at most, like the denominator, got 2 {"value":2,"allowed":"0 to 1"}',
    () => transferFunction({ numerator: [1, 0, 0], denominator: [1, 1] }),
  ],
  [
    'not-finite: transferFunction: has coefficients whose ratios are beyond the range of numbers',
    () => transferFunction({ numerator: [1], denominator: [1e-300, 1e300] }),
  ],
])('%s', (words, call) => {
  expect(told(call)).toBe(words)
})
