import { describe, expect, it } from 'vitest'
import { type IsolationModel, type SimulatedLimit, simulateWithLimits } from '../../../src/isolation/index.js'
import { connect, type Diagram, diagram, gain, stateSpace } from '../../../src/systems/index.js'

interface Held {
  /** x″ = (k x − c x′ + y + F)/2 */
  readonly k: number
  readonly c: number
  /** y = −60 x − d x′ − z */
  readonly d: number
  /** z′ = −leak z + F/100 */
  readonly leak?: number
  /** What drives z; held at 0 by default */
  readonly drive?: string | null
}

/** A mass of 2 kg held by an actuator, with a slow part z in what it is told: poles of 2s² + (c + d)s + 60 − k, and −leak. */
function held({ k, c, d, leak = 1, drive = null }: Held): IsolationModel {
  const plan = {
    blocks: {
      payload: stateSpace({
        A: [[-c / 2, k / 2], [1, 0]],
        B: [[0.5], [0]],
        C: [[1, 0], [0, 1]],
        inputs: ['force'],
        outputs: ['velocity', 'position'],
      }), // biome-ignore format: matrices
      slow: stateSpace({ A: [[-leak]], B: [[0.01]], C: [[1]], inputs: ['force'], outputs: ['part'] }),
      controller: gain([[d, 60, 1]], { inputs: ['velocity', 'position', 'part'], outputs: ['force'] }),
      actuator: gain(1, { inputs: ['command'], outputs: ['force'] }),
      other: gain(1, { inputs: ['command'], outputs: ['force'] }),
    },
    inputs: ['payloadForce'],
    outputs: {
      payloadVelocity: 'payload.velocity',
      actuatorForce: 'actuator.force',
      actuatorForce2: 'other.force',
    },
    wires: {
      'payload.force': ['actuator.force', 'payloadForce'],
      'slow.force': drive,
      'controller.velocity': 'payload.velocity',
      'controller.position': 'payload.position',
      'controller.part': 'slow.part',
      'actuator.command': '-controller.force',
      'other.command': 'slow.part',
    },
  }
  const whole = diagram(plan as never) as Diagram
  const rest = { concept: 'parallelActive', loops: [], noiseSources: [], limits: [] } as const
  return { kind: 'IsolationModel', ...rest, diagram: whole, closed: connect(whole) } as IsolationModel
}

function run(model: IsolationModel, more: object = {}, push = 8) {
  const payloadForce = [...Array.from({ length: 30 }, () => push), ...Array.from({ length: 800 }, () => 0)]
  const limits: SimulatedLimit[] = [{ output: 'actuatorForce', value: 4 }]
  const options = { inputs: { payloadForce }, sampleTime: 0.01, hold: 'zero-order-hold', limits, ...more } as const
  const { verdict, evidence, lostAt } = simulateWithLimits(model, options)
  return { verdict, evidence, lost: lostAt !== null }
}

describe('a loop that has come back from its bound', () => {
  it('is proved not to stay free where it is unstable without it', () => {
    // Re s = 0.04/4: a pair that grows by e in 100 s, of which the record shows 8
    expect(run(held({ k: -8, c: 6, d: -6.04 }))).toMatchObject({ verdict: 'limited', evidence: 'proof' })
    expect(run(held({ k: -8, c: 6, d: -5.9 }))).toMatchObject({ verdict: 'recovered', evidence: 'proof' })
  })

  it('is judged by the record where it is neither stable nor unstable', () => {
    expect(run(held({ k: -8, c: 6, d: -6 }))).toMatchObject({ evidence: 'record' })
  })

  it('is judged by the record where what is left fades too slowly to be followed', () => {
    // 1e-17 of the fastest motion, whose Gramian has no digits
    expect(run(held({ k: 8, c: 6, d: 12, leak: 1e-17, drive: 'payloadForce' }))).toMatchObject({
      verdict: 'recovered',
      evidence: 'record',
    })
    const rate = { limits: [{ output: 'actuatorForce', value: 100, rate: 20 }] }
    expect(run(held({ k: -8, c: 6, d: 0, leak: 1e-17, drive: 'payloadForce' }), rate, 20)).toMatchObject({
      evidence: 'record',
    })
  })
})

describe('a mass that falls over, 2s² + 6s − 8 = 0 with s = 1 without the actuator', () => {
  it('is lost for certain once no force within the bound could bring it back', () => {
    expect(run(held({ k: 8, c: 6, d: 12 }), {}, 60)).toMatchObject({ verdict: 'lost', evidence: 'proof', lost: true })
  })

  it('is lost all the same beside a bound that does not reach it', () => {
    const limits = [
      { output: 'actuatorForce', value: 4 },
      { output: 'actuatorForce2', rate: 1e3 },
    ]
    expect(run(held({ k: 8, c: 6, d: 12 }), { limits }, 60)).toMatchObject({ verdict: 'lost', evidence: 'proof' })
  })

  it('is not proved lost where a converter drives it, whose rounding has no bound', () => {
    const steps = { 'payload.force': 1e-3 }
    expect(run(held({ k: 8, c: 6, d: 12 }), { steps }, 60)).toMatchObject({ evidence: 'record', lost: false })
  })
})
