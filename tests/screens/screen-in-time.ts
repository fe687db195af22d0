import { EventEmitter } from 'node:events'
import type { Context } from '../../src/app/context.ts'
import { homeAt } from '../../src/store/home.ts'
import { within } from '../month/stand.ts'
import { type MonthTime, monthTime } from '../month/time.ts'
import { type Headless, headless } from '../terminal/headless.ts'

// What the program loads when it is needed is here before time runs: no clock stands still for it.
import '../../src/app/change-day.ts'
import '../../src/app/change-passage.ts'
import '../../src/app/play-visit.ts'
import '../../src/screens/home/screen.ts'
import '../../src/screens/practice/conduct.ts'
import '../../src/screens/practice/screen.ts'
import '../../src/screens/today/rest.ts'
import '../../src/screens/today/screen.ts'
import '../../src/screens/warmup/screen.ts'
import '../../src/terminal/open-terminal.ts'

export type InTime = {
  readonly ctx: Context
  readonly time: MonthTime
  readonly screen: Headless
  /** What is on the screen now. */
  readonly text: () => string
  readonly send: (bytes: string) => void
  /** So many milliseconds of the player's time pass. */
  readonly wait: (ms: number) => Promise<void>
  /** A command on the screen, beside what the player does meanwhile; the first failure of either ends it. */
  readonly beside: <T>(command: Promise<T>, player: () => Promise<void>) => Promise<T>
}

/**
 * The program on a terminal without a window, in virtual time: the clock stands still while anything is computed, drawn or
 * stored, so that what a player does in answer to the screen comes at the same moment on every machine.
 */
export const screenInTime = (folder: string, begin: string): InTime => {
  const screen = headless(24, 80)
  let drawing: Promise<void> | null = null
  const draw = (bytes: string): boolean => {
    const mine = screen.write(bytes).then(() => {
      if (drawing === mine) drawing = null
    })
    drawing = mine
    return true
  }
  const stdin = Object.assign(new EventEmitter(), {
    isTTY: true,
    setRawMode() {},
    resume() {},
    pause() {},
  })
  const stdout = Object.assign(new EventEmitter(), { isTTY: true, rows: 24, columns: 80, write: draw })
  const time = monthTime(begin, [], () => drawing)
  let ids = 0
  return {
    ctx: {
      home: homeAt(folder, {}),
      homeNamed: true,
      clock: time,
      tty: true,
      json: false,
      plain: false,
      chance: () => `day${String(++ids).padStart(5, '0')}`,
    },
    time,
    screen,
    text: () => screen.rows().join('\n'),
    send: bytes => void stdin.emit('data', Buffer.from(bytes)),
    wait: ms => new Promise(go => void time.later(ms, go)),
    beside: (command, player) =>
      within({ stdin, stdout }, () => {
        const playing = player()
        const failed = new Promise<never>((_, no) => playing.catch(no))
        return time.run(Promise.race([Promise.all([command, playing]).then(([told]) => told), failed]))
      }),
  }
}
