import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { expect, it } from 'vitest'
import { recordKinds } from '../../../src/json/table.js'
import { everyRecord } from './every-record.js'

const source = fileURLToPath(new URL('../../../src/', import.meta.url))
const files = readdirSync(source, { recursive: true, encoding: 'utf8' }).filter((path) => path.endsWith('.ts'))
const declared = files.flatMap((path) =>
  [...readFileSync(join(source, path), 'utf8').matchAll(/^ {2}readonly kind\??: '(\w+)'$/gm)].map(([, kind]) => kind),
)

// A handle that holds factors of its system; it is made again from the system, not carried.
const handles = ['PreparedSystem']

it('every kind that a type of this package declares can be carried', () => {
  expect([...recordKinds(), ...handles].sort()).toEqual([...new Set(declared)].sort())
})

it('every kind has a record in the round trip', () => {
  expect(Object.keys(everyRecord).sort()).toEqual(recordKinds().sort())
  expect(Object.values(everyRecord).every((records) => records.length > 0)).toBe(true)
})
