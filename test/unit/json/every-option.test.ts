import * as json from '../../../src/json/index.js'
import { everyOption } from '../every-option.js'

everyOption(json, 'json')
