calculator({
  title: 'Feedforward of a moving stage',
  question:
    'What does a mismatch in gain or delay leave of the reaction of a stage, and how soon is the payload still?',
  inputs: {
    mass: { label: 'Payload mass', unit: 'kg', value: 1000, from: 10, to: 10000, scale: 'log' },
    naturalFrequency: { label: 'Natural frequency', unit: 'Hz', value: 2, from: 0.5, to: 20, scale: 'log' },
    active: { label: 'Damping ratio by feedback', value: 0.5, from: 0.05, to: 2 },
    gain: { label: 'Share of the force that is fed forward', value: 0.97, from: 0, to: 1.2 },
    delay: { label: 'Delay of the counter force', unit: 'ms', times: 1e-3, value: 0.5, from: 0, to: 20 },
    bandwidth: { label: 'Bandwidth of the motor', unit: 'Hz', value: 400, from: 10, to: 2000, scale: 'log' },
    movingMass: { label: 'Moving mass', unit: 'kg', value: 20, from: 0.1, to: 200, scale: 'log' },
    distance: { label: 'Distance', unit: 'mm', times: 1e-3, value: 50, from: 1, to: 500, scale: 'log' },
    maxAcceleration: { label: 'Largest acceleration', unit: 'm/s²', value: 5, from: 0.1, to: 50, scale: 'log' },
    maxJerk: { label: 'Largest jerk', unit: 'm/s³', value: 200, from: 10, to: 10000, scale: 'log' },
    band: { label: 'Settled within ±', unit: 'µm', times: 1e-6, value: 1, from: 0.01, to: 100, scale: 'log' },
  },
  cautions: ['Moving stages and motors can crush: guard them as local machine-safety codes demand.'],
  compute: (
    {
      feedforwardResidual,
      logFrequencies,
      magnitude,
      motionProfile,
      moveAndSettle,
      parallelActiveIsolation,
      plotSettling,
      plotTransmissibility,
      springMount,
    },
    { mass, naturalFrequency, active, gain, delay, bandwidth, movingMass, distance, maxAcceleration, maxJerk, band },
  ) => {
    const mount = springMount({ mass, naturalFrequency, dampingRatio: 0.03 })
    const feedback = { velocityGain: 2 * active * Math.sqrt(mount.stiffness * mass) }
    const path = { gain, delay, actuator: { bandwidth } }
    const profile = motionProfile({ distance, maxVelocity: 1, maxAcceleration, maxJerk })
    const options = { move: { profile, movingMass }, band, sampleTime: profile.duration / 200 }
    const matched = moveAndSettle(
      parallelActiveIsolation({ payload: { mass }, mount, feedback, feedforward: path }),
      options,
    )
    const without = moveAndSettle(parallelActiveIsolation({ payload: { mass }, mount, feedback }), options)
    const residual = feedforwardResidual(path, logFrequencies({ from: 0.1, to: 1000, count: 300 }))
    return {
      values: [
        ['Settled after the move', matched.settlingTime, 's'],
        ['without feedforward', without.settlingTime, 's'],
        ['Largest motion', matched.peakDisplacement * 1e6, 'µm'],
        ['without feedforward', without.peakDisplacement * 1e6, 'µm'],
        ['Largest force of the motor', matched.peakForce, 'N'],
        ['Left of the force at 10 Hz', 100 * magnitude(feedforwardResidual(path, [10]))[0], '%'],
      ],
      figures: [
        plotSettling({ 'fed forward': matched, 'feedback alone': without }),
        plotTransmissibility(residual, {
          title: 'What feedforward leaves',
          axisTitle: 'Share of the reaction force [-]',
        }),
      ],
    }
  },
})
