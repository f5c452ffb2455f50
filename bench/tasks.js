// What is compared: sizes, how often each side does it per round (three times or more where a first one finds the caches
// emptied by the other sides), the ratio wanted, and how an answer is held against the
// 50-digit one. Errors are relative: to the entry itself, to the largest entry of its row, or to the largest sample.

const logGrid = (from, to, count) => Array.from({ length: count }, (_, k) => from * (to / from) ** (k / (count - 1)))
const responseGrid = logGrid(0.1, 1000, 2000)
const chainGrid = logGrid(0.01, 3000, 2000)

const worst = (values) => values.reduce((most, value) => Math.max(most, Number.isFinite(value) ? value : Infinity), 0)
const flatten = (value) => (Array.isArray(value) ? value.flat(Infinity) : [value])

/** Worst error of complex entries, by frequency, output and input, relative to the entry or to its row. */
const responseError = (relativeTo) => (found, expected, _side, grid) =>
  worst(
    expected.value.flatMap((rows, k) =>
      rows.flatMap((row, o) => {
        const sizes = row.map(([re, im]) => Math.hypot(re, im))
        return row.map(([re, im], i) => {
          const got = found[grid.indexOf(expected.frequency[k])]?.[o]?.[i] ?? [Number.NaN, Number.NaN]
          const size = relativeTo === 'entry' ? sizes[i] : Math.max(...sizes)
          return Math.hypot(got[0] - re, got[1] - im) / size
        })
      }),
    ),
  )

const listError = (found, expected) =>
  worst(expected.map((value, k) => Math.abs(flatten(found)[k] - value) / Math.abs(value)))

const keys = ['peak', 'modulusMargin', 'rms', 'crossover']

/** A response is checked on its own grid, since on few frequencies another path may answer. */
const withGrid =
  (size) =>
  ({ frequency }) =>
    [...new Set([...size, ...frequency])].sort((a, b) => a - b)

export const tasks = [
  {
    task: 'response12',
    title: 'response, 12 states, 1 x 1, 2000 frequencies',
    size: responseGrid,
    checkSize: withGrid(responseGrid),
    repeats: { restmass: 20, scipy: 20, octave: 1 },
    wanted: { scipy: 1, octave: 40 },
    error: responseError('entry'),
    largestError: 1e-10,
  },
  {
    task: 'response60',
    title: 'response, 60 states, 6 x 6, 2000 frequencies',
    size: responseGrid,
    checkSize: withGrid(responseGrid),
    repeats: { restmass: 3, scipy: 3, octave: 1 },
    wanted: { scipy: 4 },
    error: responseError('row'),
    largestError: 1e-10,
  },
  {
    task: 'chain60',
    title: 'the same for the chain of masses over six decades',
    size: chainGrid,
    checkSize: withGrid(chainGrid),
    repeats: { restmass: 3, scipy: 3, octave: 1 },
    wanted: { scipy: 1 },
    error: responseError('row'),
    largestError: 1e-8,
  },
  {
    task: 'designPoint',
    title: 'design point: build, close, T, margins, stability, rms',
    size: { mass: 900, stiffness: 140000, damping: 160, gain: 14000, delay: 0.001 },
    repeats: { restmass: 100, scipy: 50 },
    wanted: { scipy: 20 },
    error: (found, expected) => worst(keys.map((key) => listError(flatten(found[key]), flatten(expected[key])))),
    largestError: 1e-4,
  },
  {
    task: 'simulate',
    title: 'simulation, 12 states, 300 000 steps',
    size: { count: 300_000, step: 2e-4, every: 1000 },
    repeats: { restmass: 5, scipy: 3, octave: 1 },
    wanted: { scipy: 30, octave: 30 },
    error: (found, { value }) =>
      worst(value.map((sample, k) => Math.abs(found[k] - sample))) / worst(value.map(Math.abs)),
    // The exponential of a badly scaled matrix in plain double precision is off by a hundred times as much.
    largestError: 1e-9,
  },
  {
    task: 'welch',
    title: 'Welch density, 3.6 million samples, segments of 4096',
    size: { count: 3_600_000, length: 4096, rate: 1000, lines: [1] },
    repeats: { restmass: 5, scipy: 5 },
    wanted: { scipy: 1.3 },
    error: (found, expected) => listError(found, expected.value),
    largestError: 1e-12,
  },
]
