// What the user can put right himself: it ends the program with one line, not with a stack trace.

/** An error whose message is meant for the user. */
export class Refusal extends Error {
  name = 'Refusal'
}
