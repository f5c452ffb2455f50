calculator({
  title: 'A mount',
  question: 'How far does a mount keep a payload still, and what does it cost in deflection?',
  inputs: {
    mass: { label: 'Payload mass', unit: 'kg', value: 500, from: 1, to: 10000, scale: 'log' },
    naturalFrequency: { label: 'Natural frequency', unit: 'Hz', value: 5, from: 0.5, to: 50, scale: 'log' },
    dampingRatio: { label: 'Damping ratio', value: 0.05, from: 0.001, to: 1, scale: 'log' },
    kind: { label: 'Mount', value: 'dashpot', choices: ['dashpot', 'rubber', 'elastically supported damper'] },
    frequency: { label: 'Frequency to look at', unit: 'Hz', value: 30, from: 0.5, to: 200, scale: 'log' },
  },
  cautions: [
    'Heavy or top-heavy payloads can fall: supports, restraints and lifting as local codes and licensed practice demand.',
  ],
  compute: (
    {
      elastomerMount,
      isolationSummary,
      logFrequencies,
      magnitude,
      passiveIsolation,
      plotCompliance,
      plotTransmissibility,
      relaxationMount,
      compliance,
      springMount,
      staticDeflection,
      stiffnessFor,
      transmissibility,
    },
    { mass, naturalFrequency, dampingRatio, kind, frequency },
  ) => {
    const stiffness = stiffnessFor({ mass, naturalFrequency })
    const band = [naturalFrequency / 10, 200]
    const mounts = {
      dashpot: () => springMount({ mass, naturalFrequency, dampingRatio }),
      rubber: () => elastomerMount({ stiffness, lossFactor: 2 * dampingRatio, band }),
      'elastically supported damper': () =>
        relaxationMount({ stiffness, stiffnessRatio: 4 * dampingRatio, damping: 'optimal', mass }),
    }
    const model = passiveIsolation({ payload: { mass }, mount: mounts[kind]() })
    const { peak, peakFrequency, isolationFrom } = isolationSummary(model)
    const grid = logFrequencies({ from: 0.2, to: 200, count: 300 })
    return {
      values: [
        ['Stiffness', stiffness, 'N/m'],
        ['Static deflection of a linear spring', staticDeflection({ naturalFrequency }) * 1e3, 'mm'],
        ['Largest transmissibility', peak, ''],
        ['at', peakFrequency, 'Hz'],
        ['Isolates from', isolationFrom, 'Hz'],
        [`Transmissibility at ${frequency} Hz`, magnitude(transmissibility(model, [frequency]))[0], ''],
      ],
      figures: [plotTransmissibility(transmissibility(model, grid)), plotCompliance(compliance(model, grid))],
    }
  },
})
