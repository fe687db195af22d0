import { type Result, sentence } from '../music/result.ts'

/** One sentence for the player and the exit status: 1 = could not be done, 2 = bad option, name or value. */
export class Stop extends Error {
  readonly status: 1 | 2
  constructor(status: 1 | 2, message: string) {
    super(message)
    this.status = status
  }
}

/** The value, or the end of the command with one sentence: here, and only here, a problem becomes an exit status. */
export const must = <T>(r: Result<T>): T => {
  if (!r.ok) throw new Stop(r.problem.failed ? 1 : 2, sentence(r.problem))
  return r.value
}
