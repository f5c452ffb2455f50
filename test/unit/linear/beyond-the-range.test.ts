import { describe, expect, it } from 'vitest'
import { type Dense, denseFrom, zeros } from '../../../src/linear/dense.js'
import { eigenvalues } from '../../../src/linear/eigenvalues.js'
import { gainFrequencies } from '../../../src/linear/hamiltonian.js'
import { lastExit } from '../../../src/linear/last-exit.js'
import { lyapunov } from '../../../src/linear/lyapunov.js'
import { matrixExponential } from '../../../src/linear/matrix-exponential.js'
import { nonlinearLeastSquares } from '../../../src/linear/nonlinear-least-squares.js'
import { pencilZeros } from '../../../src/linear/pencil-zeros.js'
import { realSchur } from '../../../src/linear/real-schur.js'
import { largestSingularValue } from '../../../src/linear/singular-value.js'
import { symmetricEigen } from '../../../src/linear/symmetric-eigen.js'
import { refusal } from '../refusal.js'

/** What products of numbers near 1e308 leave: nothing that could be worked with. */
const lost = denseFrom(
  [1, 2, 3].map((i) => [1, 2, 3].map((j) => (i === j ? Infinity : NaN))),
  3,
)
const decay = denseFrom(
  [-1, -2, -3].map((value, i) => [0, 1, 2].map((j) => (i === j ? value : 0))),
  3,
)
const unit = denseFrom(
  [1, 1, 1].map((value, i) => [0, 1, 2].map((j) => (i === j ? value : 0))),
  3,
)
const row = denseFrom([[1, 1, 1]], 3)
const column = denseFrom([[1], [1], [1]], 1)
const none: Dense = zeros(1, 1)

describe('where numbers have left the range of numbers', () => {
  it.each([
    ['eigenvalues', () => eigenvalues(lost)],
    ['the Schur form', () => realSchur(lost)],
    ['the exponential', () => matrixExponential(lost)],
    [
      'the exponential of a lower triangle',
      () =>
        matrixExponential(
          denseFrom(
            [
              [1e200, 0],
              [1e200, 1e200],
            ],
            2,
          ),
        ),
    ],
    ['a Lyapunov equation', () => lyapunov(lost, unit)],
    ['a singular value', () => largestSingularValue({ ...lost, re: lost.data, im: lost.data })],
    ['zeros', () => pencilZeros({ A: lost, B: column, C: row, D: denseFrom([[1]], 1) }, 1e-12)],
    ['frequencies of a gain', () => gainFrequencies({ A: lost, B: column, C: row, D: none }, 2)],
  ])('%s are none, rather than a search without end', (_, call) => {
    expect(call()).toBeNull()
  })

  it('principal directions are refused', () => {
    const { code, details } = refusal(() => symmetricEigen({ fn: 'rigidPayload', path: '' }, lost))
    expect([code, details.function]).toEqual(['no-convergence', 'rigidPayload'])
  })

  it('the last exit from a band is not told', () => {
    expect(lastExit(lost, row, Float64Array.of(1, 1, 1), -1, 1)).toBe('ill-conditioned')
  })
})

describe('where an answer is none', () => {
  it('a gain that is a singular value of D has no Hamiltonian matrix', () => {
    expect(gainFrequencies({ A: decay, B: column, C: row, D: denseFrom([[2]], 1) }, 2)).toBeNull()
  })

  it('a matrix without columns has the singular value 0', () => {
    expect(largestSingularValue({ rows: 2, columns: 0, re: new Float64Array(0), im: new Float64Array(0) })).toBe(0)
  })

  it('a fit in two parameters of which only the sum matters has no covariance', () => {
    const residuals = ([a, b]: Float64Array) => Float64Array.from([1, 2, 3], (x) => (a + b) * x - 2 * x)
    expect(nonlinearLeastSquares(residuals as never, Float64Array.of(0.5, 0.5))).toBeNull()
  })

  it('a state without decay or coupling exits never', () => {
    // e^(0·t) C x = 0.5 for ever, within ±1, and no bound on what follows: the Lyapunov equation has no solution.
    const still = zeros(1, 1)
    expect(lastExit(still, denseFrom([[1]], 1), Float64Array.of(0.5), -1, 1)).toBe('ill-conditioned')
  })
})
