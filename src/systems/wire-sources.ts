import type { Source, Wire } from './diagram.js'

/** The sources of a wire as a list; none for one that is held at zero. */
export function sourcesOf(wire: Wire | undefined): readonly Source[] {
  if (wire === null || wire === undefined) return []
  return typeof wire === 'string' ? [wire] : wire
}

/** A source without its sign. */
export function unsigned(source: Source): Source {
  return source.startsWith('-') ? source.slice(1) : source
}

/** A source without a sign with its sign turned. */
export function negative(source: Source): Source {
  return `-${source}`
}
