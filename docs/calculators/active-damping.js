calculator({
  title: 'Active damping',
  question:
    'How much damping can a motor and an inertial sensor give, with the corner of the sensor and the delay of the loop?',
  inputs: {
    mass: { label: 'Payload mass', unit: 'kg', value: 1000, from: 10, to: 10000, scale: 'log' },
    naturalFrequency: { label: 'Natural frequency', unit: 'Hz', value: 2, from: 0.5, to: 20, scale: 'log' },
    dampingRatio: { label: 'Damping ratio of the mount', value: 0.03, from: 0.001, to: 0.5, scale: 'log' },
    active: { label: 'Damping ratio asked of the motor', value: 0.5, from: 0, to: 2 },
    sensorCorner: {
      label: 'Natural frequency of the geophone',
      unit: 'Hz',
      value: 0.5,
      from: 0.02,
      to: 5,
      scale: 'log',
    },
    sensorDamping: { label: 'its damping ratio', value: 0.7, from: 0.1, to: 2 },
    bandwidth: { label: 'Bandwidth of the motor', unit: 'Hz', value: 400, from: 10, to: 2000, scale: 'log' },
    delay: { label: 'Delay of the loop', unit: 'ms', times: 1e-3, value: 0.5, from: 0, to: 20 },
  },
  cautions: [
    'A loop that runs away moves its payload with the whole force of its motors: limits, watchdogs and guards first, gains later.',
  ],
  compute: (
    {
      activelyDampedIsolation,
      channel,
      frequencyResponse,
      geophone,
      idealActuator,
      isolationSummary,
      logFrequencies,
      loopMargins,
      openLoop,
      passiveIsolation,
      plotLoop,
      plotNyquist,
      plotTransmissibility,
      springMount,
      transmissibility,
    },
    { mass, naturalFrequency, dampingRatio, active, sensorCorner, sensorDamping, bandwidth, delay },
  ) => {
    const payload = { mass }
    const mount = springMount({ mass, naturalFrequency, dampingRatio })
    const sensor = geophone({ naturalFrequency: sensorCorner, dampingRatio: sensorDamping })
    const actuator = idealActuator({ bandwidth })
    const model = activelyDampedIsolation({
      payload,
      mount,
      damping: { dampingRatio: active, sensor, actuator, delay },
    })
    const [{ port, margins }] = loopMargins(model)
    const { peak, peakFrequency, isolationFrom } = isolationSummary(model)
    const grid = logFrequencies({ from: 0.02, to: 200, count: 300 })
    const loop = channel(frequencyResponse(openLoop(model.diagram, port), grid), {
      input: 'injected',
      output: 'returned',
    })
    return {
      values: [
        ['The loop is', margins.closedLoop, ''],
        ['Modulus margin', margins.modulusMargin, ''],
        ['at', margins.modulusMarginFrequency, 'Hz'],
        ['Gain may rise by the factor', margins.gainMargin, ''],
        ['Phase margin', margins.phaseMarginDegrees, '°'],
        ['Further delay it bears', margins.delayMargin === null ? null : margins.delayMargin * 1e3, 'ms'],
        ['Largest transmissibility', peak, ''],
        ['at', peakFrequency, 'Hz'],
        ['Isolates from', isolationFrom, 'Hz'],
      ],
      figures: [
        plotTransmissibility({
          'actively damped': transmissibility(model, grid),
          'mount alone': transmissibility(passiveIsolation({ payload, mount }), grid),
        }),
        plotNyquist(loop),
        plotLoop(loop, { margins }),
      ],
    }
  },
})
