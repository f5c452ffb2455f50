// An invented floor: vertical velocity [m/s] of a laboratory floor, made by a seeded generator.

/** Which floor is invented. */
export const inventedFloor = {
  seed: 20,
  sampleRate: 200,
  duration: 300,
  sway: { frequency: 1.45, quality: 12, rms: 3.2e-6 },
  ambient: [
    { frequency: 0.5, quality: 0.8, rms: 0.5e-6 },
    { frequency: 3, quality: 0.8, rms: 0.9e-6 },
    { frequency: 9, quality: 0.9, rms: 7e-6 },
    { frequency: 18, quality: 0.8, rms: 3e-6 },
    { frequency: 45, quality: 0.8, rms: 2e-6 },
  ],
  vehicle: { at: 140, halfLength: 5, frequency: 11, quality: 2.5, rms: 40e-6 },
  machine: { frequency: 24.7, rms: 6e-6, swing: 0.2, swingPeriod: 17 },
}

/** Samples of the floor, the same for the same parameters. */
export function floorRecord(parameters) {
  const { seed, sampleRate, duration, sway, ambient, vehicle, machine } = parameters
  const random = gaussian(seed)
  const count = Math.round(sampleRate * duration)
  const samples = new Float64Array(count)
  for (const part of [sway, ...ambient]) add(samples, bandNoise(random, count, sampleRate, part))
  const passing = bandNoise(random, count, sampleRate, vehicle)
  const phase = 2 * Math.PI * uniform(seed + 1)()
  for (let n = 0; n < count; n++) {
    const time = n / sampleRate
    const envelope = Math.exp(-0.5 * ((time - vehicle.at) / vehicle.halfLength) ** 2)
    const swing = 1 + machine.swing * Math.sin((2 * Math.PI * time) / machine.swingPeriod)
    const line = Math.SQRT2 * machine.rms * swing * Math.sin(2 * Math.PI * machine.frequency * time + phase)
    samples[n] += envelope * passing[n] + line
  }
  return samples
}

/** Gaussian noise through a second-order band-pass, scaled to its rms. */
function bandNoise(random, count, sampleRate, { frequency, quality, rms }) {
  const omega = (2 * Math.PI * frequency) / sampleRate
  const width = Math.sin(omega) / (2 * quality)
  const a1 = (-2 * Math.cos(omega)) / (1 + width)
  const a2 = (1 - width) / (1 + width)
  const values = new Float64Array(count)
  let [x1, x2, y1, y2, squares] = [0, 0, 0, 0, 0]
  // One record's length of run-in is more than any of these filters remembers.
  for (let n = -count; n < count; n++) {
    const x = random()
    const y = x - x2 - a1 * y1 - a2 * y2
    ;[x1, x2, y1, y2] = [x, x1, y, y1]
    if (n < 0) continue
    values[n] = y
    squares += y * y
  }
  const scale = rms / Math.sqrt(squares / count)
  return values.map((value) => scale * value)
}

function add(target, values) {
  for (let n = 0; n < target.length; n++) target[n] += values[n]
}

/** Standard normal numbers by the polar method. */
function gaussian(seed) {
  const random = uniform(seed)
  return () => {
    for (;;) {
      const x = 2 * random() - 1
      const y = 2 * random() - 1
      const square = x * x + y * y
      if (square > 0 && square < 1) return x * Math.sqrt((-2 * Math.log(square)) / square)
    }
  }
}

/** Numbers in [0, 1) from a 32-bit xorshift, whose seed must not be 0. */
function uniform(seed) {
  let state = Math.imul(seed + 1, 0x9e3779b1) | 1
  return () => {
    state ^= state << 13
    state ^= state >>> 17
    state ^= state << 5
    return (state >>> 0) / 2 ** 32
  }
}
