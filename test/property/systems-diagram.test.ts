import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  connect,
  type Diagram,
  delay,
  embed,
  frequencyResponse,
  gain,
  lowPass,
  openLoop,
  parallel,
  type StateSpace,
  series,
  stateSpace,
  transferFunction,
} from '../../src/systems/index.js'

interface Complex {
  readonly re: number
  readonly im: number
}

const at = (system: StateSpace, frequency: number, input = 0, output = 0): Complex => {
  const options = { inputs: [system.inputs[input]], outputs: [system.outputs[output]] }
  const { re, im } = frequencyResponse(system, [frequency], options)
  return { re: re[0], im: im[0] }
}
const times = (a: Complex, b: Complex): Complex => ({ re: a.re * b.re - a.im * b.im, im: a.re * b.im + a.im * b.re })
const plus = (a: Complex, b: Complex): Complex => ({ re: a.re + b.re, im: a.im + b.im })
const size = ({ re, im }: Complex) => Math.hypot(re, im)
/** Distance over the size of what was added or multiplied: the scale on which rounding acts. */
const distance = (a: Complex, b: Complex, scale: number) => size({ re: a.re - b.re, im: a.im - b.im }) / scale

// Each response is good to some 1e-13 of its scale; ten of them in a row stay below 1e-11.
const accuracy = 1e-11

// Steps of 1/1000, zero among them: products of subnormal numbers have no relative accuracy to test.
const number = fc.integer({ min: -4000, max: 4000 }).map((thousandths) => thousandths / 1000)
const frequency = fc.double({ min: 0.01, max: 10, noNaN: true })
const numbers = (count: number) => fc.array(number, { minLength: count, maxLength: count })

/** Stable systems with one input and one output: a real pole, feedthrough, sometimes a delay. */
const block: fc.Arbitrary<StateSpace> = fc
  .tuple(
    fc.double({ min: 0.1, max: 10, noNaN: true }),
    numbers(3),
    fc.double({ min: 0, max: 1, noNaN: true }),
    fc.boolean(),
  )
  .map(([pole, [b, c, d], seconds, delayed]) => {
    const system = stateSpace({ A: [[-pole]], B: [[b]], C: [[c]], D: [[d]] })
    return delayed ? series(system, delay({ seconds })) : system
  })

/** Any number of blocks behind each other, side by side and fed back, with small loop gains so that they are well posed. */
const network: fc.Arbitrary<Diagram & { blocks: Record<string, StateSpace> }> = fc
  .tuple(
    fc.array(block, { minLength: 1, maxLength: 6 }),
    fc.infiniteStream(fc.double({ min: -1, max: 1, noNaN: true })),
  )
  .map(([systems, stream]) => {
    const blocks: Record<string, StateSpace> = {}
    const wires: Record<string, string[]> = {}
    systems.forEach((system, i) => {
      blocks[`b${i}`] = system
      wires[`b${i}.u1`] = ['r']
      systems.forEach((_, j) => {
        blocks[`g${i}x${j}`] = gain((stream.next().value as number) / 200)
        wires[`g${i}x${j}.u1`] = [`b${j}.y1`]
        wires[`b${i}.u1`].push(`${(i + j) % 2 === 0 ? '' : '-'}g${i}x${j}.y1`)
      })
    })
    return {
      blocks,
      inputs: ['r'],
      outputs: {
        y: Object.keys(wires)
          .slice(0, 1)
          .map(() => 'b0.y1'),
      },
      wires,
    }
  })

describe('systems in a row', () => {
  it('multiply their responses', () => {
    fc.assert(
      fc.property(block, block, frequency, (a, b, f) => {
        const [ga, gb] = [at(a, f), at(b, f)]
        expect(distance(at(series(a, b), f), times(ga, gb), 20 * (1 + size(ga)) * (1 + size(gb)))).toBeLessThan(
          accuracy,
        )
      }),
    )
  })

  it('side by side add their responses', () => {
    fc.assert(
      fc.property(block, block, frequency, (a, b, f) => {
        const [ga, gb] = [at(a, f), at(b, f)]
        expect(distance(at(parallel(a, b), f), plus(ga, gb), 1 + size(ga) + size(gb))).toBeLessThan(accuracy)
      }),
    )
  })

  it('do not care how they are grouped', () => {
    fc.assert(
      fc.property(block, block, block, frequency, (a, b, c, f) => {
        const scale = [a, b, c].map((system) => 20 * (1 + size(at(system, f)))).reduce((x, y) => x * y)
        expect(distance(at(series(series(a, b), c), f), at(series(a, series(b, c)), f), scale)).toBeLessThan(accuracy)
      }),
    )
  })
})

describe('feedback around a block', () => {
  it('is G/(1 + L) with the L that openLoop finds', () => {
    fc.assert(
      fc.property(block, block, frequency, (G, H, f) => {
        // Loop gains below one in size: the loop is well posed and 1 + L does not vanish.
        const weak = gain(0.5 / ((1 + worst(G)) * (1 + worst(H))))
        const drawing: Diagram = {
          blocks: { G, H, weak },
          inputs: ['r'],
          outputs: { y: 'G.y1' },
          wires: { 'G.u1': ['r', '-weak.y1'], 'weak.u1': 'H.y1', 'H.u1': 'G.y1' },
        }
        const closed = at(connect(drawing), f)
        const L = at(openLoop(drawing, 'G.y1'), f)
        // G/(1 + L) · (1 + L) = G
        expect(distance(times(closed, plus({ re: 1, im: 0 }, L)), at(G, f), 1 + worst(G))).toBeLessThan(accuracy)
      }),
    )
  })
})

