/** Which calls a process makes: every `step`-th from `first` on. */
export interface Share {
  readonly seed: number
  readonly first: number
  readonly step: number
  readonly end: number
  /** File that says which call is under way, for whoever watches for calls that do not return. */
  readonly progress: string
  /** Fault that ended the process before this one, to be told again with the arguments. */
  readonly lost: Finding | null
}

/** One fault found. */
export interface Finding {
  readonly number: number
  readonly name: string
  readonly problem: string
  /** The arguments, as text. */
  readonly args: string
}

/** The call under way. */
export interface UnderWay {
  readonly number: number
  readonly name: string
  /** Time that it may work [ms]. */
  readonly patience: number
}
