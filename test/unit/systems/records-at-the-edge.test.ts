import { describe, expect, it } from 'vitest'
import { scopeOf } from '../../../src/internal/check.js'
import { checkSystem } from '../../../src/systems/check.js'
import {
  adaptiveFrequencies,
  connect,
  delay,
  diagram,
  digitalLoop,
  discretize,
  frequencyResponse,
  gain,
  gainLimits,
  margins,
  mechanicalSystem,
  poles,
  prepare,
  quantizedSections,
  series,
  simulate,
  stateSpace,
  transferFunction,
} from '../../../src/systems/index.js'
import { refusal } from '../refusal.js'

const reason = (call: () => unknown) => {
  const { code, details } = refusal(call)
  return [code, details.path]
}
const lag = transferFunction({ numerator: [1], denominator: [1, 1] })
const two = gain([[1, 1]])

describe('a mechanical system', () => {
  const body = {
    mass: [[2]],
    damping: [[1]],
    stiffness: [[50]],
    inputs: { force: [1] },
    outputs: { velocity: { velocity: [1] } },
  }
  const whole = {
    ...body,
    mass: [
      [2, 0.1],
      [0, 2],
    ],
    damping: [
      [1, 0],
      [0, 1],
    ],
    stiffness: [
      [50, 0],
      [0, 50],
    ],
  }

  it('keeps its role', () => {
    expect(mechanicalSystem({ ...body, role: 'actuator' }).role).toBe('actuator')
    expect(mechanicalSystem(body).role).toBeUndefined()
  })

  it.each([
    ['no matrix of masses', { ...body, mass: 2 }, 'invalid-option', 'mass'],
    ['a mass below 0', { ...body, mass: [[-2]] }, 'out-of-range', 'mass'],
    ['masses that are not symmetric', { ...whole, inputs: { force: [1, 0] }, outputs: {} }, 'out-of-range', 'mass'],
    ['a list of inputs', { ...body, inputs: ['force'] }, 'invalid-option', 'inputs'],
    ['no outputs', { ...body, outputs: null }, 'invalid-option', 'outputs'],
    ['a role that is none', { ...body, role: 'hero' }, 'invalid-option', 'role'],
  ])('with %s is refused', (_, options, code, path) => {
    expect(reason(() => mechanicalSystem(options as never))).toEqual([code, path])
  })
})

describe('a record with a part missing', () => {
  it.each([
    [
      'a system without outputs',
      () => poles({ ...lag, outputs: undefined } as never),
      'invalid-option',
      'system.outputs',
    ],
    ['a system without A', () => poles({ ...lag, A: 3 } as never), 'invalid-option', 'system.A'],
    ['a system without C', () => poles({ ...lag, C: null } as never), 'invalid-option', 'system.C'],
    [
      'a mechanical system of nothing',
      () => poles({ kind: 'MechanicalSystem' } as never),
      'invalid-option',
      'system.inputs',
    ],
    [
      'no inputs to simulate',
      () => simulate(lag, { inputs: null, sampleTime: 1 } as never),
      'invalid-option',
      'inputs',
    ],
    [
      'no diagram',
      () => digitalLoop(undefined as never, { controller: 'C', sampleTime: 1 } as never),
      'unknown-port',
      'controller',
    ],
  ])('%s is refused', (_, call, code, path) => {
    expect(reason(call)).toEqual([code, path])
  })
})

it('what is no system at all is told to be none', () => {
  for (const [value, shown] of [
    [null, 'null'],
    [3, '3'],
    [{ kind: 'Spectrum' }, 'an object'],
  ] as const) {
    const { code, message } = refusal(() => checkSystem(scopeOf('test'), value))
    expect(code).toBe('invalid-option')
    expect(message).toMatch(new RegExp(`^test: must be a StateSpace, got ${shown}`))
  }
})

describe('a digital controller', () => {
  const plan = (controller: unknown) =>
    diagram({
      blocks: { plant: lag, controller: controller as typeof lag },
      inputs: ['disturbance'],
      outputs: { y: 'plant.y1' },
      wires: {
        'plant.u1': ['disturbance', '-controller.y1'],
        'controller.u1': 'plant.y1',
        ...(controller === two ? { 'controller.u2': null } : {}),
      },
    } as never)

  it('must have one input and one output, as a block and as what replaces it', () => {
    expect(reason(() => digitalLoop(plan(two), { controller: 'controller', sampleTime: 0.1 }))).toEqual([
      'dimension-mismatch',
      'controller',
    ])
    const digital = discretize(two, { sampleTime: 0.1, method: 'bilinear' })
    expect(reason(() => digitalLoop(plan(lag), { controller: 'controller', digital } as never))).toEqual([
      'dimension-mismatch',
      'digital',
    ])
    expect(reason(() => digitalLoop(plan(lag), { controller: 'controller', digital: 3 } as never))).toEqual([
      'invalid-option',
      'digital',
    ])
  })
})

describe('a matrix gain without rows', () => {
  it('has inputs and no output', () => {
    const sink = gain([], { inputs: ['a', 'b'] })
    expect([sink.inputs, sink.outputs, sink.D]).toEqual([['a', 'b'], [], []])
    expect(gain([]).inputs).toEqual([])
  })
})

