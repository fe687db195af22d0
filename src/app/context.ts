import { randomBytes } from 'node:crypto'
import { type Home, homeAt } from '../store/home.ts'

/** The one clock of the program: keys, stamps, lock, windows and sound all run on it. */
export type Clock = {
  /** Monotonic milliseconds, the same in all processes of the program. */
  readonly now: () => number
  readonly later: (ms: number, f: () => void) => () => void
  /** Milliseconds since 1970. */
  readonly wall: () => number
  /** Minutes east of UTC. */
  readonly offset: () => number
  /** Neither set nor sped up, so that a device can play along. */
  readonly real: boolean
  /** How many times as fast as the machine's; absent = 1. */
  readonly speed?: number
}

const monotonic = (): number => Number(process.hrtime.bigint()) / 1e6

/**
 * The system's clock; for tests one that starts at `GRADINO_NOW` (ISO date and time) and runs `GRADINO_SPEED` times as
 * fast (silent output only, since a device plays in its own time).
 */
export const clockFrom = (env: NodeJS.ProcessEnv): Clock => {
  const speed = Number(env.GRADINO_SPEED ?? 1) || 1
  const begun = monotonic()
  const set = env.GRADINO_NOW ? Date.parse(env.GRADINO_NOW) : Number.NaN
  const start = Number.isNaN(set) ? Date.now() : set
  const now = (): number => begun + (monotonic() - begun) * speed
  const real = speed === 1 && Number.isNaN(set)
  return {
    now,
    later: (ms, f) => {
      const timer = setTimeout(f, ms / speed)
      return () => clearTimeout(timer)
    },
    wall: () => (real ? Date.now() : start + (now() - begun)),
    offset: () => -new Date().getTimezoneOffset(),
    real,
    speed,
  }
}

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
