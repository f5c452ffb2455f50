import { spawnSync } from 'node:child_process'
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { afterAll, describe, expect, it } from 'vitest'
import { assess, type IsolationOptions, isolation, motionProfile, type Site, spectrum } from '../../src/index.js'

// The report as a user writes it, on the build that the set-up of these tests has made.
const root = fileURLToPath(new URL('../..', import.meta.url))
const folder = mkdtempSync(join(tmpdir(), 'restmass-report-'))
afterAll(() => rmSync(folder, { recursive: true, force: true }))

const report = (...words: string[]) =>
  spawnSync(process.execPath, ['docs/examples/report.mjs', ...words], { cwd: root, encoding: 'utf8' })
const designFile = join(root, 'docs/examples/report/design.json')
const design = JSON.parse(readFileSync(designFile, 'utf8'))

/** Heading by heading, the rows of the table beneath. */
function tablesOf(html: string): Map<string, string[][]> {
  const sections = [...html.matchAll(/<section>\s*<h2>(.*?)<\/h2>(.*?)<\/section>/gs)]
  const cells = (row: string) => Array.from(row.matchAll(/<t[hd][^>]*>(.*?)<\/t[hd]>/g), ([, cell]) => cell)
  return new Map(
    sections.map(([, heading, content]) => [
      heading,
      Array.from(content.matchAll(/<tr>(.*?)<\/tr>/gs), ([, row]) => cells(row)),
    ]),
  )
}

describe('the report of a design', () => {
  const target = join(folder, 'report.html')
  const { status, stderr } = report(designFile, target)
  const html = readFileSync(target, 'utf8')
  const move = { movingMass: design.moves[0].movingMass, profile: motionProfile(withoutMass(design.moves[0])) }
  const site: Site = { ...design.site, floor: spectrum(design.site.floor), moves: [move] }
  const assessment = assess(isolation(design.design as IsolationOptions), site)

  it('is one file without script, network and repeated identifiers', () => {
    expect([status, stderr]).toEqual([0, ''])
    expect(html.replaceAll(/ xmlns(:\w+)?="[^"]*"/g, '')).not.toMatch(/https?:|<script|<link|src=|@import/)
    const identifiers = Array.from(html.matchAll(/ id="([^"]+)"/g), ([, id]) => id)
    expect(new Set(identifiers).size).toBe(identifiers.length)
  })

  it('draws bands, transmissibility, compliance, loops twice, noise and the move', () => {
    expect(html.match(/<svg /g)).toHaveLength(7)
    expect(html).not.toContain('NaN')
  })

  it('holds the numbers of the assessment in tables that copy', () => {
    const tables = tablesOf(html)
    const four = (value: number | null | undefined) => Number((value as number).toPrecision(4))
    const bands = tables.get('One-third-octave bands') ?? []
    expect(bands[0]).toEqual(['band [Hz]', 'limit [µm/s]', 'floor [µm/s]', 'payload [µm/s]', 'payload / limit'])
    expect(bands.slice(1).map((row) => [Number(row[0]), Number(row[4])])).toEqual(
      assessment.payload?.ratios.map(({ nominal, ratio }) => [nominal, four(ratio)]),
    )
    const [, [name, modulus]] = tables.get('Loops') ?? []
    expect([name, Number(modulus)]).toEqual(['feedback', four(assessment.loops[0].margins.modulusMargin)])
    const [, [, verdict, after]] = tables.get('Moves') ?? []
    expect([verdict, Number(after)]).toEqual(['pass', four(assessment.settling[0].settlingTime)])
  })

  it('says what was given, by which version, and every caution', () => {
    const { version } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'))
    expect(html).toContain(`restmass ${version}`)
    const given = /<pre>(.*?)<\/pre>/s.exec(html)?.[1] ?? ''
    const { title, ...inputs } = design
    expect(JSON.parse(given)).toEqual(inputs)
    expect(html).toContain(title)
    expect(assessment.cautions.length).toBeGreaterThan(2)
    for (const caution of assessment.cautions) expect(html).toContain(`<li>${caution}</li>`)
  })

  it('also takes a design that is not stable, without what it has no steady state for', () => {
    const wild = join(folder, 'wild.json')
    const feedback = { ...design.design.feedback, delay: 0.2 }
    writeFileSync(wild, JSON.stringify({ ...design, design: { ...design.design, feedback } }))
    const result = report(wild, target)
    expect([result.status, result.stderr]).toEqual([0, ''])
    const text = readFileSync(target, 'utf8')
    expect(text).toContain('<li>Fails: ')
    expect(tablesOf(text).get('Moves')).toBeUndefined()
  })

  it('refuses a design that makes no sense in one line', () => {
    const bad = join(folder, 'bad.json')
    writeFileSync(bad, JSON.stringify({ ...design, design: { ...design.design, payload: { mass: -1 } } }))
    const result = report(bad, target)
    expect([result.status, result.stdout]).toEqual([1, ''])
    expect(result.stderr).toMatch(/^report: isolation: payload\.mass must be [^\n]*got -1\n$/)
    expect(report('none.json').stderr).toMatch(/^report: ENOENT/)
  })
})

function withoutMass({
  movingMass: _,
  ...profile
}: { readonly movingMass: number } & Parameters<typeof motionProfile>[0]) {
  return profile
}
