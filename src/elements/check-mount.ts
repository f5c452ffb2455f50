import {
  checkList,
  checkNumber,
  checkOneOf,
  checkOptional,
  checkOptions,
  fail,
  type Scope,
  show,
  within,
} from '../internal/check.js'
import type { AirSpring, CanonicalMount, CoilSurge, Mount, MountRecord, Relaxation } from './types.js'

type MountKind = 'Mount' | 'ElastomerMount' | 'AirSpring'

/** Checks anything given as a mount, record or literal, and returns its canonical part with every default filled in.
 * Negative stiffness and damping pass: whether the assembly stands is another question. Coil surge passes only where the
 * caller knows what to do with it. */
export function checkMount(
  scope: Scope,
  mount: unknown,
  surge: 'surge-refused' | 'surge-kept' = 'surge-refused',
): CanonicalMount {
  const kind = kindOf(scope, mount)
  const given = checkOptions(scope, mount as Mount, keysOf(kind))
  const stiffness = checkNumber(scope, 'stiffness', given.stiffness, { unit: 'N/m' })
  const damping = checkOptional(scope, 'damping', given.damping, { unit: 'N·s/m' }, 0)
  const relaxations = given.relaxations === undefined ? [] : checkRelaxations(scope, given.relaxations)
  if (given.surge !== undefined && surge === 'surge-refused') {
    fail('unsupported', within(scope, 'surge'), 'is not taken here; leave the mass of the coils out')
  }
  return {
    stiffness,
    damping,
    relaxations,
    ...(given.surge === undefined ? {} : { surge: checkSurges(scope, given.surge) }),
    ...checkLateral(scope, given.lateral),
  }
}

/** The `lateral` of a mount, checked, where it is given. */
export function checkLateral(scope: Scope, lateral: unknown): { lateral?: CanonicalMount } {
  return lateral === undefined ? {} : { lateral: checkMount(within(scope, 'lateral'), lateral) }
}

/** Checks that a mount is an air spring with the data that levelling and load sharing need. */
export function checkAirSpring(scope: Scope, mount: unknown): AirSpring {
  const canonical = checkMount(scope, mount)
  const given = mount as AirSpring
  if (given.kind !== 'AirSpring') fail('invalid-option', scope, `must be an air spring, got ${show(given.kind)}`)
  for (const [key, unit] of [
    ['area', 'm²'],
    ['volume', 'm³'],
    ['gaugePressure', 'Pa'],
    ['absolutePressure', 'Pa'],
    ['load', 'N'],
  ] as const) {
    checkNumber(scope, key, given[key], { unit, above: 0 })
  }
  checkNumber(scope, 'ambientPressure', given.ambientPressure, { unit: 'Pa', atLeast: 0 })
  checkNumber(scope, 'polytropicExponent', given.polytropicExponent, { atLeast: 1 })
  checkNumber(scope, 'areaGradient', given.areaGradient, { unit: 'm²/m' })
  checkNumber(scope, 'diaphragmStiffness', given.diaphragmStiffness, { unit: 'N/m' })
  if (given.dampingChamber !== null) {
    const chamber = within(scope, 'dampingChamber')
    checkOptions(chamber, given.dampingChamber, ['volume', 'flowResistance'])
    checkNumber(chamber, 'volume', given.dampingChamber.volume, { unit: 'm³', above: 0 })
    checkNumber(chamber, 'flowResistance', given.dampingChamber.flowResistance, { unit: 'Pa·s/m³', above: 0 })
  }
  if (given.heatExchange !== null) {
    const heat = within(scope, 'heatExchange')
    checkNumber(heat, 'time', checkOptions(heat, given.heatExchange, ['time']).time, { unit: 's', above: 0 })
  }
  const at = within(scope, 'gas')
  const gas = checkOptions(at, given.gas, ['stiffness', 'relaxations'])
  const stiffness = checkNumber(at, 'stiffness', gas.stiffness, { unit: 'N/m', above: 0 })
  return {
    ...given,
    ...canonical,
    kind: 'AirSpring',
    gas: { stiffness, relaxations: checkRelaxations(at, gas.relaxations) },
  }
}

