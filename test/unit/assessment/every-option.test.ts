import * as assessment from '../../../src/assessment/index.js'
import { everyOption } from '../every-option.js'

everyOption(assessment, 'assessment')
