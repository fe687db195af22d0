import { randomBytes } from 'node:crypto'
import type { Result } from '../music/result.ts'
import { sentence } from '../music/result.ts'
import { type Home, homeAt } from '../store/home.ts'
import { type Clock, clockFrom } from './clock.ts'

/** What every command gets: where files are, the clock, and how it speaks. */
export type Context = {
  readonly home: Home
  readonly clock: Clock
  /** Both ends are a terminal, so a screen can be opened. */
  readonly tty: boolean
  readonly json: boolean
  readonly plain: boolean
  readonly chance: () => string
}

/** What a command leaves: lines for people or data for programs, and the exit status. */
export type Outcome = {
  readonly status?: 0 | 1 | 2
  readonly lines?: readonly string[]
  readonly json?: unknown
}

/** One sentence for the player and the exit status: 1 = could not be done, 2 = bad option, name or value. */
export class Stop extends Error {
  readonly status: 1 | 2
  constructor(status: 1 | 2, message: string) {
    super(message)
    this.status = status
  }
}

/** The value, or the end of the command with one sentence and status 2. */
export const must = <T>(r: Result<T>): T => {
  if (!r.ok) throw new Stop(2, sentence(r.problem))
  return r.value
}

export const contextFrom = (
  o: { readonly home?: string; readonly json?: boolean; readonly plain?: boolean },
  env: NodeJS.ProcessEnv = process.env,
): Context => ({
  home: homeAt(o.home, env),
  clock: clockFrom(env),
  tty: process.stdin.isTTY === true && process.stdout.isTTY === true,
  json: o.json === true,
  plain: o.plain === true || env.TERM === 'dumb',
  chance: () => randomBytes(10).toString('hex'),
})
