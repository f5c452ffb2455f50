/** How numbers and series stand in a record or in its JSON tree. */
export interface Form {
  /** What a value means as a number; the value itself where it means none. */
  readonly readNumber: (value: unknown) => unknown
  readonly writeNumber: (value: number) => unknown
  /** Entries of a value that is a series; null where it is none. */
  readonly readSeries: (value: unknown) => ArrayLike<unknown> | null
  readonly writeSeries: (values: Float64Array) => unknown
  /** A series in words. */
  readonly series: string
}

/** From which form to which. */
export interface Forms {
  readonly from: Form
  readonly to: Form
}

/** Records as the package makes them. */
export const recordForm: Form = {
  readNumber: (value) => value,
  writeNumber: (value) => value,
  readSeries: (value) => (value instanceof Float64Array ? value : null),
  writeSeries: (values) => values,
  series: 'a Float64Array',
}

/** Plain JSON: `{ "$f64": […] }` for a series, `{ "$number": "Infinity" }` for a number that JSON cannot write. */
export const treeForm: Form = {
  readNumber: (value) => {
    // JSON.parse makes Infinity of a numeral beyond the range of numbers.
    if (typeof value === 'number') return Number.isFinite(value) ? value : Number.NaN
    const name = onlyEntry(value, '$number')
    return name === 'Infinity' || name === '-Infinity' || name === 'NaN' ? Number(name) : value
  },
  writeNumber: (value) => (Number.isFinite(value) ? value : { $number: `${value}` }),
  readSeries: (value) => {
    const entries = onlyEntry(value, '$f64')
    return Array.isArray(entries) ? entries : null
  },
  writeSeries: (values) => ({ $f64: Array.from(values, treeForm.writeNumber) }),
  series: 'a series { "$f64": […] }',
}

function onlyEntry(value: unknown, key: string): unknown {
  if (typeof value !== 'object' || value === null || Object.keys(value).length !== 1) return undefined
  return Object.hasOwn(value, key) ? (value as Record<string, unknown>)[key] : undefined
}
