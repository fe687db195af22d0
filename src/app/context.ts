import { randomBytes } from 'node:crypto'
import { type Home, homeAt } from '../store/home.ts'
import { type Clock, clockFrom } from './clock.ts'

/** What every command gets: where files are, the clock, and how it speaks. */
export type Context = {
  readonly home: Home
  /** The player said where, on the command line. */
  readonly homeNamed: boolean
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

export const contextFrom = (
  o: { readonly home?: string; readonly json?: boolean; readonly plain?: boolean },
  env: NodeJS.ProcessEnv = process.env,
): Context => ({
  home: homeAt(o.home, env),
  homeNamed: o.home !== undefined,
  clock: clockFrom(env),
  tty: process.stdin.isTTY === true && process.stdout.isTTY === true,
  json: o.json === true,
  plain: o.plain === true || env.TERM === 'dumb',
  chance: () => randomBytes(10).toString('hex'),
})
