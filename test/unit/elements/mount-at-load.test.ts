import { describe, expect, it } from 'vitest'
import { elastomerMount, mountAtLoad, relaxationMount, springMount } from '../../../src/elements/index.js'
import { passiveIsolation } from '../../../src/isolation/index.js'
import { refusal } from '../refusal.js'

const table = { load: [500, 1000, 3000], stiffness: [2e5, 3e5, 4e5], damping: [100, 200, 150] }
const lateral = { load: [0, 4000], stiffness: [1e5, 5e4] }

describe('mountAtLoad', () => {
  // Common practice, no source: straight lines between the rows, by hand.
  it.each([
    [500, 2e5, 100, 93750],
    [600, 2.2e5, 120, 92500],
    [1000, 3e5, 200, 87500],
    [2000, 3.5e5, 175, 75000],
    [3000, 4e5, 150, 62500],
  ])('at %d N has stiffness %d, damping %d and %d sideways', (load, stiffness, damping, sideways) => {
    expect(mountAtLoad({ load, table, lateral })).toEqual({
      kind: 'Mount',
      stiffness,
      damping,
      relaxations: [],
      lateral: { kind: 'Mount', stiffness: sideways, damping: 0, relaxations: [] },
    })
  })

  it('never leaves the values of the two rows around it', () => {
    for (let load = 500; load <= 3000; load += 7) {
      const { stiffness } = mountAtLoad({ load, table })
      expect(stiffness).toBeGreaterThanOrEqual(load < 1000 ? 2e5 : 3e5)
      expect(stiffness).toBeLessThanOrEqual(load < 1000 ? 3e5 : 4e5)
    }
  })

  it('stands under a payload', () => {
    const mount = mountAtLoad({ load: 980.665, table })
    expect(passiveIsolation({ payload: { mass: 100 }, mount }).kind).toBe('IsolationModel')
  })

  it.each([
    [{ load: 499 }, 'out-of-range', 'load'],
    [{ load: 3001 }, 'out-of-range', 'load'],
    [{ lateral: { load: [700, 800], stiffness: [1, 1] } }, 'out-of-range', 'load'],
    [{ table: { load: [600], stiffness: [1] } }, 'invalid-option', 'table.load'],
    [{ table: { load: [600, 500], stiffness: [1, 1] } }, 'invalid-option', 'table.load[1]'],
    [{ table: { load: [500, 700], stiffness: [1, 1, 1] } }, 'dimension-mismatch', 'table.stiffness'],
    [{ table: { load: [500, 700], stiffness: [1, Number.NaN] } }, 'not-finite', 'table.stiffness[1]'],
    [{ lateral: { ...lateral, damping: [1] } }, 'dimension-mismatch', 'lateral.damping'],
    [{ mass: 1 }, 'invalid-option', 'mass'],
  ])('refuses %o as %s at %s', (change, code, path) => {
    expect(refusal(() => mountAtLoad({ load: 600, table, ...change } as never))).toMatchObject({
      code,
      details: { path },
    })
  })
})

describe('every mount', () => {
  const sideways = mountAtLoad({ load: 600, table: lateral })
  const makers = {
    springMount: (options: object) => springMount({ stiffness: 1e5, ...options }),
    'springMount by behaviour': (options: object) =>
      springMount({ mass: 1, naturalFrequency: 1, dampingRatio: 0, ...options }),
    relaxationMount: (options: object) =>
      relaxationMount({ stiffness: 1e5, stiffnessRatio: 3, damping: 9, ...options }),
    elastomerMount: (options: object) => elastomerMount({ stiffness: 1e5, lossFactor: 0.1, band: [5, 50], ...options }),
  }

  it.each(Object.entries(makers))('made by %s takes what it is sideways, at a load or not', (_, make) => {
    expect(make({ lateral: sideways }).lateral).toMatchObject({ stiffness: 92500, damping: 0 })
    expect(make({ lateral: { stiffness: 3 } }).lateral).toEqual({ stiffness: 3, damping: 0, relaxations: [] })
    expect(make({})).not.toHaveProperty('lateral')
    expect(refusal(() => make({ lateral: { stiffness: '3' } })).details.path).toBe('lateral.stiffness')
  })
})
