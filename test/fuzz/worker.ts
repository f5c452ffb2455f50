import { once } from 'node:events'
import { makeCalls } from './make-calls.js'
import { publicFunctions, recordedCalls } from './recorded-calls.js'
import type { Share } from './share.js'

const [share] = (await once(process, 'message')) as [Share]
const subject = { functions: publicFunctions(), calls: recordedCalls() }
const made = makeCalls(subject, share, (finding) => process.send?.(finding))
process.send?.(made, () => process.disconnect())
