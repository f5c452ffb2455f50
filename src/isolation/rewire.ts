import type { Source, Wire } from '../systems/diagram.js'
import { negative, sourcesOf, unsigned } from '../systems/wire-sources.js'

/** A wire in which external inputs are replaced by what drives them. */
export function substitute(wire: Wire, sources: Readonly<Record<string, readonly Source[]>>): Wire {
  return sourcesOf(wire).flatMap((source) => {
    const name = unsigned(source)
    const replacement = Object.hasOwn(sources, name) ? sources[name] : [name]
    return name === source ? replacement : replacement.map(negative)
  })
}

export function mapped(wires: Readonly<Record<string, Wire>>, change: (wire: Wire) => Wire): Record<string, Wire> {
  return Object.fromEntries(Object.entries(wires).map(([name, wire]) => [name, change(wire)]))
}
