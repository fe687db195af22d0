import { PassThrough } from 'node:stream'
import type { Outcome } from '../../src/app/context.ts'
import type { MonthTime } from './time.ts'

/** What a player has at the stand: hears lines, presses keys, looks at the clock. */
export type Hands = {
  readonly press: (key: Key) => void
  readonly later: (ms: number, f: () => void) => void
  readonly now: () => number
}
export type Ear = (line: string) => void

/** What the keys send in any terminal. */
export const KEYS = { right: '\x1b[6~', left: '\x1b[5~' } as const
export type Key = keyof typeof KEYS | (string & {})
export const bytesOf = (key: Key): string => KEYS[key as keyof typeof KEYS] ?? key

/** With other streams in the place of the standard ones. */
export const within = async <T>(part: object, f: () => Promise<T>): Promise<T> => {
  const before = Object.entries(Object.getOwnPropertyDescriptors(process))
  for (const [name, value] of Object.entries(part))
    Object.defineProperty(process, name, { value, configurable: true })
  try {
    return await f()
  } finally {
    for (const name of Object.keys(part)) {
      const was = before.find(([n]) => n === name)?.[1]
      if (was) Object.defineProperty(process, name, was)
    }
  }
}

/**
 * A command that plays, as lines: keys come in through the standard input, lines go out through the standard output.
 * `ear` makes the player, who hears every line when it is printed.
 */
export const atTheStand = async (
  time: MonthTime,
  command: (ctx: { readonly plain: true }) => Promise<Outcome>,
  ear: (hands: Hands) => Ear,
): Promise<{ readonly heard: readonly string[]; readonly outcome: Outcome }> => {
  const stdin = new PassThrough()
  const heard: string[] = []
  const hear = ear({
    press: key => void stdin.write(bytesOf(key)),
    later: (ms, f) => void time.later(ms, f),
    now: time.now,
  })
  const stdout = {
    write: (text: string): boolean => {
      for (const line of text.split('\n').filter(l => l !== '')) {
        heard.push(line)
        hear(line)
      }
      return true
    },
  }
  const outcome = await within({ stdin, stdout }, () => time.run(command({ plain: true }))).catch(error => {
    throw new Error(
      `${error instanceof Error ? error.message : error}; last heard: ${heard.slice(-12).join(' / ')}`,
    )
  })
  stdin.destroy()
  return { heard: [...heard, ...(outcome.lines ?? [])], outcome }
}
