calculator({
  title: 'An air spring',
  question: 'How stiff is an air spring under its load, what does a damping chamber do, and how fast may its valve be?',
  inputs: {
    load: { label: 'Load on one spring', unit: 'N', value: 2450, from: 100, to: 50000, scale: 'log' },
    area: { label: 'Effective area', unit: 'cm²', times: 1e-4, value: 80, from: 5, to: 1000, scale: 'log' },
    volume: { label: 'Spring chamber', unit: 'l', times: 1e-3, value: 1.5, from: 0.1, to: 50, scale: 'log' },
    damper: { label: 'Damping chamber', value: 'best restriction', choices: ['best restriction', 'none'] },
    chamber: {
      label: 'Volume of the damping chamber',
      unit: 'l',
      times: 1e-3,
      value: 3,
      from: 0.1,
      to: 100,
      scale: 'log',
    },
    diaphragmStiffness: { label: 'Stiffness of the diaphragm', unit: 'N/m', value: 1500, from: 0, to: 20000 },
    flowGain: { label: 'Levelling valve', unit: 'l/s per mm', value: 0.005, from: 0.0002, to: 1, scale: 'log' },
  },
  cautions: [
    'Air springs are pressure vessels and a floated payload can fall: rated parts, relief valves and mechanical stops as local codes ' +
      'demand, a licensed engineer where they say so, and nobody beneath a load that only air carries.',
  ],
  compute: (
    {
      airSpring,
      isolationSummary,
      logFrequencies,
      loopMargins,
      plotTransmissibility,
      pneumaticIsolation,
      standardGravity,
      transmissibility,
    },
    { load, area, volume, damper, chamber, diaphragmStiffness, flowGain },
  ) => {
    const dampingChamber = { volume: chamber, flowResistance: 'optimal' }
    const mount = airSpring({
      load,
      area,
      volume,
      diaphragmStiffness,
      ...(damper === 'none' ? {} : { dampingChamber }),
    })
    // 1 l/s per mm is 1 m³/s per m.
    const levelling = { flowGain }
    const payload = { mass: load / standardGravity }
    const model = pneumaticIsolation({ payload, mount, levelling })
    const { peak, peakFrequency, isolationFrom } = isolationSummary(model)
    const [{ margins }] = loopMargins(model)
    const grid = logFrequencies({ from: 0.05, to: 50, count: 300 })
    const still = pneumaticIsolation({ payload, mount })
    return {
      values: [
        ['Pressure above ambient', mount.gaugePressure / 1e5, 'bar'],
        ['Natural frequency', mount.naturalFrequency, 'Hz'],
        ['Stiffness in vibration', mount.stiffness, 'N/m'],
        ['Stiffness at rest', mount.staticStiffness, 'N/m'],
        ['Levelling loop', margins.closedLoop, ''],
        ['its modulus margin', margins.modulusMargin, ''],
        ['its gain margin', margins.gainMargin, ''],
        ['Largest transmissibility', peak, ''],
        ['at', peakFrequency, 'Hz'],
        ['Isolates from', isolationFrom, 'Hz'],
      ],
      figures: [
        plotTransmissibility({
          'with its valve': transmissibility(model, grid),
          'valve shut': transmissibility(still, grid),
        }),
      ],
    }
  },
})
