// The same program is compiled as an ES module and, under the name main.cts, as CommonJS.
import * as restmass from 'restmass'
import * as assessment from 'restmass/assessment'
import * as elements from 'restmass/elements'
import * as isolation from 'restmass/isolation'
import * as json from 'restmass/json'
import * as plots from 'restmass/plots'
import * as systems from 'restmass/systems'
import * as vibration from 'restmass/vibration'

const all: Record<string, unknown> = { ...restmass }
for (const floor of [assessment, elements, isolation, json, plots, systems, vibration]) {
  for (const [name, value] of Object.entries(floor)) {
    // The compiler adds a default to a CommonJS module that exports nothing.
    if (name !== 'default' && all[name] !== value) throw new Error(`${name} is not the one of the root`)
  }
}

function codeOf(call: () => number): restmass.ErrorCode | null {
  try {
    call()
    return null
  } catch (error) {
    return restmass.isIsolationError(error) ? error.code : null
  }
}

const frequency: number = elements.naturalFrequency({ mass: 100, stiffness: 1e5 })
// Computed from the closed form √(k/m)/2π.
if (Math.abs(frequency - 5.032921210448704) > 1e-14) throw new Error(`natural frequency is ${frequency}`)
if (codeOf(() => elements.naturalFrequency({ mass: -1, stiffness: 1 })) !== 'out-of-range') throw new Error('no error')
// @ts-expect-error a misspelt option does not compile
if (codeOf(() => elements.naturalFrequency({ masss: 1, stiffness: 1 })) !== 'invalid-option')
  throw new Error('no error')
