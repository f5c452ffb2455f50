import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { type DiscretizationMethod, discretize, frequencyResponse, stateSpace } from '../../src/systems/index.js'

// Source of every expected value, and the reason for the tolerance: test/reference/data/discretize.json, by SciPy.
interface Case {
  readonly system: string
  readonly A: number[][]
  readonly B: number[][]
  readonly C: number[][]
  readonly D: number[][]
  readonly method: DiscretizationMethod
  readonly sampleTime: number
  readonly prewarp: number | null
  readonly frequency: number[]
  readonly Ad: number[][]
  readonly Bd: number[][]
  readonly response: [number, number][][][]
}
const { cases } = JSON.parse(readFileSync(new URL('./data/discretize.json', import.meta.url), 'utf8')) as {
  cases: Case[]
}
const relative = 1e-12

describe.each(cases)('$system, $method, prewarp $prewarp', (one) => {
  const { A, B, C, D, method, sampleTime, prewarp, frequency } = one
  const options = { sampleTime, method, ...(prewarp === null ? {} : { prewarp }) }
  const found = discretize(stateSpace({ A, B, C, D }), options)

  it('has the response', () => {
    const response = frequencyResponse(found, frequency)
    const largest = Math.max(...one.response.flat(2).map(([re, im]) => Math.hypot(re, im)))
    let worst = 0
    one.response.forEach((outputs, k) => {
      outputs.forEach((inputs, o) => {
        inputs.forEach(([re, im], i) => {
          const at = (o * inputs.length + i) * frequency.length + k
          worst = Math.max(worst, Math.hypot(response.re[at] - re, response.im[at] - im))
        })
      })
    })
    expect(worst).toBeLessThanOrEqual(relative * largest)
  })
})

// Only a hold leaves the state what it is.
const held = cases.filter(({ method }) => method === 'zero-order-hold')

describe.each(held)('$system, held at zero order', ({ A, B, C, D, method, sampleTime, Ad, Bd }) => {
  const found = discretize(stateSpace({ A, B, C, D }), { sampleTime, method })

  it('has the matrices', () => {
    for (const [matrix, expected] of [
      [found.A, Ad],
      [found.B, Bd],
    ]) {
      const largest = Math.max(...expected.flat().map(Math.abs))
      const off = expected.flatMap((row, i) => row.map((value, j) => Math.abs(matrix[i][j] - value)))
      expect(Math.max(...off)).toBeLessThanOrEqual(relative * largest)
    }
  })
})
