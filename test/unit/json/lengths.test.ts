import { expect, it } from 'vitest'
import { isIsolationError, toJson } from '../../../src/index.js'
import { everyRecord } from './every-record.js'

/** What is said of a record one of whose series has lost its last entry; null where none has to fit it. */
function said(record: object, key: string, series: Float64Array): string | null {
  try {
    toJson({ ...record, [key]: series.slice(0, -1) } as never)
  } catch (error) {
    if (isIsolationError(error)) return `${error.code} ${error.message}`
    throw error
  }
  return null
}

it('every series that has to fit another one is refused where it does not', async () => {
  const lines = Object.entries(everyRecord).flatMap(([kind, records]) =>
    records.flatMap((record) =>
      Object.entries(record)
        .filter((entry): entry is [string, Float64Array] => entry[1] instanceof Float64Array)
        .map(([key, series]) => `${kind}.${key}: ${said(record, key, series) ?? 'may be of any length'}`),
    ),
  )
  await expect(`${[...new Set(lines)].join('\n')}\n`).toMatchFileSnapshot('options/lengths.txt')
})
