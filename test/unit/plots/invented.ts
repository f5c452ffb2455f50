import type { MoveSettling, NoiseBudget } from '../../../src/assessment/index.js'
import { sweep } from '../../../src/assessment/index.js'
import type { ComplexSeries } from '../../../src/systems/index.js'
import type { BandsLiteral } from '../../../src/vibration/index.js'

// Invented results, small enough to be read.

export const list = (...values: number[]) => Float64Array.from(values)

const frequency = list(1, 10, 100)

export const velocity = (nominal: number, rms: number): BandsLiteral => ({
  quantity: 'velocity',
  bands: [{ nominal, rms }],
})

export const response = (re: number, im: number): ComplexSeries => ({
  kind: 'ComplexSeries',
  frequency,
  re: list(re, re / 10, re / 100),
  im: list(im, im / 10, im / 100),
})

export const mode = (at: number | null, ...energy: number[]) => ({
  name: 'some motion',
  frequency: at,
  dampingRatio: at === null ? null : 0.0471,
  shape: energy.map(Math.sqrt),
  energy,
})
export const modes = [mode(null, 0, 0, 0, 0, 1, 0), mode(2.517, 0.7, 0, 0, 0, 0.27, 0.03)]

export const points = (...density: number[]) => ({
  kind: 'Spectrum' as const,
  quantity: 'velocity' as const,
  frequency: Float64Array.from(density, (_, k) => 10 ** k),
  density: Float64Array.from(density),
  support: 'points' as const,
})
export const noise: NoiseBudget = {
  kind: 'NoiseBudget',
  total: points(25e-12, 4e-12, 1e-12),
  contributions: { floor: points(16e-12, 4e-12, 1e-12), lower_sensorNoise: points(9e-12, 0, 0) },
  runningRms: {
    total: list(5e-6, 3e-6, 0),
    contributions: { floor: list(4e-6, 3e-6, 0), lower_sensorNoise: list(3e-6, 0, 0) },
  },
  unknown: [],
  worseThanPassive: [],
}

export const settling: MoveSettling = {
  kind: 'MoveSettling',
  settlingTime: 1,
  settlingTimeFromStart: 2.5,
  moveTime: 1.5,
  band: 2e-6,
  padeOrder: null,
  axis: null,
  restsAt: 1e-6,
  peakDisplacement: 9e-6,
  peakStretch: 9e-6,
  peakForce: null,
  peakExpansion: null,
  peakFloorForce: 1,
  time: list(0, 1, 2, 3),
  displacement: list(0, 9e-6, -5e-6, -0.5e-6),
  stretch: list(0, 9e-6, -5e-6, -0.5e-6),
}

export const sweepOf = (masses: number) =>
  sweep({
    parameters: { mass: [1, 2].slice(0, masses), stiffness: [10, 20, 30] },
    evaluate: ({ mass, stiffness }) => ({ ratio: stiffness / mass }),
  })
