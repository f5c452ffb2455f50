import * as elements from '../../../src/elements/index.js'
import { everyOption } from '../every-option.js'

everyOption(elements, 'elements', 'options')
