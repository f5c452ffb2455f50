// One run of the demonstration: options, record, findings, text and report.
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { basename, relative } from 'node:path'
import { fileURLToPath } from 'node:url'
import { isIsolationError } from 'restmass'
import { candidates } from './candidates.js'
import { floorRecord, inventedFloor } from './floor-record.js'
import { floorSpectrum } from './floor-spectrum.js'
import { judge } from './judge.js'
import { parseOptions } from './options.js'
import { readRecord } from './read-record.js'
import { Refusal } from './refusal.js'
import { scanningStage } from './scanning-stage.js'
import { inventedScenario, measuredScenario } from './scenario.js'
import { terminalText } from './terminal.js'

const reportFolder = new URL('../../../out/', import.meta.url)

/** Runs the demonstration and returns the exit code. */
export async function run(words, { print, complain }) {
  try {
    const findings = examine(parseOptions(words))
    print(terminalText(findings))
    // Drawing is slow to load and not needed where something is refused.
    const { reportPage } = await import('./report.js')
    mkdirSync(reportFolder, { recursive: true })
    const path = fileURLToPath(new URL('report.html', reportFolder))
    writeFileSync(path, await reportPage(findings))
    print(`\nReport with figures: ${relative('.', path)}`)
    return 0
  } catch (error) {
    if (!(error instanceof Refusal || isIsolationError(error))) throw error
    complain(`demo: ${error.message.replaceAll('\n', ' ')}`)
    return 1
  }
}

/** Reads or invents the record and judges the candidates on it. */
export function examine(options) {
  const input = options.file === null ? invented() : measured(options)
  const record = floorSpectrum(input)
  const findings = judge({
    floor: record.spectrum,
    criterion: options.criterion,
    candidates: candidates(),
    stage: scanningStage,
  })
  const scenario = input.scenario({ record, criterion: options.criterion })
  return { scenario, record, findings, version: createRequire(import.meta.url)('restmass/package.json').version }
}

function invented() {
  const { sampleRate } = inventedFloor
  return { samples: floorRecord(inventedFloor), sampleRate, quantity: 'velocity', scenario: inventedScenario }
}

function measured({ file, rate, column, quantity }) {
  const samples = readRecord(textOf(file), column)
  const source = { file: basename(file), column, quantity, rate }
  return { samples, sampleRate: rate, quantity, scenario: (more) => measuredScenario({ ...source, ...more }) }
}

function textOf(file) {
  try {
    return readFileSync(file, 'utf8')
  } catch (error) {
    throw new Refusal(`cannot read ${file}: ${error.code === 'ENOENT' ? 'there is no such file' : error.code}`)
  }
}
