import { DYNAMICS, type Levels } from '../click/voices.ts'
import type { NoteBody } from '../repertoire/note.ts'
import type { Sound } from '../sound/sound.ts'
import type { Controls } from '../terminal/key-table.ts'
import type { PedalLock } from '../terminal/lock.ts'
import type { PlainTerminal } from '../terminal/open-plain.ts'
import type { Terminal } from '../terminal/open-terminal.ts'
import type { Motion } from './beat.ts'
import { CLICK_OFF, clickThrough, NO_SOUND } from './words.ts'

/** Where notes are kept. Resolves with what to say once the note is on disk; rejects with one sentence. */
export type Notebook = { readonly keep: (body: NoteBody) => Promise<string> }

/** What a screen stands on: where it is drawn or said, the time, the keys, and where its notes go (absent = it has none). */
export type Desk = {
  readonly terminal: Terminal | PlainTerminal
  readonly timing: Timing
  readonly controls: Controls
  readonly notebook?: Notebook | undefined
}

/** The same for a foot, kept from screen to screen: one that still holds the pedal gives no second press. */
export type PedalDesk = Desk & { readonly lock: PedalLock }

/** The same where something sounds. */
export type SoundingDesk = PedalDesk & {
  readonly sound: Sound
  readonly levels: Levels
  readonly motion: Motion
  /** After a change of loudness. */
  readonly louder: (levels: Levels) => void
}

/** Monotonic milliseconds, and a timer on the same clock that can be called off. */
export type Timing = {
  readonly now: () => number
  readonly later: (ms: number, f: () => void) => () => void
  /** Milliseconds since 1970; goes on while the computer sleeps, which `now` does not on every system. */
  readonly wall: () => number
  /** A clock for tests may run so many times as fast as the machine; absent = 1. */
  readonly speed?: number
}

/** A tick that comes later than this was not late but asleep (a closed lid, a stopped process). Milliseconds. */
const ASLEEP = 1500
const TICK = 500

/**
 * Calls `woke` when the computer or the process has slept, until it is called off. Where the monotonic clock stands still
 * in sleep (CLOCK_MONOTONIC of Linux), the wall clock tells; one that is set ahead is taken for a sleep too.
 */
export const watchSleep = (timing: Timing, woke: () => void): (() => void) => {
  // A busy machine is as late on a fast clock as on a slow one.
  const asleep = ASLEEP * (timing.speed ?? 1)
  let [ticked, day] = [timing.now(), timing.wall()]
  let stop = (): void => {}
  const tick = (): void => {
    const late = Math.max(timing.now() - ticked, timing.wall() - day) - TICK
    ;[ticked, day] = [timing.now(), timing.wall()]
    stop = timing.later(TICK, tick)
    if (late > asleep) woke()
  }
  stop = timing.later(TICK, tick)
  return () => stop()
}

/** What a screen says about its sound; `output` = null while that is being opened, `absent` = a device that is not here. */
export const soundLine = (output: string | null, levels: Levels, absent: string | null = null): string =>
  output === null
    ? 'the sound is being opened ...'
    : output === 'silent'
      ? 'no sound: follow the moving mark'
      : levels.master === 'off'
        ? 'the click is off; + makes it louder'
        : `click ${levels.master} through ${output}${absent === null ? '' : `; "${absent.slice(0, 30)}" isn't here`}`

/** The sound of a screen while it runs: how loud it is, and what is said of it. */
export const loudness = ({
  sound,
  levels: begun,
  louder,
}: Pick<SoundingDesk, 'sound' | 'levels' | 'louder'>) => {
  let levels = begun
  let ready = false
  return {
    /** Calls back when there is a sound. */
    open: (then: () => void): void =>
      void sound.ready().then(() => {
        ready = true
        then()
      }),
    /** One step louder or softer; null = there is no further one. */
    change: (by: 1 | -1): Levels | null => {
      const master = DYNAMICS[DYNAMICS.indexOf(levels.master) + by]
      if (master === undefined) return null
      levels = { ...levels, master }
      sound.levels(levels)
      louder(levels)
      return levels
    },
    changed: (): boolean => levels !== begun,
    line: (): string => soundLine(ready ? sound.output() : null, levels, sound.absent()),
    /** The same to be spoken: there is no mark to follow. */
    said: (): string => {
      if (!ready) return ''
      if (sound.output() === 'silent') return NO_SOUND
      return levels.master === 'off' ? CLICK_OFF : clickThrough(levels.master, sound.absent())
    },
  }
}
