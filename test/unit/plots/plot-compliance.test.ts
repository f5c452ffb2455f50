import { describe, expect, it } from 'vitest'
import { compliance, passiveIsolation, plotCompliance } from '../../../src/index.js'
import { refusal } from '../refusal.js'
import { drawn } from './drawn.js'

const model = passiveIsolation({ payload: { mass: 100 }, mount: { stiffness: 1e5, damping: 600 } })
const simple = compliance(model, [0, 0.001, 1, 5, 50])

describe('plotCompliance', () => {
  it('shows displacement per force on logarithmic axes, from the static value on', () => {
    const { layer, title } = plotCompliance(simple)
    const [{ data, encoding }] = layer
    expect([encoding.y?.axis?.title, encoding.y?.scale?.type]).toEqual(['Compliance [m/N]', 'log'])
    // 1/k, closed form
    expect(data.values[0].compliance).toBeCloseTo(1e-5, 9)
    expect(title.subtitle).toBe('1 point left out: not on a logarithmic axis')
  })

  it('draws one line per result without warning', async () => {
    const { warnings, lines, svg } = await drawn(plotCompliance({ soft: simple, 'soft again': simple }))
    expect(warnings).toEqual([])
    expect(lines).toHaveLength(2)
    expect(svg).toContain('soft again')
  })

  it('refuses what is no compliance', () => {
    expect(refusal(() => plotCompliance({} as never))).toMatchObject({ code: 'out-of-range' })
    expect(refusal(() => plotCompliance(simple, { colour: 'red' } as never))).toMatchObject({ code: 'invalid-option' })
  })
})
