calculator({
  title: 'Six axes',
  question:
    'How do the six modes of a payload on four mounts lie, how far does it lean when a load moves, and what do its loops bear?',
  inputs: {
    mass: { label: 'Payload mass', unit: 'kg', value: 1000, from: 10, to: 20000, scale: 'log' },
    inertiaX: { label: 'Inertia about x', unit: 'kg·m²', value: 120, from: 0.1, to: 20000, scale: 'log' },
    inertiaY: { label: 'Inertia about y', unit: 'kg·m²', value: 220, from: 0.1, to: 20000, scale: 'log' },
    inertiaZ: { label: 'Inertia about z', unit: 'kg·m²', value: 300, from: 0.1, to: 20000, scale: 'log' },
    height: { label: 'Centre of mass above the mounts', unit: 'm', value: 0.15, from: -1, to: 2 },
    alongX: { label: 'Between mounts, along x', unit: 'm', value: 1.4, from: 0.1, to: 5, scale: 'log' },
    alongY: { label: 'Between mounts, along y', unit: 'm', value: 0.9, from: 0.1, to: 5, scale: 'log' },
    stiffness: {
      label: 'Stiffness of a mount, upright',
      unit: 'N/mm',
      times: 1e3,
      value: 40,
      from: 1,
      to: 5000,
      scale: 'log',
    },
    sideways: { label: 'the same sideways', unit: 'N/mm', times: 1e3, value: 25, from: 1, to: 5000, scale: 'log' },
    damping: { label: 'Damping of a mount, either way', unit: 'N·s/m', value: 150, from: 1, to: 50000, scale: 'log' },
    load: { label: 'Load that moves', unit: 'kg', value: 20, from: 0, to: 500 },
    travel: { label: 'its way along x', unit: 'm', value: 0.3, from: 0, to: 2 },
    active: { label: 'Damping ratio asked of each loop', value: 0.4, from: 0, to: 2 },
    delay: { label: 'Delay of the loops', unit: 'ms', times: 1e-3, value: 1, from: 0, to: 20 },
  },
  cautions: [
    'A payload that is tall or leans can tip: confirm its stability and its seismic restraint under local codes and licensed practice.',
    'A loop that runs away moves its payload with the whole force of its motors: limits, watchdogs and guards first, gains later.',
  ],
  compute: (
    {
      geophone,
      loopMargins,
      plotModes,
      plotNyquist,
      channel,
      frequencyResponse,
      logFrequencies,
      openLoop,
      rigidPayload,
      simultaneousLoopMargin,
      sixAxisIsolation,
      standardGravity,
    },
    {
      mass,
      inertiaX,
      inertiaY,
      inertiaZ,
      height,
      alongX,
      alongY,
      stiffness,
      sideways,
      damping,
      load,
      travel,
      active,
      delay,
    },
  ) => {
    const mount = { stiffness, damping, lateral: { stiffness: sideways, damping } }
    const corners = [-0.5, 0.5].flatMap((x) => [-0.5, 0.5].map((y) => [x * alongX, y * alongY, -height]))
    const payload = rigidPayload({
      mass,
      inertia: [inertiaX, inertiaY, inertiaZ],
      centreOfMass: [0, 0, 0],
      supports: corners.map((position) => ({ position, mount })),
    })
    const { slow, gravityStiffness, verdict, heightLimit } = payload.tipping
    const lean = (load * standardGravity * travel) / (slow.aboutY - gravityStiffness)
    const sensor = geophone({ naturalFrequency: 0.3, dampingRatio: 0.7 })
    const upright = corners.slice(0, 3).map((position) => ({ position, direction: [0, 0, 1] }))
    const model = sixAxisIsolation({
      payload,
      damping: {
        sensors: upright.map((place) => ({ ...place, sensor })),
        actuators: upright,
        loops: ['Z', 'Rx', 'Ry'].map((axis) => ({ axis, dampingRatio: active })),
        delay,
      },
    })
    const loops = loopMargins(model)
    const { diskMargin } = simultaneousLoopMargin(model)
    const grid = logFrequencies({ from: 0.05, to: 200, count: 300 })
    const response = frequencyResponse(openLoop(model.diagram, loops[0].port), grid)
    return {
      values: [
        ...payload.modes.map(({ name, frequency }) => [`Mode ${name}`, frequency, 'Hz']),
        ['The payload', verdict, ''],
        ['It would tip with its centre of mass above the mounts by', heightLimit, 'm'],
        ['The moved load makes it lean by', lean * 1e3, 'mrad'],
        ['and the mounts on that side sink by', (lean * alongX * 1e3) / 2, 'mm'],
        ...loops.map(({ name, margins }) => [`Modulus margin of ${name}`, margins.modulusMargin, '']),
        ['Disk margin of all loops at once', diskMargin, ''],
      ],
      figures: [plotModes(payload), plotNyquist(channel(response, { input: 'injected', output: 'returned' }))],
    }
  },
})
