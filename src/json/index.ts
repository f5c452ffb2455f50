// JSON: any record to text and back, checked.

export { type FromJsonOptions, fromJson } from './from-json.js'
export type { RecordKind, Records } from './records.js'
export { type ToJsonOptions, toJson } from './to-json.js'
