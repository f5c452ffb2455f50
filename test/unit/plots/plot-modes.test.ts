import { describe, expect, it } from 'vitest'
import { rigidPayload } from '../../../src/elements/index.js'
import { plotModes } from '../../../src/plots/index.js'
import { refusal } from '../refusal.js'
import { drawn } from './drawn.js'
import { mode, modes } from './invented.js'

describe('plotModes', () => {
  const [discs, labels] = plotModes(modes).layer

  it('has a row per mode, named by frequency, damping and motion, and a column per axis', () => {
    expect(discs.encoding.y?.scale?.domain).toEqual(['falls over: some motion', '2.52 Hz, damping 0.047: some motion'])
    expect(discs.encoding.x?.scale?.domain).toEqual(['x', 'y', 'z', 'about x', 'about y', 'about z'])
    expect([discs.encoding.y?.axis?.title, discs.encoding.x?.axis?.title]).toEqual([
      'Mode',
      'Axis through the centre of mass',
    ])
  })

  it('shows the parts of the kinetic energy as areas of discs from 0 to 1, large ones in percent', () => {
    expect(discs.data.values.map(({ axis, part }) => [axis, part])).toEqual([
      ['about y', 1],
      ['x', 0.7],
      ['about y', 0.27],
      ['about z', 0.03],
    ])
    expect(discs.encoding.size?.scale?.domain).toEqual([0, 1])
    expect(labels.data.values.map(({ percent }) => percent)).toEqual(['100 %', '70 %', '27 %'])
  })

  it('names a mode without damping ratio by frequency and motion alone', () => {
    const [row] =
      plotModes([{ ...mode(2.517, 1, 0, 0, 0, 0, 0), dampingRatio: null }]).layer[0].encoding.y?.scale?.domain ?? []
    expect(row).toBe('2.52 Hz: some motion')
  })

  it('takes a payload and is drawn without warning, one disc per pure mode', async () => {
    const mount = { stiffness: 1e5, damping: 500, lateral: { stiffness: 5e4, damping: 300 } }
    const corners = [
      [-1, -1],
      [1, -1],
      [-1, 1],
      [1, 1],
    ]
    const supports = corners.map(([x, y]) => ({ position: [x, y, 0] as const, mount }))
    const payload = rigidPayload({ mass: 800, inertia: [90, 150, 200], centreOfMass: [0, 0, 0], supports })
    const figure = plotModes(payload)
    const { warnings, svg } = await drawn(figure)
    expect(warnings).toEqual([])
    expect(figure.height).toBe(300)
    expect(figure.layer[0].data.values).toHaveLength(6)
    // √(4·1e5 N/m / 800 kg)/2π, by hand
    expect(svg).toContain('>3.56 Hz, damping 0.056: vertical</text>')
  })

  it.each([
    ['nothing', undefined, {}, 'invalid-option', ''],
    ['no mode', [], {}, 'out-of-range', ''],
    ['a mode without a name', [{ ...modes[1], name: 3 }], {}, 'invalid-option', '[0].name'],
    ['an energy that is none', [mode(1, NaN, 0, 0, 0, 0, 0)], {}, 'not-finite', '[0].energy[0]'],
    ['an unknown option', modes, { scale: 2 }, 'invalid-option', 'scale'],
  ])('refuses %s', (_, given, options, code, path) => {
    const error = refusal(() => plotModes(given as never, options as never))
    expect([error.code, error.details.path, error.details.function]).toEqual([code, path, 'plotModes'])
  })
})
