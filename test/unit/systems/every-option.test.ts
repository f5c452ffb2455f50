import * as systems from '../../../src/systems/index.js'
import { everyOption } from '../every-option.js'

everyOption(systems, 'systems')
