// Reads out/mutation.json: the changes that no test noticed, and the share noticed, with the range in which the share of all
// changes lies with 95 % confidence when only a part was tried (score interval of a binomial share, Wilson 1927).
import { readFileSync } from 'node:fs'

const noticed = new Set(['Killed', 'Timeout'])
const missed = new Set(['Survived', 'NoCoverage'])

const { files } = JSON.parse(readFileSync('out/mutation.json', 'utf8'))
const all = Object.entries(files).flatMap(([file, { source, mutants }]) =>
  mutants.map((mutant) => ({ file, lines: source.split('\n'), ...mutant })),
)
const tried = all.filter(({ status }) => noticed.has(status) || missed.has(status))
const survivors = tried.filter(({ status }) => missed.has(status))

for (const { file, lines, location, mutatorName, replacement, status } of survivors) {
  const { line, column } = location.start
  console.log(`${file}:${line}:${column} ${status}, ${mutatorName}`)
  console.log(`  - ${lines[line - 1].trim()}\n  + ${replacement.split('\n')[0]}`)
}

const count = tried.length
const share = (count - survivors.length) / count
const z = 1.96
const centre = (share + z ** 2 / (2 * count)) / (1 + z ** 2 / count)
const half = (z * Math.sqrt((share * (1 - share)) / count + (z / (2 * count)) ** 2)) / (1 + z ** 2 / count)
const percent = (value) => (100 * value).toFixed(1)
const eligible = all.filter(({ status }) => status !== 'Ignored').length
console.log(
  `${process.env.RESTMASS_FLOOR}: ${count - survivors.length} of ${count} noticed, ${percent(share)} %` +
    (count < eligible ? `; of all ${eligible}, 95 %: ${percent(centre - half)} to ${percent(centre + half)} %` : ''),
)
