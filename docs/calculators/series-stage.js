calculator({
  title: 'A series stage',
  question: 'What does a stiff active stage beneath passive mounts gain, and at which margin?',
  inputs: {
    mass: { label: 'Payload mass', unit: 'kg', value: 1000, from: 10, to: 10000, scale: 'log' },
    stageMass: { label: 'Mass of the active stage', unit: 'kg', value: 60, from: 1, to: 1000, scale: 'log' },
    naturalFrequency: {
      label: 'Natural frequency on its mounts',
      unit: 'Hz',
      value: 11,
      from: 1,
      to: 50,
      scale: 'log',
    },
    dampingRatio: { label: 'Damping ratio of the mounts', value: 0.12, from: 0.005, to: 0.5, scale: 'log' },
    actuatorStiffness: {
      label: 'Stiffness of the actuators',
      unit: 'N/m',
      value: 1e9,
      from: 1e7,
      to: 1e10,
      scale: 'log',
    },
    stroke: { label: 'their travel', unit: 'µm', times: 1e-6, value: 40, from: 5, to: 200, scale: 'log' },
    sensorCorner: {
      label: 'Natural frequency of the sensor',
      unit: 'Hz',
      value: 0.03,
      from: 0.005,
      to: 5,
      scale: 'log',
    },
    sensorLocation: { label: 'Sensor on', value: 'activeStage', choices: ['activeStage', 'floor'] },
    gain: { label: 'Gain in band', value: 5, from: 0.1, to: 100, scale: 'log' },
    highPass: { label: 'High-pass corner', unit: 'Hz', value: 1.5, from: 0.05, to: 10, scale: 'log' },
    lowPass: { label: 'Low-pass corner', unit: 'Hz', value: 5, from: 1, to: 500, scale: 'log' },
    delay: { label: 'Delay', unit: 'ms', times: 1e-3, value: 0.1, from: 0, to: 5 },
  },
  cautions: ['Piezo drives carry high voltage: discharge and interlocks as local electrical-safety codes demand.'],
  compute: (
    {
      channel,
      frequencyResponse,
      geophone,
      isolationSummary,
      logFrequencies,
      loopMargins,
      openLoop,
      plotNyquist,
      plotTransmissibility,
      seriesActiveIsolation,
      springMount,
      stability,
      transmissibility,
    },
    {
      mass,
      stageMass,
      naturalFrequency,
      dampingRatio,
      actuatorStiffness,
      stroke,
      sensorCorner,
      sensorLocation,
      gain,
      highPass,
      lowPass,
      delay,
    },
  ) => {
    const mount = springMount({ mass, naturalFrequency, dampingRatio })
    const built = (some) =>
      seriesActiveIsolation({
        payload: { mass },
        mount,
        activeStage: {
          mass: stageMass,
          actuator: {
            stiffness: actuatorStiffness,
            damping: 0.02 * Math.sqrt(actuatorStiffness * (mass + stageMass)),
            stroke,
          },
          sensor: geophone({ naturalFrequency: sensorCorner, dampingRatio: 0.7 }),
          sensorLocation,
          controller: { gain: some, highPass, lowPass },
          delay,
        },
      })
    const model = built(gain)
    const [main] = loopMargins(model)
    const { peak, peakFrequency, isolationFrom } = isolationSummary(model)
    const grid = logFrequencies({ from: 0.05, to: 500, count: 300 })
    const figures = [
      plotTransmissibility({
        'with control': transmissibility(model, grid),
        without: transmissibility(built(0), grid),
      }),
    ]
    if (main) {
      const response = frequencyResponse(openLoop(model.diagram, main.port), grid)
      figures.push(plotNyquist(channel(response, { input: 'injected', output: 'returned' })))
    }
    return {
      values: [
        ['The system is', main ? main.margins.closedLoop : stability(model.closed).verdict, ''],
        ['Modulus margin', main ? main.margins.modulusMargin : null, ''],
        ['Gain may rise by the factor', main ? main.margins.gainMargin : null, ''],
        ['Largest transmissibility', peak, ''],
        ['at', peakFrequency, 'Hz'],
        ['Isolates from', isolationFrom, 'Hz'],
      ],
      figures,
    }
  },
})
