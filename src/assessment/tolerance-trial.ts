import { fail, type Scope, show, within } from '../internal/check.js'
import { isIsolationError } from '../internal/errors.js'
import { magnitude } from '../systems/series-values.js'
import type { ComplexSeries } from '../systems/types.js'
import type { Spread } from './tolerance.js'

/** What one set of parameters comes to. */
export interface ToleranceOutcome {
  /** Whether the design keeps what it must */
  readonly pass: boolean
  /** Numbers to follow, the same names every time */
  readonly values?: { readonly [name: string]: number }
  /** Transmissibility, on the same grid every time */
  readonly transmissibility?: ComplexSeries
}

/** One set of parameters with its verdict. */
export interface Trial {
  readonly parameters: { readonly [name: string]: number }
  readonly pass: boolean
  readonly values: { readonly [name: string]: number }
  /** Message of the error that stood in the way; null without */
  readonly error: string | null
}

/** A trial with what only the summary needs. */
export interface TrialResult {
  readonly trial: Trial
  readonly positions: readonly number[]
  readonly frequency: Float64Array | null
  readonly magnitude: Float64Array | null
}

/** Tries one set of parameters, given as positions between the ends of their tolerances. */
export function trialOf(
  scope: Scope,
  spreads: readonly Spread[],
  positions: readonly number[],
  evaluate: (parameters: never) => ToleranceOutcome | boolean,
): TrialResult {
  const parameters = Object.fromEntries(spreads.map(({ name, at }, k) => [name, at(positions[k])]))
  const none = { positions, frequency: null, magnitude: null }
  try {
    const given = evaluate(parameters as never)
    const outcome = checkedOutcome(scope, typeof given === 'boolean' ? { pass: given } : given)
    const { transmissibility } = outcome
    return {
      ...none,
      trial: { parameters, pass: outcome.pass, values: { ...outcome.values }, error: null },
      ...(transmissibility && { frequency: transmissibility.frequency, magnitude: magnitude(transmissibility) }),
    }
  } catch (error) {
    if (!isIsolationError(error) || error.details.function === scope.fn) throw error
    return { ...none, trial: { parameters, pass: false, values: {}, error: error.message } }
  }
}

function checkedOutcome(scope: Scope, outcome: ToleranceOutcome): ToleranceOutcome {
  const inner = within(scope, 'evaluate')
  if (typeof outcome?.pass !== 'boolean') fail('invalid-option', inner, `must return pass, got ${show(outcome)}`)
  for (const [name, value] of Object.entries(outcome.values ?? {})) {
    if (name === 'pass') fail('invalid-option', inner, 'must not call a value pass')
    if (typeof value !== 'number' || Number.isNaN(value)) {
      fail('not-finite', inner, `must return numbers, got ${show(value)} as ${name}`)
    }
  }
  return outcome
}
