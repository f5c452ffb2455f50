// Rows of a shard on disk, as JSON that the package itself reads back.
import { existsSync, mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs'
import { dirname } from 'node:path'
import { fromJson, toJson } from 'restmass/json'

/** Rows of an earlier run, none without. */
export function rowsOf(path) {
  return existsSync(path) ? fromJson(readFileSync(path, 'utf8'), { kind: 'SweepResult' }).rows : []
}

/** Writes rows in ascending index; a run that is stopped leaves the file before whole. */
export function writeRows(path, total, rows) {
  const ordered = [...rows].sort((a, b) => a.index - b.index)
  const failed = ordered.filter(({ error }) => error !== null).length
  mkdirSync(dirname(path), { recursive: true })
  writeFileSync(`${path}.part`, toJson({ kind: 'SweepResult', total, rows: ordered, failed }))
  renameSync(`${path}.part`, path)
}
