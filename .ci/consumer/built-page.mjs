// Runs what the bundler made of page.ts, which is small because one function needs little of the package.
import { readdirSync, statSync } from 'node:fs'

const folder = new URL('./dist/assets/', import.meta.url)
const scripts = readdirSync(folder).filter((name) => name.endsWith('.js'))
const bytes = scripts.reduce((sum, name) => sum + statSync(new URL(name, folder)).size, 0)
for (const name of scripts) await import(new URL(name, folder))
// Computed from the closed form √(k/m)/2π.
if (Math.abs(globalThis.frequency - 5.032921210448704) > 1e-14) throw new Error(`the page says ${globalThis.frequency}`)
if (bytes > 20_000) throw new Error(`the page carries ${bytes} bytes of scripts`)
console.log(`a page by vite: ${bytes} bytes, the same answer`)
