import * as plots from '../../../src/plots/index.js'
import { everyOption } from '../every-option.js'

everyOption(plots, 'plots')
