import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { geophone, voiceCoil } from '../../src/elements/index.js'
import { activelyDampedIsolation, simulateWithLimits } from '../../src/isolation/index.js'

// Source of every expected value: test/reference/data/limits.json, by SciPy's solve_ivp with the clipped force in the
// right-hand side, test/reference/generators/limits.py.
interface Case {
  readonly name: string
  readonly mass: number
  readonly stiffness: number
  readonly damping: number
  readonly gain: number
  readonly sensor: number
  readonly sensorDamping: number
  readonly bandwidth: number
  readonly value?: number
  readonly rate?: number
  readonly signalStep?: number
  readonly commandStep?: number
  readonly payloadVelocity: number[]
  readonly actuatorForce: number[]
}
const { cases, sampleTime, count, every } = JSON.parse(
  readFileSync(new URL('./data/limits.json', import.meta.url), 'utf8'),
) as { cases: Case[]; sampleTime: number; count: number; every: number }

/** Relative to the largest value. A solver of order 8 steps over the corners of a clipped force; a bound on the rate is softened by
 * 1e-9 s there, and its solver is of order 5. */
const clipped = 1e-8
const softened = 1e-6

const samples = (value: (k: number) => number) => Array.from({ length: count }, (_, k) => value(k))
const inputs = {
  payloadForce: samples((k) => (k < 20 ? 100 : 0)),
  floorVelocity: samples((k) => 2e-3 * Math.sin(0.35 * k)),
}

describe.each(cases)('$name', (one) => {
  const { mass, stiffness, damping, gain, value, rate, signalStep, commandStep } = one
  const model = activelyDampedIsolation({
    payload: { mass },
    mount: { stiffness, damping },
    damping: {
      gain,
      sensor: geophone({ naturalFrequency: one.sensor, dampingRatio: one.sensorDamping }),
      actuator: voiceCoil({ forceConstant: 1, resistance: 1, bandwidth: one.bandwidth }),
    },
  })
  const bound = { ...(value === undefined ? {} : { value }), ...(rate === undefined ? {} : { rate }) }
  const found = simulateWithLimits(model, {
    inputs,
    sampleTime,
    limits: Object.keys(bound).length === 0 ? [] : [{ output: 'actuatorForce', ...bound }],
    ...(signalStep === undefined || commandStep === undefined
      ? {}
      : { steps: { 'controller.signal': signalStep, 'actuator.command': commandStep } }),
  })

  it.each(['payloadVelocity', 'actuatorForce'] as const)('has the %s', (name) => {
    const expected = one[name]
    const largest = Math.max(...expected.map(Math.abs))
    const worst = Math.max(...expected.map((each, k) => Math.abs(each - found.outputs[name][k * every])))
    expect(worst / largest).toBeLessThan(rate === undefined ? clipped : softened)
  })
})
