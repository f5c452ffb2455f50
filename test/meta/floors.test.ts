import { execFileSync } from 'node:child_process'
import { copyFileSync, mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { root } from './support/repository.js'

// Every floor with the floors it may import from.
const below: Readonly<Record<string, readonly string[]>> = {
  internal: [],
  linear: ['internal'],
  systems: ['internal', 'linear'],
  elements: ['internal', 'linear', 'systems'],
  vibration: ['internal', 'linear', 'systems'],
  isolation: ['internal', 'linear', 'systems', 'elements', 'vibration'],
  assessment: ['internal', 'linear', 'systems', 'elements', 'vibration', 'isolation'],
  plots: ['internal', 'linear', 'systems', 'elements', 'vibration', 'isolation', 'assessment'],
  json: ['internal', 'linear', 'systems', 'elements', 'vibration', 'isolation', 'assessment', 'plots'],
}
const floors = Object.keys(below)

const folder = mkdtempSync(join(tmpdir(), 'restmass-floors-'))
let refused: Set<string>

/** A probe is a file `src/<floor>/from-<name>.ts` with a single import. */
function probe(floor: string, name: string, target: string): void {
  mkdirSync(join(folder, 'src', floor), { recursive: true })
  writeFileSync(
    join(folder, 'src', floor, `from-${name}.ts`),
    `import { thing } from '${target}'\n\nexport { thing }\n`,
  )
}

beforeAll(() => {
  copyFileSync(join(root, 'biome.json'), join(folder, 'biome.json'))
  symlinkSync(join(root, 'node_modules'), join(folder, 'node_modules'))
  for (const floor of floors) {
    for (const other of floors) if (other !== floor) probe(floor, other, `../${other}/thing.js`)
    probe(floor, 'face', '../index.js')
    probe(floor, 'matrices', 'ml-matrix')
    probe(floor, 'transforms', 'fft.js')
  }
  refused = filesRefusedByLinter()
})

afterAll(() => rmSync(folder, { recursive: true, force: true }))

function filesRefusedByLinter(): Set<string> {
  const biome = join(root, 'node_modules', '@biomejs', 'biome', 'bin', 'biome')
  const args = [biome, 'lint', '--vcs-enabled=false', '--reporter=json', '--max-diagnostics=none', 'src']
  let report: string
  try {
    report = execFileSync(process.execPath, args, {
      cwd: folder,
      encoding: 'utf8',
      stdio: ['ignore', 'pipe', 'ignore'],
    })
  } catch (error) {
    report = (error as { stdout: string }).stdout
  }
  const { diagnostics } = JSON.parse(report) as { diagnostics: { category: string; location: { path: unknown } }[] }
  const restricted = diagnostics.filter(({ category }) => category === 'lint/style/noRestrictedImports')
  return new Set(
    restricted.map(({ location }) => JSON.stringify(location.path).match(/[a-z]+\/from-[a-z]+/)?.[0] ?? ''),
  )
}

describe('the linter', () => {
  it.each(floors)('lets %s import from the floors below and from no other', (floor) => {
    const others = floors.filter((other) => other !== floor)
    const allowed = others.filter((other) => !refused.has(`${floor}/from-${other}`))
    expect(allowed).toEqual(below[floor])
  })

  it('keeps every floor from importing the public face', () => {
    expect(floors.filter((floor) => !refused.has(`${floor}/from-face`))).toEqual([])
  })

  it('keeps the numerical dependencies in src/linear', () => {
    for (const name of ['matrices', 'transforms']) {
      expect(floors.filter((floor) => !refused.has(`${floor}/from-${name}`))).toEqual(['linear'])
    }
  })
})
