/** Names counted from 1, one per entry of a list. */
export function numbered(name: string, { length }: { readonly length: number }): string[] {
  return Array.from({ length }, (_, i) => `${name}${i + 1}`)
}