describe('any network', () => {
  it('closes to the same system whatever the order of its blocks and wires', () => {
    fc.assert(
      fc.property(network, frequency, (drawing, f) => {
        const reversed = <V>(record: Readonly<Record<string, V>>) =>
          Object.fromEntries(Object.entries(record).reverse())
        const other = { ...drawing, blocks: reversed(drawing.blocks), wires: reversed(drawing.wires) }
        const here = at(connect(drawing), f)
        expect(distance(at(connect(other), f), here, 1 + worst(drawing.blocks.b0))).toBeLessThan(accuracy)
      }),
    )
  })

  it('responds as its signals add up, frequency by frequency', () => {
    fc.assert(
      fc.property(network, frequency, (drawing, f) => {
        const names = Object.keys(drawing.blocks).filter((name) => name.startsWith('b'))
        const all = connect({ ...drawing, outputs: Object.fromEntries(names.map((name) => [name, `${name}.y1`])) })
        const y = names.map((_, i) => at(all, f, 0, i))
        names.forEach((name, i) => {
          // y_i = G_i · (r + Σ ± g_ij y_j) with r = 1
          let u: Complex = { re: 1, im: 0 }
          names.forEach((_, j) => {
            const factor = drawing.blocks[`g${i}x${j}`].D[0][0] * ((i + j) % 2 === 0 ? 1 : -1)
            u = plus(u, { re: factor * y[j].re, im: factor * y[j].im })
          })
          const scale = 1 + Math.max(...names.map((other) => worst(drawing.blocks[other])))
          expect(distance(times(at(drawing.blocks[name], f), u), y[i], scale)).toBeLessThan(accuracy)
        })
      }),
    )
  })

  it('is the same under other names', () => {
    fc.assert(
      fc.property(network, fc.stringMatching(/^[A-Za-z][A-Za-z0-9_]{0,8}$/), (drawing, prefix) => {
        const { A, B, C, D, delays } = connect(drawing)
        expect(connect(embed(drawing, { prefix }))).toMatchObject({ A, B, C, D, delays })
      }),
    )
  })

  it('does not change when it is closed piece by piece', () => {
    fc.assert(
      fc.property(block, block, block, frequency, (a, b, c, f) => {
        const inner: Diagram = {
          blocks: { a, b },
          inputs: ['r'],
          outputs: { y: ['a.y1', '-b.y1'] },
          wires: { 'a.u1': 'r', 'b.u1': 'a.y1' },
        }
        const outer = connect({
          blocks: { inner: connect(inner), c },
          inputs: ['r'],
          outputs: { y: 'c.y1' },
          wires: { 'inner.r': 'r', 'c.u1': 'inner.y' },
        } as Diagram)
        const whole = connect({
          blocks: { ...inner.blocks, c },
          inputs: ['r'],
          outputs: { y: 'c.y1' },
          wires: { ...inner.wires, 'c.u1': ['a.y1', '-b.y1'] },
        } as Diagram)
        const scale = [a, b, c].map((system) => 1 + worst(system)).reduce((x, y) => x * y)
        expect(distance(at(outer, f), at(whole, f), scale)).toBeLessThan(accuracy)
      }),
    )
  })
})

describe('a transfer function', () => {
  it('has the response of its polynomials', () => {
    const real = fc.double({ min: 0.1, max: 3, noNaN: true })
    fc.assert(
      fc.property(fc.array(real, { minLength: 1, maxLength: 4 }), numbers(3), frequency, (roots, numerator, f) => {
        let denominator = [1]
        for (const root of roots) {
          denominator = [...denominator, 0].map((entry, k) => entry + root * (denominator[k - 1] ?? 0))
        }
        const degree = Math.min(3, roots.length + 1)
        const b = numerator.slice(0, degree)
        const s = { re: 0, im: 2 * Math.PI * f }
        const value = (coefficients: number[]) =>
          coefficients.reduce<Complex>((sum, entry) => plus(times(sum, s), { re: entry, im: 0 }), { re: 0, im: 0 })
        const size_b = b.reduce((sum, entry) => sum * size(s) + Math.abs(entry), 0)
        const G = at(transferFunction({ numerator: b, denominator }), f)
        // G · a(s) = b(s), on the scale of the terms of b and of the feedthrough times those of a
        const scale = size_b + Math.abs(b[0]) * denominator.reduce((sum, entry) => sum * size(s) + Math.abs(entry), 0)
        if (scale > 0) expect(distance(times(G, value(denominator)), value(b), scale)).toBeLessThan(accuracy)
      }),
    )
  })
})

describe('a filter', () => {
  it('depends on frequency over corner only', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 12 }), fc.integer({ min: -30, max: 30 }), frequency, (order, power, f) => {
        const unit = 2 ** power
        const a = at(lowPass({ cutoff: 1, order }), f)
        const b = at(lowPass({ cutoff: unit, order }), f * unit)
        expect(distance(a, b, 1)).toBeLessThan(accuracy)
      }),
    )
  })
})

/** A bound of the response over all frequencies: |d| + |c b|/pole. */
function worst({ A, B, C, D, delays }: StateSpace): number {
  const direct = Math.abs(delays === null ? D[0][0] : 4)
  return direct + 16 / Math.abs(A[0][0]) + Math.abs(B[0][0] * (C[0][0] ?? 0))
}
