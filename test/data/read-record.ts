import { readFileSync } from 'node:fs'
import { gunzipSync } from 'node:zlib'

/** A measured record of this folder. */
export interface MeasuredRecord {
  /** Text of the README.md beside it. */
  readonly readme: string
  /** Values of each column by its name. */
  readonly channels: ReadonlyMap<string, Float64Array>
}

/** Text of a compressed table; the first line says what it is, the second names the columns. */
export function recordText(folder: string, name: string): string {
  return gunzipSync(readFileSync(new URL(`${folder}/${name}.csv.gz`, import.meta.url))).toString('utf8')
}

/** Reads a record and its README.md; `name` is that of its table without `.csv.gz`. */
export function readRecord(folder: string, name: string): MeasuredRecord {
  const [, head, ...lines] = recordText(folder, name).trim().split('\n')
  const rows = lines.map((line) => line.split(',').map(Number))
  return {
    readme: readFileSync(new URL(`${folder}/README.md`, import.meta.url), 'utf8'),
    channels: new Map(
      (head as string)
        .split(',')
        .map((channel, column) => [channel, Float64Array.from(rows, (row) => row[column] as number)]),
    ),
  }
}

/** Rows of cells of the Markdown table whose first line starts with `start`. */
export function tableAfter(text: string, start: string): string[][] {
  const lines = text.slice(text.indexOf(start)).split('\n')
  const end = lines.findIndex((line) => !line.startsWith('|'))
  return lines
    .slice(0, end < 0 ? lines.length : end)
    .filter((line) => !line.startsWith('|---'))
    .map((line) =>
      line
        .split('|')
        .slice(1, -1)
        .map((cell) => cell.trim()),
    )
}
