import type { Block } from './types.js'

/** Blocks of a diagram by name. */
export type Blocks = Readonly<Record<string, Block>>

/** What drives a block input or an external output: a source, a list of sources that are summed, or `null` for zero. */
export type Wire<S extends string = string> = S | readonly S[] | null

/** `'block.input'` of every block; any string where the names of the blocks are not literal types. */
export type InputPort<B extends Blocks> = string extends keyof B
  ? string
  : { [K in keyof B & string]: `${K}.${B[K]['inputs'][number]}` }[keyof B & string]

/** `'block.output'` of every block; any string where the names of the blocks are not literal types. */
export type OutputPort<B extends Blocks> = string extends keyof B
  ? string
  : { [K in keyof B & string]: `${K}.${B[K]['outputs'][number]}` }[keyof B & string]

/** What a wire may name: a block output or an external input, with a leading `-` to subtract it. */
export type NamedSource<B extends Blocks, X extends string> = OutputPort<B> | X | `-${OutputPort<B> | X}`

/** A diagram whose names are literal types, inferred from a literal by `diagram` and `connect`.
 *
 * B: the blocks by name, X: names of the external inputs, O: names of the external outputs.
 */
export interface TypedDiagram<B extends Blocks, X extends string, O extends string> {
  readonly kind?: 'Diagram'
  readonly blocks: B
  /** Names of the external inputs, in their order in the closed system. */
  readonly inputs: readonly X[]
  /** External outputs by name, in their order in the closed system. */
  readonly outputs: { readonly [P in O]: Wire<NamedSource<NoInfer<B>, NoInfer<X>>> }
  /** What drives each `'block.input'`; every one must be there. */
  readonly wires: { readonly [P in InputPort<NoInfer<B>>]: Wire<NamedSource<NoInfer<B>, NoInfer<X>>> }
}

/** The blocks of a diagram under names that start with a prefix. */
export type PrefixedBlocks<B extends Blocks, P extends string> = {
  readonly [K in keyof B & string as `${P}${K}`]: B[K]
}

/** The type of an embedded diagram: every name carries the prefix. */
export type PrefixedDiagram<
  B extends Blocks,
  X extends string,
  O extends string,
  P extends string,
> = string extends keyof B
  ? TypedDiagram<Blocks, string, string>
  : TypedDiagram<PrefixedBlocks<B, P>, `${P}${X}`, `${P}${O}`>
