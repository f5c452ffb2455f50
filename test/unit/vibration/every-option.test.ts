import * as vibration from '../../../src/vibration/index.js'
import { everyOption } from '../every-option.js'

everyOption(vibration, 'vibration')
