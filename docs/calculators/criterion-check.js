calculator({
  title: 'A record against a criterion',
  question: 'Does a floor record meet a vibration criterion, and in which band is it worst? Nothing leaves this page.',
  inputs: {
    text: { label: 'Record, comma-separated', file: true, value: invented() },
    column: { label: 'Column', value: 1, from: 1, to: 12 },
    rate: { label: 'Sample rate', unit: 'Hz', value: 200, from: 30, to: 5000, scale: 'log' },
    quantity: { label: 'Quantity', value: 'velocity', choices: ['velocity', 'acceleration'] },
    scale: { label: 'One unit of the record', unit: 'm/s or m/s²', value: 1, from: 1e-9, to: 1, scale: 'log' },
    segment: { label: 'Length of a segment', unit: 's', value: 10, from: 2, to: 60, scale: 'log' },
    name: {
      label: 'Criterion',
      value: 'VC-C',
      choices: ['VC-A', 'VC-B', 'VC-C', 'VC-D', 'VC-E', 'VC-F', 'VC-G', 'NIST-A', 'workshop', 'office'],
    },
  },
  cautions: ['A record is one place on one day. What its sensor and the site could not show, no criterion shows.'],
  compute: (
    { bestCriterion, compareToCriterion, convertSpectrum, oneThirdOctaveBands, plotBands, welch },
    { text, column, rate, quantity, scale, segment, name },
  ) => {
    const lines = text.split(/\r?\n/).filter((line) => line.trim() !== '' && !line.startsWith('#'))
    const named = lines[0].split(',').some((cell) => Number.isNaN(Number(cell)))
    const cells = lines.slice(named ? 1 : 0).map((line) => line.split(',')[column - 1])
    const samples = cells.map((cell) => (cell === undefined || cell.trim() === '' ? Number.NaN : scale * Number(cell)))
    const segmentLength = Math.min(samples.length, Math.round(segment * rate))
    const spectrum = welch({ samples, sampleRate: rate, quantity, segmentLength, detrend: 'linear' })
    const bands = oneThirdOctaveBands(convertSpectrum(spectrum, { to: 'velocity' }), {
      from: 1,
      to: Math.min(80, 0.4 * rate),
    })
    const { verdict, worst, missing } = compareToCriterion(bands, name)
    return {
      values: [
        ['Samples', samples.length, ''],
        ['Averages', spectrum.averages, ''],
        [`Against ${name}`, verdict, ''],
        ['Worst band', worst.nominal, 'Hz'],
        ['Level there', worst.rms * 1e6, 'µm/s'],
        ['times the limit', worst.ratio, ''],
        ['Bands it could not judge', missing.join(', ') || null, 'Hz'],
        ['Best criterion met', bestCriterion(bands), ''],
      ],
      figures: [plotBands(bands, { criterion: name })],
    }
  },
})

/** A minute of an invented floor [m/s] at 200 Hz, the same every time. */
function invented() {
  let state = 1
  const random = () => {
    state = (state * 48271) % 2147483647
    return state / 2147483647 - 0.5
  }
  let slow = 0
  const samples = Array.from({ length: 12000 }, (_, n) => {
    slow = 0.95 * slow + random()
    return (1e-6 * (slow + 8 * Math.sin(2 * Math.PI * 24.5 * (n / 200)))).toExponential(5)
  })
  return `velocity\n${samples.join('\n')}\n`
}
