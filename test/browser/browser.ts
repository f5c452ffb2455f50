import { existsSync, mkdirSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { type Browser, chromium, type Page } from 'playwright-core'
import * as restmass from '../../src/index.js'

const root = new URL('../../', import.meta.url)

/** What a calculator shows: what, value, unit. */
export type Values = readonly (readonly [what: string, value: number | string | null, unit: string])[]

export interface Description {
  readonly title: string
  readonly inputs: Readonly<Record<string, Input>>
  readonly compute: (
    library: object,
    inputs: object,
  ) => { readonly values: Values; readonly figures: readonly object[] }
}

interface Input {
  readonly value: number | string
  readonly times?: number
  readonly choices?: readonly string[]
  readonly file?: boolean
}

/** The browser of the system, without network and profile. */
export async function launched(): Promise<Browser> {
  const executablePath = process.env.CHROMIUM ?? '/usr/bin/chromium'
  if (!existsSync(executablePath)) throw new Error(`no browser at ${executablePath}; install chromium or set CHROMIUM`)
  const args = ['--no-sandbox', '--disable-gpu', '--disable-background-networking', '--disable-component-update']
  return chromium.launch({ executablePath, args: [...args, '--disable-sync', '--no-first-run'] })
}

/** Address of a page of the built site on this disk. */
export function address(path: string): string {
  const url = new URL(`site/${path}`, root)
  if (!existsSync(url)) throw new Error(`there is no site/${path}; run npm run docs first`)
  return url.href
}

/** A page of the site, with everything that went wrong in it. */
export async function opened(browser: Browser, path: string, width = 1100): Promise<{ page: Page; faults: string[] }> {
  const context = await browser.newContext({ viewport: { width, height: 900 }, offline: true })
  const page = await context.newPage()
  const faults: string[] = []
  page.on('pageerror', (error) => faults.push(error.message))
  page.on('console', (message) => {
    if (['error', 'warning'].includes(message.type())) faults.push(message.text())
  })
  await page.goto(address(path.split('#')[0]) + (path.includes('#') ? `#${path.split('#')[1]}` : ''))
  return { page, faults }
}

/** The values that a page shows, with all their digits. */
export async function shown(page: Page): Promise<Values> {
  return page.$$eval('.values tr', (rows) =>
    rows.map((row) => {
      const [what, value, unit] = [...row.children] as HTMLElement[]
      const text = value.dataset.value ?? ''
      const plain = text === 'null' ? null : text === '' || Number.isNaN(Number(text)) ? text : Number(text)
      return [what.textContent ?? '', plain, unit.textContent ?? ''] as const
    }),
  )
}

/** What the description computes in this process, from the fields as they stand in a page. */
export function computed(description: Description, fields: Readonly<Record<string, number | string>> = {}): Values {
  const inputs = Object.entries(description.inputs).map(([name, { value, times = 1, choices, file }]) => {
    const given = fields[name] ?? value
    return [name, choices || file ? given : Number(((given as number) * times).toPrecision(15))]
  })
  return description.compute(restmass, Object.fromEntries(inputs)).values
}

/** Folder for pictures that somebody should look at. */
export function pictures(): string {
  const folder = fileURLToPath(new URL('out/pictures/', root))
  mkdirSync(folder, { recursive: true })
  return folder
}
