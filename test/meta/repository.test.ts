import { homedir, tmpdir } from 'node:os'
import { dirname, posix } from 'node:path'
import { describe, expect, it } from 'vitest'
import { readText, root, trackedFiles } from './support/repository.js'

const files = trackedFiles()
const isText = (path: string) =>
  /\.(ts|mts|cts|js|mjs|cjs|json|jsonc|md|txt|csv|yml|yaml|sh|py|m|html|css)$|(^|\/)[^.]+$|(^|\/)\.[^/]+$/.test(path)
const lines = (path: string) => readText(path).trimEnd().split('\n').length

function filesWith(found: (text: string) => boolean): string[] {
  return files.filter(isText).filter((path) => found(readText(path)))
}

describe('the repository', () => {
  it('has the files this test is about', () => {
    expect(files).toEqual(expect.arrayContaining(['package.json', 'package-lock.json', 'src/index.ts']))
  })

  it('names no package registry', () => {
    const hosts = [
      /\b(registry|mirrors?|proxy|npm|pypi)\.[a-z0-9-]+(\.[a-z0-9-]+)*\.(com|dev|io|net|org)\b/i,
      /"resolved"\s*:/,
    ]
    const configured = process.env.npm_config_registry
    const own = configured === undefined ? undefined : new URL(configured).host
    expect(
      filesWith((text) => hosts.some((host) => host.test(text)) || (own !== undefined && text.includes(own))),
    ).toEqual([])
  })

  it('names no folder of the machine it was written on', () => {
    const here = [root.replace(/\/$/, ''), dirname(root), homedir()].filter((path) => path !== '/' && path !== tmpdir())
    const elsewhere = /(^|[\s'"`(=:])\/(home|Users|root)\/[\w.-]+/m
    const named = (path: string, text: string) =>
      text.includes(`${path}/`) || text.includes(`${path}'`) || text.includes(`${path}"`)
    expect(filesWith((text) => elsewhere.test(text) || here.some((path) => named(path, text)))).toEqual([])
  })

  it('links from Markdown only to files it has, and from the readme to every guide and note', () => {
    const linked = (path: string) =>
      [...readText(path).matchAll(/\]\((?!https?:|#)([^)#\s]+)/g)].map(([, link]) => posix.join(dirname(path), link))
    const documents = files.filter((path) => path.endsWith('.md'))
    const has = (path: string) =>
      files.includes(path) || files.some((file) => file.startsWith(path.replace(/\/?$/, '/')))
    expect(documents.flatMap(linked).filter((path) => !has(path))).toEqual([])
    const told = documents.filter((path) => /^docs\/(guides|theory)\//.test(path))
    expect(told.length).toBeGreaterThan(20)
    expect(linked('README.md')).toEqual(expect.arrayContaining(told))
  })

  it('keeps every source file within 250 lines and every test file within 400', () => {
    const long = (folder: string, limit: number) =>
      files.filter((path) => path.startsWith(folder) && /\.m?[jt]s$/.test(path) && lines(path) > limit)
    // The public face is generated, a list as long as what it lists.
    const written = [...long('src/', 250), ...long('test/', 400)].filter((path) => path !== 'src/index.ts')
    expect(written).toEqual([])
  })
})
