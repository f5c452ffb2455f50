import { execFileSync } from 'node:child_process'
import { mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import type { TestProject } from 'vitest/node'

declare module 'vitest' {
  interface ProvidedContext {
    /** Folder of a program that has installed the packed tarball. */
    readonly consumer: string
    /** Paths inside the tarball. */
    readonly packedFiles: string[]
  }
}

const root = fileURLToPath(new URL('../..', import.meta.url))

/** Builds and packs the package once and unpacks the tarball into a consumer's node_modules. */
export function setup(project: TestProject): () => void {
  const consumer = mkdtempSync(join(tmpdir(), 'restmass-consumer-'))
  const modules = join(consumer, 'node_modules')
  const run = (command: string, args: string[]) =>
    execFileSync(command, args, { cwd: root, encoding: 'utf8', stdio: ['ignore', 'pipe', 'inherit'] })
  run('npm', ['run', '--silent', 'build'])
  const [{ filename, files }] = JSON.parse(run('npm', ['pack', '--json', '--pack-destination', consumer])) as [
    { filename: string; files: { path: string }[] },
  ]
  mkdirSync(join(modules, 'restmass'), { recursive: true })
  run('tar', ['-xzf', join(consumer, filename), '-C', join(modules, 'restmass'), '--strip-components=1'])
  for (const name of runtimeDependencies()) {
    mkdirSync(dirname(join(modules, name)), { recursive: true })
    symlinkSync(join(root, 'node_modules', name), join(modules, name))
  }
  project.provide('consumer', consumer)
  project.provide(
    'packedFiles',
    files.map(({ path }) => path),
  )
  return () => rmSync(consumer, { recursive: true, force: true })
}

function runtimeDependencies(): string[] {
  const manifest = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as { dependencies: object }
  return Object.keys(manifest.dependencies)
}
