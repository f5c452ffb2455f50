import { assess, controlElements, spectrum, stability } from 'restmass'
import { describe, expect, it } from 'vitest'
import { candidates } from '../../../docs/examples/demo/candidates.js'
import { bandsWhileScanning, scanningStage } from '../../../docs/examples/demo/scanning-stage.js'

const all = candidates()
const named = (name: string) => {
  const found = all.find((candidate) => candidate.name === name)
  if (found === undefined) throw new Error(`no candidate ${name}`)
  return found.model
}

describe('the candidates', () => {
  it('are seven, from the simplest to the most involved', () => {
    expect(all.map(({ name, model }) => [name, model.concept])).toEqual([
      ['rubber mounts', 'passive'],
      ['steel springs', 'passive'],
      ['air springs', 'pneumatic'],
      ['damped air springs', 'activelyDamped'],
      ['parallel active', 'parallelActive'],
      ['series active', 'seriesActive'],
      ['stack', 'stacked'],
    ])
  })

  it('are all stable', () => {
    expect(all.map(({ model }) => stability(model.closed).verdict)).toEqual(Array(7).fill('stable'))
  })

  it('are active control from the fourth on; levelling valves are not', () => {
    expect(all.map(({ model }) => controlElements(model).active)).toEqual([false, false, false, true, true, true, true])
  })
})

describe('the scanning stage', () => {
  const floor = spectrum({ quantity: 'velocity', frequency: [0.5, 120], amplitudeDensity: [1e-7, 1e-7] })
  const payloadForce = spectrum({
    quantity: 'force',
    frequency: [...scanningStage.frequency],
    amplitudeDensity: [...scanningStage.amplitudeDensity],
  })
  const atRest = (name: string) => assess(named(name), { floor, criterion: 'VC-E' })
  const level = (bands: { readonly rms: number }[]) => bands.map(({ rms }) => rms)
  const scanning = (name: string) => {
    const { bands } = atRest(name)
    if (bands === null) throw new Error(`${name} has no steady state`)
    return level([...bandsWhileScanning(named(name), bands, scanningStage).bands])
  }

  // The grid of the demonstration holds steps of 0.14 %; straight lines in log-log across them err by far less than this.
  const gridError = 1e-3

  it.each(['rubber mounts', 'steel springs', 'damped air springs'])(
    'shakes %s as any force on the payload does',
    (name) => {
      const whole = assess(named(name), { floor, payloadForce, criterion: 'VC-E' })
      const expected = level([...(whole.bands?.bands ?? [])])
      expect(expected.length).toBe(20)
      scanning(name).forEach((rms, k) => {
        expect(Math.abs(rms / expected[k] - 1)).toBeLessThan(gridError)
      })
    },
  )

  it('is mostly cancelled where its reaction is fed forward', () => {
    const whole = assess(named('parallel active'), { floor, payloadForce, criterion: 'VC-E' })
    const fedForward = scanning('parallel active')
    const untold = level([...(whole.bands?.bands ?? [])])
    fedForward.slice(0, 10).forEach((rms, k) => {
      expect(rms).toBeLessThan(untold[k] / 10)
    })
  })
})
