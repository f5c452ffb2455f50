import { existsSync, readFileSync } from 'node:fs'
import type { Browser } from 'playwright-core'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { address, launched, opened } from './browser.js'

let browser: Browser
beforeAll(async () => {
  browser = await launched()
})
afterAll(() => browser?.close())

describe('the site', () => {
  it('leads from its first page to every page, and no link of its own is dead', () => {
    const seen = new Set<string>()
    const dead: string[] = []
    const waiting = [address('index.html')]
    for (let url = waiting.pop(); url !== undefined; url = waiting.pop()) {
      if (seen.has(url)) continue
      seen.add(url)
      if (!existsSync(new URL(url))) dead.push(url)
      // The reference checks its links itself.
      else if (url.endsWith('.html') && !url.includes('/reference/')) {
        const links = [...readFileSync(new URL(url), 'utf8').matchAll(/(?:href|src)="([^"#]+)/g)].map(
          ([, link]) => link,
        )
        waiting.push(...links.map((link) => new URL(link, url).href).filter((link) => link.startsWith('file:')))
      }
    }
    expect(dead).toEqual([])
    const pages = (folder: string) =>
      [...seen].filter(
        (url) => url.startsWith(address(`${folder}/index.html`).replace('index.html', '')) && url.endsWith('.html'),
      )
    expect(pages('calculators')).toHaveLength(9)
    expect(pages('guides').length).toBeGreaterThan(1)
    expect(pages('reference')).toHaveLength(1)
  })

  it.each(['index.html', 'guides/size-four-air-springs.html', 'calculators/index.html', 'reference/index.html'])(
    'opens %s without a fault and without a network',
    async (path) => {
      const { page, faults } = await opened(browser, path)
      expect(await page.title()).not.toBe('')
      expect((await page.textContent('h1, h2'))?.trim()).not.toBe('')
      // The reference draws its icons itself where a browser may not read another file of the disk.
      expect(faults.filter((fault) => !fault.includes('/reference/assets/icons.svg'))).toEqual([])
      await page.context().close()
    },
  )
})
