import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { frequencyResponse, stateSpace } from '../../src/systems/index.js'

// Source of every expected value: generators/ill_conditioned_responses.py, 40 digits from the exact doubles. Entries of A
// are a thousand times its eigenvalues, so that rounding A alone moves the response by 1e-9 and more: polynomial
// coefficients lose eight digits here.
interface Model {
  readonly A: number[][]
  readonly B: number[][]
  readonly C: number[][]
  readonly D: number[][]
  readonly response: readonly (readonly [number, number])[]
}
const { frequency, models } = JSON.parse(
  readFileSync(new URL('./data/ill-conditioned-responses.json', import.meta.url), 'utf8'),
) as { frequency: number[]; models: Record<string, Model> }

describe.each(Object.entries(models))('%s', (_, { response, ...matrices }) => {
  const found = frequencyResponse(stateSpace(matrices), frequency)

  it('is right to 1e-12 at every frequency, from the residual of its eigenvectors in twice the precision', () => {
    response.forEach(([re, im], k) => {
      const off = Math.hypot(found.re[k] - re, found.im[k] - im)
      expect(off).toBeLessThan(1e-12 * Math.hypot(re, im))
    })
  })
})
