import { expect } from 'vitest'

// How many times slower than by itself the code may be here; `.ci/mutation` runs it with its changes built in.
const patience = Number(process.env.RESTMASS_PATIENCE ?? 1)

/** Runs something and holds the processor time [s] that it takes against a limit. */
export function within<T>(seconds: number, run: () => T): T {
  const start = process.cpuUsage()
  const result = run()
  const { user, system } = process.cpuUsage(start)
  expect((user + system) / 1e6).toBeLessThan(patience * seconds)
  return result
}
