import { createRequire } from 'node:module'
import { Ajv, type ValidateFunction } from 'ajv'
import { parse, type Spec, View } from 'vega'
import { compile, type TopLevelSpec } from 'vega-lite'
import type { StackedSpecification, VegaLiteSpecification } from '../../../src/plots/index.js'

/** What becomes of a specification in the reference implementation of its grammar. */
export interface Drawn {
  readonly warnings: readonly string[]
  readonly svg: string
  /** Path data of every line mark that has any. */
  readonly lines: readonly string[]
}

let validate: ValidateFunction | null = null

/** What the schema of the grammar, as it comes with its reference implementation, finds wrong; empty for nothing. */
export function schemaFaults(specification: object): readonly string[] {
  if (validate === null) {
    const schema = createRequire(import.meta.url)('vega-lite/vega-lite-schema.json')
    validate = new Ajv({ strict: false, validateFormats: false }).compile(schema)
  }
  validate(structuredClone(specification))
  return (validate.errors ?? []).map(({ instancePath, message }) => `${instancePath} ${message}`)
}

/** Compiles and draws a specification, collecting every warning and every fault against the schema on the way. */
export async function drawn(specification: VegaLiteSpecification | StackedSpecification): Promise<Drawn> {
  const warnings: string[] = [...schemaFaults(specification)]
  const collect = (level: string) =>
    function (this: unknown, ...what: readonly unknown[]) {
      warnings.push(`${level}: ${what.join(' ')}`)
      return this
    }
  const logger = {
    level: () => 4,
    error: collect('error'),
    warn: collect('warn'),
    info: () => logger,
    debug: () => logger,
  }
  // Compiles only as long as the type of this package is one of the grammar's own.
  const typed: TopLevelSpec = specification
  const { spec } = compile(typed, { logger: logger as never })
  const view = new View(parse(spec as Spec), { renderer: 'none', logger: logger as never })
  const svg = await view.toSVG()
  view.finalize()
  const groups = [...svg.matchAll(/<g class="mark-line role-mark[^"]*"[^>]*>(.*?)<\/g>/gs)]
  const lines = groups.flatMap(([, inside]) => [...inside.matchAll(/<path[^>]* d="([^"]*)"/g)].map(([, path]) => path))
  return { warnings, svg, lines }
}
