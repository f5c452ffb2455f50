import { describe, expect, it } from 'vitest'
import * as p from '../../../src/plots/index.js'
import { refusal } from '../refusal.js'
import { list, mode, modes, noise, points, response, settling, sweepOf, velocity } from './invented.js'

const loop = response(3, 1)
const crossed = (gain: object[], phase: object[]) =>
  ({ kind: 'Margins', gainCrossovers: gain, phaseCrossovers: phase }) as never
const sweep = sweepOf(2)
const map = { x: 'stiffness', y: 'mass', value: 'ratio' }
const silent = { ...noise, total: points(0, 0, 0), contributions: {} }
const many = (count: number) => Object.fromEntries(Array.from({ length: count }, (_, k) => [`line ${k}`, loop]))

/** Calls that are refused for what they show. */
const refused: Readonly<Record<string, () => unknown>> = {
  'a list of results': () => p.plotTransmissibility([loop] as never),
  'a series for results': () => p.plotTransmissibility(loop.re as never),
  'a text for results': () => p.plotTransmissibility('loop' as never),
  'no results': () => p.plotTransmissibility({}),
  'more results than lines can be told apart': () => p.plotTransmissibility(many(57)),
  'a number for a result': () => p.plotTransmissibility({ a: 1 } as never),
  'a result of another kind': () => p.plotTransmissibility({ a: { kind: 'Spectrum' } } as never),
  'a part that is too short': () => p.plotCompliance({ ...loop, im: list(1) }),
  'a part that is missing': () => p.plotCompliance({ ...loop, re: undefined } as never),
  'a part that is no number': () => p.plotCompliance({ ...loop, im: list(1, Number.NaN, 1) }),
  'a part in words': () => p.plotCompliance({ ...loop, im: [1, 'two', 3] } as never),
  'nothing on a logarithmic axis': () => p.plotCompliance({ ...loop, re: list(0, 0, 0), im: list(0, 0, 0) }),
  'nothing in the plane': () => p.plotNyquist({ ...loop, re: list(1e9, 1e9, 1e9) }),
  'nothing of a loop': () => p.plotLoop({ ...loop, re: list(0, 0, Infinity), im: list(0, 0, 0) }),
  'margins in words': () => p.plotLoop(loop, { margins: 'wide' as never }),
  'margins that are null': () => p.plotLoop(loop, { margins: null as never }),
  'margins of no loop': () => p.plotLoop({ main: loop }, { margins: { other: crossed([], []) } }),
  'margins of another kind': () => p.plotLoop({ main: loop }, { margins: { main: loop } as never }),
  'a crossover that is a number': () => p.plotLoop(loop, { margins: crossed([], [1 as never]) }),
  'a crossover without its margin': () => p.plotLoop(loop, { margins: crossed([{ frequency: 1 }], []) }),
  'a crossover below 0 Hz': () => p.plotLoop(loop, { margins: crossed([], [{ frequency: -1, gainMargin: 2 }]) }),
  'a crossover whose height is beyond numbers': () =>
    p.plotLoop(loop, { margins: crossed([], [{ frequency: 1, gainMargin: 0 }]) }),
  'no payload': () => p.plotModes(null as never),
  'a payload without modes': () => p.plotModes({ modes: 3 } as never),
  'no modes': () => p.plotModes([]),
  'a mode that is none': () => p.plotModes([modes[0], undefined as never]),
  'a mode without a frequency': () => p.plotModes([{ ...mode(1, 1), frequency: undefined as never }]),
  'a mode below 0 Hz': () => p.plotModes([mode(-1, 1)]),
  'a mode of negative energy': () => p.plotModes([{ ...mode(1, 1), energy: [1, -1] }]),
  'bands of acceleration': () => p.plotBands({ floor: { ...velocity(8, 1e-6), quantity: 'acceleration' } }),
  'bands of silence': () => p.plotBands(velocity(8, 0)),
  'a criterion of another name': () => p.plotBands(velocity(8, 1e-6), { criterion: ['VC-A', 'VC-Z' as never] }),
  'no budget': () => p.plotNoiseBudget(null as never),
  'a budget of silence': () => p.plotNoiseBudget(silent),
  'a budget of negative density': () => p.plotNoiseBudget({ ...noise, total: points(1e-12, -1e-12, 1e-12) }),
  'a running rms below 0': () =>
    p.plotNoiseBudget({ ...noise, runningRms: { ...noise.runningRms, total: list(1e-6, 1e-6, -1e-6) } }),
  'a running rms that is too short': () =>
    p.plotNoiseBudget({ ...noise, runningRms: { ...noise.runningRms, total: list(5e-6) } }),
  'a source without a running rms': () =>
    p.plotNoiseBudget({ ...noise, runningRms: { total: noise.runningRms.total, contributions: {} } }),
  'no motion': () => p.plotSettling({ a: null } as never),
  'a motion of another length': () => p.plotSettling({ ...settling, displacement: list(1) }),
  'a motion without samples': () => p.plotSettling({ ...settling, time: list(), displacement: list() }),
  'a motion beyond numbers': () => p.plotSettling({ ...settling, displacement: list(0, 1e308, -1e308, 0) }),
  'no sweep': () => p.plotSweep(null as never, map),
  'a row that is none': () => p.plotSweep({ ...sweep, rows: [...sweep.rows, undefined as never] }, map),
  'a row whose result is none': () => p.plotSweep({ ...sweep, rows: [{ ...sweep.rows[0], result: 3 as never }] }, map),
  'a row with a parameter that is none': () =>
    p.plotSweep({ ...sweep, rows: [{ ...sweep.rows[0], parameters: { mass: Number.NaN, stiffness: 1 } }] }, map),
  'a parameter of another name': () => p.plotSweep(sweep, { ...map, x: 'gain' }),
  'a second parameter of another name': () => p.plotSweep(sweep, { ...map, y: 'gain' }),
  'a value of another name': () => p.plotSweep(sweep, { ...map, value: 'gain' }),
  'a value without a name': () => p.plotSweep(sweep, { ...map, value: 3 as never }),
  'a value without numbers': () => p.plotSweep({ ...sweep, rows: [{ ...sweep.rows[0], result: { ratio: 'x' } }] }, map),
  'several points in a cell': () => p.plotSweep({ ...sweep, rows: [...sweep.rows, sweep.rows[1]] }, map),
  'titles that are no texts': () => p.plotSweep(sweep, { ...map, titles: { mass: 3 as never } }),
}

describe('what no figure shows', () => {
  it.each(Object.entries(p))('%s has to be called with something, and says so by its own name', (name, call) => {
    expect(refusal(call as () => unknown).details.function).toBe(name)
  })

  it('is refused in words', async () => {
    const said = Object.entries(refused).map(([name, call]) => {
      const { code, message } = refusal(call)
      return `${name}\n  ${code} ${message}`
    })
    await expect(`${said.join('\n')}\n`).toMatchFileSnapshot('options/refused-in-words.txt')
  })

  it('is not the fault of what can be shown', () => {
    expect(p.plotTransmissibility(many(56)).layer[1].data.values).toHaveLength(3 * 56)
    expect(p.plotModes([{ ...mode(1, 1), dampingRatio: null }]).layer[0].data.values).toHaveLength(1)
    const open = { ...sweep, rows: [{ ...sweep.rows[0], result: null }, sweep.rows[1]] }
    expect(p.plotSweep(open, map).title.subtitle).toBe('1 point without a number')
  })
})
