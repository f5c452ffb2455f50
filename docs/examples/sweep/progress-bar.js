// A line that fills up.

const width = 40

/** Shows how far a job has come, and how long it still takes at this pace. */
export function progressBar(stream, total, started = Date.now()) {
  return (done) => {
    const filled = Math.round((width * done) / total)
    const seconds = Math.round(((Date.now() - started) / 1000) * (total / Math.max(done, 1) - 1))
    const bar = `${'#'.repeat(filled)}${'.'.repeat(width - filled)}`
    stream.write(
      `\r[${bar}] ${done}/${total}, ${done === total ? 'done' : `${seconds} s left`}   ${done === total ? '\n' : ''}`,
    )
  }
}
