import * as json from '../../../src/json/index.js'
import { everyOption } from '../every-option.js'
import { everyRecord } from './every-record.js'

// Every field of every record that can be written, in turn NaN, and a field too many.
everyOption(
  json,
  'json',
  {},
  { toJson: Object.values(everyRecord).flatMap((records) => records.map((record) => [record])) },
)
