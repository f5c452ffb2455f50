// A part of all mutants, the same for the same seed: those whose place and text, mixed with RESTMASS_SEED, fall into the
// first RESTMASS_SAMPLE of all hashes. The others are set aside before they run and count neither as noticed nor as missed.
import { createHash } from 'node:crypto'
import { relative } from 'node:path'
import { CheckStatus } from '@stryker-mutator/api/check'
import { declareClassPlugin, PluginKind } from '@stryker-mutator/api/plugin'

const { RESTMASS_SAMPLE: part = '1', RESTMASS_SEED: seed = '1' } = process.env

/** A number in [0, 1) from the seed and the mutant, without regard to where the copy of the project lies. */
function lot({ fileName, location: { start, end }, replacement }) {
  const file = relative(process.cwd(), fileName).replace(/^.*\bsrc\//, 'src/')
  const text = JSON.stringify([seed, file, start, end, replacement])
  return createHash('sha256').update(text).digest().readUInt32BE() / 2 ** 32
}

class Sample {
  async init() {}

  async check(mutants) {
    const verdict = (mutant) =>
      lot(mutant) < Number(part)
        ? { status: CheckStatus.Passed }
        : { status: CheckStatus.CompileError, reason: 'not in the sample' }
    return Object.fromEntries(mutants.map((mutant) => [mutant.id, verdict(mutant)]))
  }

  async group(mutants) {
    return [mutants.map(({ id }) => id)]
  }
}

export const strykerPlugins = [declareClassPlugin(PluginKind.Checker, 'sample', Sample)]
