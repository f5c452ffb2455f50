// The site: guides and theory from Markdown, calculators on the script-tag build, beside the reference that typedoc wrote.
//
//     npm run docs
import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { posix } from 'node:path'
import { fileURLToPath } from 'node:url'
import { marked } from 'marked'
import { descriptions } from './descriptions.js'
import { linkList, page } from './page.js'

const root = new URL('../../', import.meta.url)
const site = new URL('site/', root)
const read = (path) => readFileSync(new URL(path, root), 'utf8')
const write = (path, text) => writeFileSync(new URL(path, site), text)

for (const folder of ['guides', 'theory', 'calculators', 'examples']) {
  rmSync(new URL(folder, site), { recursive: true, force: true })
  mkdirSync(new URL(folder, site), { recursive: true })
}
cpSync(new URL('docs/site/site.css', root), new URL('site.css', site))
const [guides, theory] = ['guides', 'theory'].map(markdownFolder)
write('guides/index.html', page({ title: 'Guides', depth: 1, body: contents(guides, theory) }))
for (const [name, title] of [
  ['README', 'restmass'],
  ['DEVELOPERS', 'For developers'],
  ['CHANGELOG', 'Changelog'],
]) {
  write(inSite(`${name}.md`), page({ title, body: html(`${name}.md`) }))
}
for (const [name, title] of [
  ['performance', 'Speed, memory and size'],
  ['quality', 'How it is tested'],
]) {
  write(`${name}.html`, page({ title, body: html(`docs/${name}.md`) }))
}
cpSync(new URL('LICENSE', root), new URL('LICENSE.txt', site))
cpSync(new URL('docs/examples', root), new URL('examples', site), { recursive: true })
calculators()
console.log(`site: ${guides.length} guides, ${theory.length} notes of theory, in ${fileURLToPath(site)}`)

/** Every Markdown file of a folder as a page; their names and titles. */
function markdownFolder(folder) {
  const source = new URL(`docs/${folder}/`, root)
  if (!existsSync(source)) return []
  const files = readdirSync(source).filter((name) => name.endsWith('.md'))
  return files.sort().map((name) => {
    const path = `docs/${folder}/${name}`
    const title = /^# (.*)$/m.exec(read(path))?.[1] ?? name
    const href = inSite(path)
    write(href, page({ title, depth: 1, body: html(path) }))
    return { href: `../${href}`, title }
  })
}

function contents(guides, theory) {
  const more = theory.length === 0 ? '' : `<h2>Theory</h2>\n${linkList(theory)}`
  return `<h1>Guides</h1>\n${linkList(guides)}\n${more}`
}

/** A Markdown file as HTML; links inside the repository go to where the site has the same. */
function html(path) {
  const [source, target] = [new URL(path, root), new URL(inSite(path), root)]
  return marked.parse(read(path)).replaceAll(/href="((?!https?:|#)[^"#]*)/g, (_, link) => {
    const linked = new URL(inSite(relative(root, new URL(link, source))), root)
    return `href="${relative(new URL('.', target), linked)}`
  })
}

/** Where the site has a file of the repository. */
function inSite(path) {
  return path
    .replace(/^docs\//, '')
    .replace(/^(?:guides|theory)\/?$/, 'guides/index.html')
    .replace(/^README\.md$/, 'index.html')
    .replace(/\.md$/, '.html')
    .replace(/^LICENSE$/, 'LICENSE.txt')
}

/** The path from one URL to another, with `/` as links have it. */
function relative(from, to) {
  return posix.relative(from.pathname, to.pathname)
}

/** One page per description, with everything it loads beside it. */
function calculators() {
  const into = (path, name) => cpSync(new URL(path, root), new URL(`calculators/${name}`, site))
  into('dist/restmass.global.js', 'restmass.js')
  into('node_modules/vega/build/vega.min.js', 'vega.js')
  into('node_modules/vega/LICENSE', 'vega-license.txt')
  into('node_modules/vega-lite/build/vega-lite.min.js', 'vega-lite.js')
  into('node_modules/vega-lite/LICENSE', 'vega-lite-license.txt')
  into('docs/calculators/calculator.js', 'calculator.js')
  into('docs/calculators/calculator.css', 'calculator.css')
  const entries = descriptions().map(({ name, description: { title, question: note } }) => {
    into(`docs/calculators/${name}.js`, `${name}.js`)
    const scripts = ['restmass', 'vega', 'vega-lite', 'calculator', name].map((script) => `${script}.js`)
    const styles = ['calculators/calculator.css']
    write(`calculators/${name}.html`, page({ title, depth: 1, body: '<div id="calculator"></div>', styles, scripts }))
    return { href: `${name}.html`, title, note }
  })
  write(
    'calculators/index.html',
    page({ title: 'Calculators', depth: 1, body: `<h1>Calculators</h1>\n${linkList(entries)}` }),
  )
}
