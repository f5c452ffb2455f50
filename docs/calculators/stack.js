calculator({
  title: 'A stack',
  question: 'What do two stages gain over one, and does the damping of the upper bear the lower beneath it?',
  inputs: {
    mass: { label: 'Payload mass', unit: 'kg', value: 500, from: 10, to: 10000, scale: 'log' },
    upperFrequency: { label: 'Upper natural frequency, alone', unit: 'Hz', value: 2, from: 0.5, to: 20, scale: 'log' },
    upperDamping: { label: 'its damping ratio', value: 0.05, from: 0.001, to: 0.5, scale: 'log' },
    active: { label: 'Damping ratio asked of its motor', value: 0.4, from: 0, to: 2 },
    sensorCorner: {
      label: 'Natural frequency of its geophone',
      unit: 'Hz',
      value: 0.3,
      from: 0.02,
      to: 5,
      scale: 'log',
    },
    delay: { label: 'Delay of its loop', unit: 'ms', times: 1e-3, value: 0.5, from: 0, to: 20 },
    frame: { label: 'Mass between the stages', unit: 'kg', value: 400, from: 10, to: 10000, scale: 'log' },
    lowerFrequency: {
      label: 'Lower natural frequency, all mass on it',
      unit: 'Hz',
      value: 6,
      from: 0.5,
      to: 50,
      scale: 'log',
    },
    lowerDamping: { label: 'its damping ratio', value: 0.1, from: 0.001, to: 0.5, scale: 'log' },
  },
  cautions: [
    'Stacks are top-heavy and their loops can run away: restraints, limits and guards as local codes and licensed practice demand.',
  ],
  compute: (
    {
      activelyDampedIsolation,
      channel,
      frequencyResponse,
      geophone,
      isolationSummary,
      logFrequencies,
      loopMargins,
      openLoop,
      plotNyquist,
      plotTransmissibility,
      springMount,
      stackedIsolation,
      transmissibility,
    },
    { mass, upperFrequency, upperDamping, active, sensorCorner, delay, frame, lowerFrequency, lowerDamping },
  ) => {
    const sensor = geophone({ naturalFrequency: sensorCorner, dampingRatio: 0.7 })
    const upper = {
      payload: { mass },
      mount: springMount({ mass, naturalFrequency: upperFrequency, dampingRatio: upperDamping }),
      damping: { dampingRatio: active, sensor, delay },
    }
    const mount = springMount({ mass: mass + frame, naturalFrequency: lowerFrequency, dampingRatio: lowerDamping })
    const model = stackedIsolation({
      lower: { concept: 'passive', payload: { mass: frame }, mount },
      upper: { concept: 'activelyDamped', ...upper },
    })
    const alone = activelyDampedIsolation(upper)
    const [{ port, margins }] = loopMargins(model)
    const [{ margins: before }] = loopMargins(alone)
    const { peak, peakFrequency, isolationFrom } = isolationSummary(model)
    const grid = logFrequencies({ from: 0.05, to: 200, count: 300 })
    const loop = channel(frequencyResponse(openLoop(model.diagram, port), grid), {
      input: 'injected',
      output: 'returned',
    })
    return {
      values: [
        ['The stack is', margins.closedLoop, ''],
        ['Modulus margin on the stack', margins.modulusMargin, ''],
        ['on a rigid floor', before.modulusMargin, ''],
        ['Gain may rise by the factor', margins.gainMargin, ''],
        ['Largest transmissibility', peak, ''],
        ['at', peakFrequency, 'Hz'],
        ['Isolates from', isolationFrom, 'Hz'],
      ],
      figures: [
        plotTransmissibility({ stack: transmissibility(model, grid), 'upper alone': transmissibility(alone, grid) }),
        plotNyquist(loop),
      ],
    }
  },
})