describe('a pole on the axis', () => {
  const omega = 2 * Math.PI
  const swinging = stateSpace({
    A: [
      [0, omega],
      [-omega, 0],
    ],
    B: [[1], [0]],
    C: [[1, 0]],
    D: [[0]],
  })

  it('is no end of a grid', () => {
    const grid = (from: number, to: number) => () => adaptiveFrequencies(swinging, { from, to, tolerance: 0.1 })
    expect(reason(grid(1, 3))).toEqual(['singular', 'from'])
    expect(reason(grid(0.5, 1))).toEqual(['singular', 'to'])
    const around = Array.from(grid(0.5, 3)())
    expect([around[0], around.at(-1), around.includes(1)]).toEqual([0.5, 3, false])
  })
})

describe('a handle made once', () => {
  const loop = transferFunction({ numerator: [2], denominator: [1, 3, 3, 1] })

  it('has the margins of its system, behind a delay too', () => {
    const late = series(loop, delay({ seconds: 0.05 }))
    expect(margins(prepare(loop))).toEqual(margins(loop))
    expect(margins(prepare(late))).toEqual(margins(late))
  })
})

describe('the bound of the error of a response', () => {
  it('holds behind a delay', () => {
    // e^(−0.01·jω)/(1 + jω) at 1 Hz, computed from the closed form with 50 digits and rounded
    const late = series(lag, delay({ seconds: 0.01 }))
    const { re, im, errorBound } = frequencyResponse(late, [1], { errorBound: 'residual' })
    const off = Math.hypot(re[0] - 0.01490923544962269, im[0] + 0.1564680086476637)
    expect(off).toBeLessThanOrEqual((errorBound as Float64Array)[0] + 1e-16)
    expect((errorBound as Float64Array)[0]).toBeLessThan(1e-12)
  })

  it('holds for masses and springs solved as they stand', () => {
    // jω/(50 − 2ω² + jω) at ω = 2π, computed from the closed form with 50 digits and rounded
    const body = mechanicalSystem({
      mass: [[2]],
      damping: [[1]],
      stiffness: [[50]],
      inputs: { force: [1] },
      outputs: { velocity: { velocity: [1] } },
    })
    const { re, im, errorBound } = frequencyResponse(body, [1], { errorBound: 'residual' })
    const off = Math.hypot(re[0] - 0.044965221257293034, im[0] + 0.20722777355985783)
    expect(off).toBeLessThanOrEqual((errorBound as Float64Array)[0] + 1e-16)
    expect((errorBound as Float64Array)[0]).toBeLessThan(1e-12)
  })

  it('is a millionth of a value taken past a pole that cancels', () => {
    // s/(s(s + 2)) at 0 Hz is 1/2; by hand
    const hidden = transferFunction({ numerator: [1, 0], denominator: [1, 2, 0] })
    const { re, errorBound } = frequencyResponse(hidden, [0], { errorBound: 'residual' })
    expect(re[0]).toBeCloseTo(0.5, 6)
    expect((errorBound as Float64Array)[0] / 5e-7).toBeCloseTo(1, 5)
  })
})

describe('rounded sections', () => {
  const format = { integerBits: 2, fractionBits: 8 }

  it('are judged at the resonance of complex poles', () => {
    // Poles at radius √0.98 and angle acos(1.8/(2·√0.98)) = 0.42963 rad, 68.38 Hz at 1 kHz; computed from the closed form
    const { responseError, responseErrorFrequency } = quantizedSections([{ b: [0.02, 0, 0], a: [1, -1.8, 0.98] }], {
      format,
      sampleTime: 1e-3,
    })
    expect(responseErrorFrequency).toBeGreaterThan(60)
    expect(responseErrorFrequency).toBeLessThan(75)
    expect(responseError).toBeGreaterThan(0)
  })

  it('of a filter that passes nothing have no error', () => {
    const silent = quantizedSections([{ b: [0, 0, 0], a: [1, -0.5, 0] }], { format, sampleTime: 1e-3 })
    expect([silent.responseError, silent.staticGainError]).toEqual([0, null])
  })
})

describe('gains of a loop that needs some', () => {
  it('begin where the unstable pole is caught, and have no end', () => {
    // 2k/(s − 1): closed at s = 1 − 2k, stable from k = 1/2 on; computed by hand
    const [range] = gainLimits(transferFunction({ numerator: [2], denominator: [1, -1] })).stable
    expect(range.from).toBeCloseTo(0.5, 12)
    expect([range.fromFrequency, range.to]).toEqual([0, Infinity])
    expect(gainLimits(transferFunction({ numerator: [2], denominator: [1, -1] })).diagnosis).toBe(
      'stable from 0.5 times the gain, at 0 Hz, up to any gain',
    )
  })
})

describe('a source named twice with the other sign', () => {
  it('is taken as it is written', () => {
    const plan = diagram({ blocks: { a: lag }, inputs: ['u'], outputs: { y: '-a.y1' }, wires: { 'a.u1': '-u' } })
    expect(frequencyResponse(connect(plan), [0]).re[0]).toBe(1)
  })
})
