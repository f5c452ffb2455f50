// Lists what installing the package brings along, with its licence; fails on a package that runs a script when it is installed
// and on a licence that asks for more than its text.
import { readFileSync } from 'node:fs'

const { packages } = JSON.parse(readFileSync('node_modules/.package-lock.json', 'utf8'))
const free = ['MIT', 'ISC', 'BSD-2-Clause', 'BSD-3-Clause', 'Apache-2.0', '0BSD']
const wrong = []
for (const [path, entry] of Object.entries(packages)) {
  const manifest = JSON.parse(readFileSync(`${path}/package.json`, 'utf8'))
  const hooks = ['preinstall', 'install', 'postinstall', 'prepare'].filter(
    (name) => manifest.scripts?.[name] !== undefined,
  )
  // npm runs prepare for a checkout only, never for a package from a tarball.
  if (entry.hasInstallScript || hooks.some((name) => name !== 'prepare')) wrong.push(`${path} runs ${hooks.join(', ')}`)
  if (!free.includes(manifest.license)) wrong.push(`${path} has the licence ${manifest.license}`)
  console.log(`${manifest.name} ${manifest.version}: ${manifest.license}, no install scripts`)
}
if (wrong.length > 0 || packages['node_modules/restmass'] === undefined)
  throw new Error(wrong.join('; ') || 'nothing installed')
