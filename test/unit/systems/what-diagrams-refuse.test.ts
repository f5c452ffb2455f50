import { expect, it } from 'vitest'
import * as systems from '../../../src/systems/index.js'
import { told } from './told.js'

const {
  connect,
  digitalLoop,
  discretize,
  gain,
  minimumSampleRate,
  openLoop,
  parallel,
  replaceBlock,
  series,
  simultaneousMargin,
  stateSpace,
  transferFunction,
} = systems

const lag = transferFunction({ numerator: [1], denominator: [1, 1] })
const two = gain([[1, 1]])
const pair = stateSpace({ A: [[-1]], B: [[1, 1]], C: [[1], [2]] })
const digital = discretize(lag, { sampleTime: 0.01, method: 'bilinear' })
const wires = { 'plant.u1': 'controller.y1', 'controller.u1': ['reference', '-plant.y1'] }
const blocks = { plant: lag, controller: gain(3) }
const servo = { blocks, inputs: ['reference'], outputs: { motion: 'plant.y1' }, wires } as systems.Diagram
const withController = (controller: unknown) => ({ ...servo, blocks: { ...blocks, controller } }) as systems.Diagram

// What is wrong, where, what was given and what may be, with the plain data that goes with it.
it.each<[string, () => unknown]>([
  [
    'unsupported: series: systems[0] must be a continuous system, got a discrete one',
    () => series(digital as never, lag),
  ],
  ['not-finite: series: has gains whose product overflows', () => series(gain(1e200), gain(1e200))],
  [
    'algebraic-loop: connect: wires closes an ill-posed algebraic loop through controller, plant: its scaled reciprocal condition is 0.0e+0 {"value":0,"allowed":"a scaled reciprocal condition of at least 1e-13"}',
    () => connect({ ...servo, blocks: { plant: gain(1), controller: gain(-1) } } as never),
  ],
  [
    "unknown-port: digitalLoop: controller is 'valve'; blocks are plant, controller",
    () => digitalLoop(servo, { controller: 'valve', sampleTime: 1 }),
  ],
  [
    'unknown-port: digitalLoop: controller is 3; blocks are plant, controller',
    () => digitalLoop(servo, { controller: 3 as never, sampleTime: 1 }),
  ],
  [
    'invalid-option: digitalLoop: blocks.controller must be a system, got 3',
    () => digitalLoop(withController(3), { controller: 'controller', sampleTime: 1 }),
  ],
  [
    'dimension-mismatch: digitalLoop: controller must have one input and one output, got 2 and 1',
    () => digitalLoop(withController(two), { controller: 'controller', sampleTime: 1 }),
  ],
  [
    'invalid-option: digitalLoop: sampleTime does not apply where digital is given',
    () => digitalLoop(servo, { controller: 'controller', sampleTime: 1, digital }),
  ],
  [
    'invalid-option: digitalLoop: method does not apply where digital is given',
    () => digitalLoop(servo, { controller: 'controller', method: 'bilinear', digital }),
  ],
  [
    'invalid-option: digitalLoop: prewarp does not apply where digital is given',
    () => digitalLoop(servo, { controller: 'controller', prewarp: 1, digital }),
  ],
  [
    'dimension-mismatch: digitalLoop: digital must have one input and one output',
    () =>
      digitalLoop(servo, {
        controller: 'controller',
        digital: discretize(pair, { sampleTime: 1, method: 'bilinear' }),
      }),
  ],
  [
    'out-of-range: minimumSampleRate: to must be a finite number above 10 and of at most 10000000 [Hz], got 100000000 {"value":100000000,"allowed":"a finite number above 10 and of at most 10000000 [Hz]","unit":"Hz"}',
    () => minimumSampleRate(servo, { controller: 'controller', from: 10, to: 1e8 }),
  ],
  [
    'unknown-port: openLoop: no output "plant.y2"; outputs are plant.y1, controller.y1 (port) {"value":"plant.y2","allowed":"outputs are plant.y1, controller.y1"}',
    () => openLoop(servo, 'plant.y2' as never),
  ],
  [
    'unknown-port: openLoop: must tell which output, got 3; outputs are plant.y1, controller.y1 (port) {"value":"3","allowed":"outputs are plant.y1, controller.y1"}',
    () => openLoop(servo, 3 as never),
  ],
  [
    'dimension-mismatch: parallel: systems[1].inputs must be u1 like those of the first system, got u1, u2',
    () => parallel(lag, pair as never),
  ],
  [
    'dimension-mismatch: parallel: systems[1].outputs must be y1 like those of the first system, got z',
    () => parallel(lag, transferFunction({ numerator: [1], denominator: [1, 1], output: 'z' }) as never),
  ],
  [
    'unknown-port: replaceBlock: no block "valve"; blocks are plant, controller (name) {"value":"valve","allowed":"blocks are plant, controller"}',
    () => replaceBlock(servo, 'valve', gain(1)),
  ],
  [
    'unknown-port: replaceBlock: must tell which block, got 3; blocks are plant, controller (name) {"value":"3","allowed":"blocks are plant, controller"}',
    () => replaceBlock(servo, 3 as never, gain(1)),
  ],
  [
    'unknown-port: replaceBlock: the new block has no "u1"; its inputs are force (system.inputs) {"value":"u1","allowed":"its inputs are force"}',
    () => replaceBlock(servo, 'plant', gain(1, { inputs: ['force'] })),
  ],
  [
    'unknown-port: replaceBlock: the old block has no "y2"; its outputs are y1 (system.outputs) {"value":"y2","allowed":"its outputs are y1"}',
    () => replaceBlock(servo, 'plant', gain([[1], [1]])),
  ],
  [
    'unconnected-port: replaceBlock: system.inputs has "u2", which no wire drives; wired are u1',
    () => replaceBlock(servo, 'plant', two),
  ],
  ['invalid-option: series: needs at least one system', () => series()],
  ['dimension-mismatch: series: systems[1] must have 1 inputs to follow the one before, got 2', () => series(lag, two)],
  [
    'invalid-option: simultaneousMargin: ports must be a list of different outputs, at least one',
    () => simultaneousMargin(servo, ['plant.y1', 'plant.y1'] as never),
  ],
  [
    'unknown-port: simultaneousMargin: no output "plant.u1"; outputs are plant.y1, controller.y1 (port) {"value":"plant.u1","allowed":"outputs are plant.y1, controller.y1"}',
    () => simultaneousMargin(servo, ['plant.u1'] as never),
  ],
  [
    "invalid-option: simultaneousMargin: proof must be one of 'with-delay', 'without-delay', got 'none' {\"allowed\":\"'with-delay', 'without-delay'\"}",
    () => simultaneousMargin(servo, ['plant.y1'] as never, { proof: 'none' as never }),
  ],
])('%s', (words, call) => {
  expect(told(call)).toBe(words)
})
