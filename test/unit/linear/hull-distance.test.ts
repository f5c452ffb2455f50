import { describe, expect, it } from 'vitest'
import { randomNumbers } from '../../../src/internal/random-numbers.js'
import { hullDistance } from '../../../src/linear/hull-distance.js'

type Point = readonly [number, number]
const distanceOf = (points: readonly Point[]) =>
  hullDistance(
    points.map(([x]) => x),
    points.map(([, y]) => y),
  )
/** The search for the best direction ends at 1e-9 of an angle, whose cosine is off by the square of that. */
const search = 1e-9

describe('hullDistance', () => {
  // By hand
  it.each<[string, Point[], number]>([
    ['one point', [[3, 4]], 5],
    ['two points with the foot between them', [[1, -1], [1, 1]], 1],
    ['two points with the foot beyond one of them', [[1, 1], [1, 3]], Math.SQRT2],
    ['two points seen under nearly half a turn', [[0.1, 1000], [0.1, -1000]], 0.1],
    ['a triangle behind its edge, in any order', [[-5, 3], [-1, -2], [-1, 2]], 1],
    ['a square seen by its corner', [[1, 1], [2, 2], [2, 1], [1, 2]], Math.SQRT2],
  ])('of %s', (_, points, expected) => {
    for (const list of [points, [...points].reverse()]) {
      expect(Math.abs(distanceOf(list) / expected - 1)).toBeLessThan(search)
    }
  }) // biome-ignore format: points

  it('is not above 0 where the origin is inside, on an edge, or on a point', () => {
    expect(distanceOf([[1, 1], [-1, 1], [0, -1]])).toBeLessThanOrEqual(0) // biome-ignore format: points
    expect(distanceOf([[-1, 0], [1, 0], [0, 1]])).toBeLessThanOrEqual(search) // biome-ignore format: points
    expect(distanceOf([[0, 0], [1, 1]])).toBeLessThanOrEqual(search) // biome-ignore format: points
  })

  it('is that of the nearest of all segments between two points, wherever they lie', () => {
    // Every edge of the hull is one of them, and all of them lie inside.
    const random = randomNumbers(7)
    const toSegment = ([ax, ay]: Point, [bx, by]: Point) => {
      const square = (bx - ax) ** 2 + (by - ay) ** 2
      const share = square === 0 ? 0 : Math.min(1, Math.max(0, -(ax * (bx - ax) + ay * (by - ay)) / square))
      return Math.hypot(ax + share * (bx - ax), ay + share * (by - ay))
    }
    for (let trial = 0; trial < 200; trial++) {
      const [turn, away] = [2 * Math.PI * random(), 1.2 + random()]
      const points = Array.from({ length: 2 + Math.floor(7 * random()) }, (): Point => {
        const [angle, radius] = [2 * Math.PI * random(), random()]
        return [away * Math.cos(turn) + radius * Math.cos(angle), away * Math.sin(turn) + radius * Math.sin(angle)]
      })
      const nearest = Math.min(...points.flatMap((a) => points.map((b) => toSegment(a, b))))
      expect(Math.abs(distanceOf(points) / nearest - 1)).toBeLessThan(search)
    }
  })
})