/** The record of a mount made from checked options; refuses values beyond the range of numbers. */
export function mountRecord(scope: Scope, parts: Omit<CanonicalMount, 'kind'>): MountRecord {
  const values = [
    parts.stiffness,
    parts.damping,
    ...parts.relaxations.flatMap(({ stiffness, time }) => [stiffness, time]),
  ]
  if (!values.every(Number.isFinite) || parts.relaxations.some(({ time }) => time === 0)) {
    fail('out-of-range', scope, 'gives a mount whose values are beyond the range of numbers')
  }
  const { stiffness, damping, relaxations, surge, lateral } = parts
  return {
    kind: 'Mount',
    stiffness,
    damping,
    relaxations,
    ...(surge === undefined ? {} : { surge }),
    ...(lateral === undefined ? {} : { lateral }),
  }
}

/** Kind of a record that counts as a mount; a literal without kind is a 'Mount'. */
function kindOf(scope: Scope, mount: unknown): MountKind {
  if (typeof mount !== 'object' || mount === null) {
    fail('invalid-option', scope, `must be a mount, an object with a stiffness, got ${show(mount)}`)
  }
  const { kind } = mount as Mount
  return kind === undefined ? 'Mount' : checkOneOf(scope, 'kind', kind, ['Mount', 'ElastomerMount', 'AirSpring'])
}

function keysOf(kind: MountKind): readonly string[] {
  const plain = ['kind', 'stiffness', 'damping', 'relaxations', 'lateral']
  if (kind === 'Mount') return [...plain, 'surge']
  if (kind === 'ElastomerMount') return [...plain, 'lossFactor', 'band', 'staticRatio', 'fit']
  const pressures = ['gaugePressure', 'ambientPressure', 'absolutePressure', 'ratedGaugePressure']
  const chambers = ['area', 'volume', 'load', 'polytropicExponent', 'dampingChamber', 'gas', 'heatExchange']
  const beside = ['areaGradient', 'diaphragmStiffness']
  return [...plain, ...pressures, ...chambers, ...beside, 'staticStiffness', 'naturalFrequency', 'cautions']
}

/** Modes of all coils of a mount together, each with two states. */
const mostModes = 200

function checkSurges(scope: Scope, list: readonly CoilSurge[]): CoilSurge[] {
  const at = within(scope, 'surge')
  const checked = checkList(scope, 'surge', list).map((entry, i) => {
    const one = within(at, i)
    checkOptions(one, entry, ['mass', 'naturalFrequency', 'dampingRatio', 'modes'])
    return {
      mass: checkNumber(one, 'mass', entry.mass, { unit: 'kg', above: 0 }),
      naturalFrequency: checkNumber(one, 'naturalFrequency', entry.naturalFrequency, { unit: 'Hz', above: 0 }),
      dampingRatio: checkNumber(one, 'dampingRatio', entry.dampingRatio, { atLeast: 0 }),
      modes: checkNumber(one, 'modes', entry.modes, { integer: true, atLeast: 1, atMost: 20 }),
    }
  })
  const total = checked.reduce((sum, { modes }) => sum + modes, 0)
  if (total > mostModes) {
    fail('out-of-range', at, `may have ${mostModes} modes in all, got ${total}`, { value: total })
  }
  return checked
}

/** Checks a list of relaxing branches and returns a copy. */
function checkRelaxations(scope: Scope, list: readonly Relaxation[]): Relaxation[] {
  const at = within(scope, 'relaxations')
  return checkList(scope, 'relaxations', list, 0, 1000).map((entry, i) => {
    const branch = within(at, i)
    checkOptions(branch, entry, ['stiffness', 'time'])
    return {
      stiffness: checkNumber(branch, 'stiffness', entry.stiffness, { unit: 'N/m' }),
      time: checkNumber(branch, 'time', entry.time, { unit: 's', above: 0 }),
    }
  })
}
