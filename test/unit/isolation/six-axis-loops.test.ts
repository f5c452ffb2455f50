import { expect, it } from 'vitest'
import { type Point, springMount, voiceCoil } from '../../../src/elements/index.js'
import {
  activelyDampedIsolation,
  loopMargins,
  simultaneousLoopMargin,
  sixAxisIsolation,
} from '../../../src/isolation/index.js'

const mount = {
  ...springMount({ mass: 250, naturalFrequency: 2, dampingRatio: 0.02 }),
  lateral: springMount({ mass: 250, naturalFrequency: 1.6, dampingRatio: 0.02 }),
}
const feet = [-0.7, 0.7].flatMap((x) => [-0.5, 0.5].map((y): Point => [x, y, -0.2]))
const [along, across, up]: Point[] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
]
const places = [
  { position: [-0.6, -0.4, -0.2], direction: up },
  { position: [0.6, -0.4, -0.2], direction: up },
  { position: [0, 0.4, -0.2], direction: up },
  { position: [0, -0.4, -0.1], direction: along },
  { position: [0, 0.4, -0.1], direction: along },
  { position: [0.6, 0, -0.1], direction: across },
] as { position: Point; direction: Point }[]
const sensor = { naturalFrequency: 0.5, dampingRatio: 0.7 }
const actuator = voiceCoil({ forceConstant: 25, resistance: 4, bandwidth: 800 })
const table = (gravity: number) =>
  sixAxisIsolation({
    payload: {
      mass: 1000,
      inertia: [90, 170, 240],
      centreOfMass: [0, 0, 0],
      supports: feet.map((position) => ({ position, mount })),
      gravity,
    },
    damping: {
      sensors: places.map((place) => ({ ...place, sensor })),
      actuators: places.map((place) => ({ ...place, actuator })),
      loops: [1, 2, 3, 4, 5, 6].map((mode) => ({ mode, dampingRatio: 0.2 })),
      delay: 5e-4,
    },
  })

it('six delayed loops that do not meet are judged; their zeros between the delays lie in a cluster at the origin', () => {
  const found = loopMargins(table(0))
  expect(found.map(({ margins }) => margins.closedLoop)).toEqual(Array(6).fill('stable'))
  // Vertical motion stands by itself: the loop of one axis, which no matrices take part in.
  const spring = springMount({ mass: 1000, naturalFrequency: 2, dampingRatio: 0.02 })
  const damping = { dampingRatio: 0.2, sensor, actuator, delay: 5e-4 }
  const [alone] = loopMargins(activelyDampedIsolation({ payload: { mass: 1000 }, mount: spring, damping }))
  const vertical = found.find(({ name }) => name === 'damping, vertical')?.margins
  expect(vertical?.modulusMargin).toBeCloseTo(alone?.margins.modulusMargin as number, 8)
  expect((vertical?.gainMargin ?? 0) / (alone?.margins.gainMargin ?? 1)).toBeCloseTo(1, 7)
})

it('tilt makes horizontal loops narrower, and the bound for all of them with them', () => {
  const [level, tilting] = [0, 9.80665].map((gravity) => {
    const model = table(gravity)
    const horizontal = loopMargins(model).filter(({ name }) => /along/.test(name))
    return {
      margin: Math.min(...horizontal.map(({ margins }) => margins.modulusMargin)),
      disk: simultaneousLoopMargin(model).diskMargin as number,
    }
  })
  expect(tilting?.margin as number).toBeLessThan(level?.margin as number)
  expect(tilting?.disk as number).toBeLessThan(level?.disk as number)
  expect(tilting?.disk as number).toBeGreaterThan(0)
})
