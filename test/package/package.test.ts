import { execFileSync } from 'node:child_process'
import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { createContext, runInContext } from 'node:vm'
import { Worker } from 'node:worker_threads'
import { describe, expect, inject, it } from 'vitest'

const consumer = inject('consumer')
const packageFolder = join(consumer, 'node_modules', 'restmass')
const floors = ['systems', 'elements', 'isolation', 'vibration', 'assessment', 'plots', 'json']

// 100 kg on 1e5 N/m: computed from the closed form √(k/m)/2π = √1000/2π.
const call = 'naturalFrequency({ mass: 100, stiffness: 1e5 })'
const frequency = 5.032921210448704
// A few roundings of a double near 5.
const rounding = 1e-14

/** What a program of the consumer prints, as JSON. */
function runProgram(type: 'module' | 'commonjs', source: string): unknown {
  const args = [`--input-type=${type}`, '-']
  return JSON.parse(execFileSync(process.execPath, args, { cwd: consumer, input: source, encoding: 'utf8' }))
}

function expectFrequency(value: unknown): void {
  expect(Math.abs((value as number) - frequency)).toBeLessThan(rounding)
}

describe('the tarball', () => {
  it('carries the build, the sources behind its source maps and the licences, and nothing else', () => {
    const allowed = /^(dist|src)\/|^(package\.json|README\.md|LICENSE|CHANGELOG\.md)$/
    const files = inject('packedFiles')
    expect(files.filter((path) => !allowed.test(path))).toEqual([])
    expect(files).toEqual(
      expect.arrayContaining(['LICENSE', 'README.md', 'CHANGELOG.md', 'dist/THIRD-PARTY-LICENSES.txt', 'src/index.ts']),
    )
  })

  it('has a source map beside every script, with sources that are there', () => {
    const scripts = inject('packedFiles').filter((path) => /^dist\/.*\.c?js$/.test(path))
    expect(scripts.length).toBeGreaterThan(10)
    for (const script of scripts) {
      const map = JSON.parse(readFileSync(join(packageFolder, `${script}.map`), 'utf8')) as { version: number }
      expect(map.version, script).toBe(3)
    }
  })
})

describe('an ES module program', () => {
  it('computes', () => {
    expectFrequency(
      runProgram('module', `import { naturalFrequency } from 'restmass'; console.log(JSON.stringify(${call}))`),
    )
  })

  it.each(floors)('loads restmass/%s', (floor) => {
    const names = runProgram(
      'module',
      `import * as floor from 'restmass/${floor}'; import * as all from 'restmass'
       console.log(JSON.stringify(Object.keys(floor).filter((name) => floor[name] !== all[name])))`,
    )
    expect(names).toEqual([])
  })
})

describe('the first program of the readme', () => {
  it('runs as it stands and prints what is quoted below it', () => {
    const readme = readFileSync(join(packageFolder, 'README.md'), 'utf8')
    const [, program, quoted] = /```ts\n(.*?)```.*?```text\n(.*?)```/s.exec(readme) ?? []
    const args = ['--input-type=module', '-']
    expect(execFileSync(process.execPath, args, { cwd: consumer, input: program, encoding: 'utf8' })).toBe(quoted)
  })
})

describe('a CommonJS program', () => {
  it('computes', () => {
    expectFrequency(
      runProgram('commonjs', `const { naturalFrequency } = require('restmass'); console.log(JSON.stringify(${call}))`),
    )
  })

  it.each(floors)('loads restmass/%s, sharing its parts with the root', (floor) => {
    const names = runProgram(
      'commonjs',
      `const floor = require('restmass/${floor}'), all = require('restmass')
       console.log(JSON.stringify(Object.keys(floor).filter((name) => floor[name] !== all[name])))`,
    )
    expect(names).toEqual([])
  })
})

describe('an error', () => {
  it('is recognised across the ESM and the CJS copy, where instanceof fails', () => {
    const found = runProgram(
      'module',
      `import { createRequire } from 'node:module'
       import * as esm from 'restmass'
       const cjs = createRequire(import.meta.url)('restmass')
       const thrownBy = (copy) => { try { copy.naturalFrequency({ mass: -1, stiffness: 1 }) } catch (error) { return error } }
       const [fromEsm, fromCjs] = [thrownBy(esm), thrownBy(cjs)]
       console.log(JSON.stringify({
         guards: [esm.isIsolationError(fromCjs), cjs.isIsolationError(fromEsm)],
         instances: [fromCjs instanceof esm.IsolationError, fromEsm instanceof cjs.IsolationError],
         codes: [fromEsm.code, fromCjs.code],
         paths: [fromEsm.details.path, fromCjs.details.path],
       }))`,
    )
    expect(found).toEqual({
      guards: [true, true],
      instances: [false, false],
      codes: ['out-of-range', 'out-of-range'],
      paths: ['mass', 'mass'],
    })
  })

  it('reaches the page from a worker as a record', async () => {
    const worker = new Worker(
      `const { parentPort } = require('node:worker_threads')
       const { errorRecord, naturalFrequency } = require(${JSON.stringify(packageFolder)})
       const value = ${call}
       try { naturalFrequency({ mass: -1, stiffness: 1 }) } catch (error) {
         parentPort.postMessage({ value, record: errorRecord(error) })
       }`,
      { eval: true },
    )
    const message = await new Promise<{ value: number; record: { kind: string; code: string } }>((resolve, reject) => {
      worker.once('message', resolve).once('error', reject)
    })
    await worker.terminate()
    expectFrequency(message.value)
    expect(message.record).toMatchObject({ kind: 'ErrorRecord', code: 'out-of-range' })
  })
})

describe('the builds for pages', () => {
  it('run as a script tag in a bare context, with neither Node nor DOM', () => {
    const context = createContext({})
    runInContext(readFileSync(join(packageFolder, 'dist', 'restmass.global.js'), 'utf8'), context)
    expectFrequency(runInContext(`restmass.${call}`, context))
    expect(runInContext('Object.keys(restmass).length', context)).toBe(exportCount())
  })

  it('run as one ES module without any other file', () => {
    const source = readFileSync(join(packageFolder, 'dist', 'browser.js'), 'utf8')
    const address = `data:text/javascript;base64,${Buffer.from(source).toString('base64')}`
    const result = runProgram(
      'module',
      `const page = await import(${JSON.stringify(address)})
       console.log(JSON.stringify([page.${call}, Object.keys(page).length]))`,
    ) as [number, number]
    expectFrequency(result[0])
    expect(result[1]).toBe(exportCount())
  })
})

describe('the ES module build', () => {
  it('keeps one output file per module', () => {
    expect(modulesIn('dist/esm', '.js')).toEqual(modulesIn('src', '.ts'))
  })
})

function exportCount(): number {
  return runProgram('module', `import * as all from 'restmass'; console.log(Object.keys(all).length)`) as number
}

function modulesIn(folder: string, extension: string): string[] {
  const entries = readdirSync(join(packageFolder, folder), { recursive: true, encoding: 'utf8' })
  return entries
    .filter((name) => name.endsWith(extension))
    .map((name) => name.slice(0, -extension.length))
    .sort()
}
