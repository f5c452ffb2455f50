// The browser builds carry their dependencies inside; this writes the licences of all runtime packages beside them.
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'

const root = fileURLToPath(new URL('..', import.meta.url))
const lock = JSON.parse(readFileSync(join(root, 'package-lock.json'), 'utf8'))
const runtime = Object.entries(lock.packages).filter(([path, entry]) => path !== '' && !entry.dev && !entry.optional)

const sections = runtime.map(([path, entry]) => {
  const name = path.replace(/^.*node_modules\//, '')
  return `${name} ${entry.version} (${entry.license})\n\n${licenceText(join(root, path))}`
})
writeFileSync(join(root, 'dist', 'THIRD-PARTY-LICENSES.txt'), `${sections.join(`\n\n${'-'.repeat(72)}\n\n`)}\n`)

function licenceText(folder) {
  const file = readdirSync(folder).find((name) => /^licen[cs]e/i.test(name))
  if (file !== undefined) return readFileSync(join(folder, file), 'utf8').trim()
  const readme = join(folder, 'README.md')
  const text = existsSync(readme) ? readFileSync(readme, 'utf8') : ''
  const start = text.search(/^#+ *licen[cs]e/im)
  if (start < 0) throw new Error(`no licence text in ${folder}`)
  return text.slice(start).trim()
}
