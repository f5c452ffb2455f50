// One design point of the sweep: an invented table of a tonne with active damping.
import { activelyDampedIsolation, geophone, logFrequencies, loopMargins, predictPayload, rms, spectrum } from 'restmass'

/** Invented floor: velocity [m/s/√Hz] over frequency [Hz]. */
const floor = spectrum({
  quantity: 'velocity',
  frequency: [0.5, 1, 3, 10, 30, 100],
  amplitudeDensity: [1e-6, 2e-6, 2e-6, 1e-6, 5e-7, 1e-7],
})

/** Values of stiffness [N/m], gain [N·s/m] and delay [s]: as many of each as asked for. */
export function grid([stiffnesses, gains, delays]) {
  return {
    stiffness: Array.from(logFrequencies({ from: 2e4, to: 4e5, count: stiffnesses })),
    gain: Array.from(logFrequencies({ from: 1e3, to: 6e4, count: gains })),
    delay: Array.from({ length: delays }, (_, k) => (k * 10e-3) / Math.max(delays - 1, 1)),
  }
}

/** Margins of the damping loop and rms velocity of the payload [m/s]; null where there is none. */
export function evaluate({ stiffness, gain, delay }) {
  const model = activelyDampedIsolation({
    payload: { mass: 1000 },
    mount: { stiffness, damping: 500 },
    damping: {
      gain,
      delay,
      sensor: geophone({ naturalFrequency: 0.3, dampingRatio: 0.7 }),
      actuator: { bandwidth: 200 },
    },
  })
  const [{ margins }] = loopMargins(model)
  const { closedLoop, gainMargin, phaseMarginDegrees, delayMargin, modulusMargin } = margins
  const payloadRms = closedLoop === 'stable' ? rms(predictPayload(model, { floor })) : null
  return { closedLoop, gainMargin, phaseMarginDegrees, delayMargin, modulusMargin, payloadRms }
}
