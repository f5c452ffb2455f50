/** JSON text of a tree of plain values. Unlike `JSON.stringify` it keeps the sign of −0, and `indented` puts one field per
 * line but a list of numbers on one. */
export function jsonText(value: unknown, layout: 'compact' | 'indented'): string {
  return textOf(value, layout === 'compact' ? null : '\n')
}

/** `newline` is a line break and the indentation at hand, or null for a single line. */
function textOf(value: unknown, newline: string | null): string {
  if (typeof value === 'number') return Object.is(value, -0) ? '-0.0' : `${value}`
  if (typeof value !== 'object' || value === null) return JSON.stringify(value)
  const inner = newline === null ? null : `${newline}  `
  if (Array.isArray(value)) {
    const flat = value.every((entry) => typeof entry === 'number')
    if (flat && !value.some((entry) => Object.is(entry, -0))) return JSON.stringify(value)
    return enclosed(
      '[',
      Array.from(value, (entry) => textOf(entry, inner)),
      ']',
      flat ? null : newline,
    )
  }
  const colon = newline === null ? ':' : ': '
  const only = Object.keys(value).every((key) => key.startsWith('$'))
  const fields = Object.entries(value).map(([key, entry]) => `${JSON.stringify(key)}${colon}${textOf(entry, inner)}`)
  return enclosed('{', fields, '}', only ? null : newline)
}

function enclosed(opening: string, parts: readonly string[], closing: string, newline: string | null): string {
  if (newline === null || parts.length === 0) return `${opening}${parts.join(',')}${closing}`
  return `${opening}${newline}  ${parts.join(`,${newline}  `)}${newline}${closing}`
}
