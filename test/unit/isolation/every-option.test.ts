import * as isolation from '../../../src/isolation/index.js'
import { everyOption } from '../every-option.js'

everyOption(isolation, 'isolation', 'options')
