import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { airSpring } from '../../src/elements/index.js'
import { type SixAxisIsolationOptions, sixAxisIsolation } from '../../src/isolation/index.js'
import { channel, frequencyResponse } from '../../src/systems/index.js'

// Source of every expected value: test/reference/data/six-axis.json, by test/reference/generators/six_axis.py: forces written
// for finite rotations, linearised by differences at 50 digits and solved about the centre of mass.
type Answer = readonly (readonly (readonly [number, number])[])[]
interface Case {
  name: string
  options: SixAxisIsolationOptions
  frequencies: number[]
  expected: { floor: Answer; force: Answer; feet?: Answer }[]
}
const { cases } = JSON.parse(readFileSync(new URL('./data/six-axis.json', import.meta.url), 'utf8')) as {
  cases: Case[]
}

/** Relative to the largest entry of its row, rotations by a metre: the promise of the contract for every concept. */
const promised = 1e-9

const axes = ['X', 'Y', 'Z', 'Rx', 'Ry', 'Rz']
const ends = (beginning: string) => axes.map((axis) => beginning + axis)

describe.each(cases)('$name', ({ options, frequencies, expected }) => {
  const { closed } = sixAxisIsolation(withAirSprings(options))
  const feet = closed.inputs.filter((input) => input.startsWith('foot'))

  it.each([
    ['floor', ends('floorVelocity')],
    ['force', ends('payloadForce')],
    ['feet', feet],
  ] as const)('answers to the %s as the balance of forces says', (key, inputs) => {
    if (expected[0][key] === undefined) return expect(feet).toEqual([])
    const response = frequencyResponse(closed, frequencies, { outputs: ends('payloadVelocity') })
    // The angle of the floor is the integral of its rate: with s = jω, tilt/rate is −j/ω.
    const answer = (input: string, output: string, k: number) => {
      const { re, im } = channel(response, { input, output })
      const angle = input.replace('floorVelocity', 'floorTilt')
      if (key !== 'floor' || !closed.inputs.includes(angle)) return [re[k], im[k]] as const
      const tilt = channel(response, { input: angle, output })
      const omega = 2 * Math.PI * frequencies[k]
      return [re[k] + tilt.im[k] / omega, im[k] - tilt.re[k] / omega] as const
    }
    const worst = frequencies.flatMap((_, k) =>
      axes.flatMap((axis, row) => {
        const line = expected[k][key]?.[row] ?? []
        const scale = Math.max(...line.map(([re, im]) => Math.hypot(re, im)))
        return inputs.map((input) => {
          const [re, im] = answer(input, `payloadVelocity${axis}`, k)
          const [expectedRe, expectedIm] = line[inputs.indexOf(input)] as readonly [number, number]
          return Math.hypot(re - expectedRe, im - expectedIm) / scale
        })
      }),
    )
    expect(worst.length).toBe(frequencies.length * 6 * inputs.length)
    expect(Math.max(...worst)).toBeLessThan(promised)
  })
})

/** The options with `{ airSpring: { … } }` made into the record. */
function withAirSprings(value: SixAxisIsolationOptions): SixAxisIsolationOptions {
  const turned = JSON.parse(JSON.stringify(value), (_, entry) =>
    entry !== null && typeof entry === 'object' && 'airSpring' in entry ? airSpring(entry.airSpring) : entry,
  )
  return turned as SixAxisIsolationOptions
}
