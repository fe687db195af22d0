import { DEFAULT_LEVELS, type Levels } from '../click/voices.ts'
import { daysBetween } from '../music/day.ts'
import { daysAway, dayText } from '../music/day-words.ts'
import type { Motion } from '../screens/beat.ts'
import { beginSound } from '../sound/open-sound.ts'
import { DEVICES } from '../sound/outputs/output.ts'
import type { Sound } from '../sound/sound.ts'
import type { Settings } from '../store/settings.ts'
import type { Feet } from '../terminal/feet.ts'
import type { Controls } from '../terminal/key-table.ts'
import type { Context } from './context.ts'

export const OUTPUTS = ['auto', 'silent', ...DEVICES] as const
export type OutputWord = (typeof OUTPUTS)[number]

/** How a player wants to practice this time; absent = as set. */
export type Manner = {
  readonly output?: OutputWord
  readonly after?: Settings['after']
  readonly rest?: Settings['rest']
  readonly keys?: Settings['keys']
}

/** What the terminal knows of the pedals. */
export const feetOf = (s: Settings): Feet => ({ keys: [s.right, s.left], learnedIn: s.learnedIn })

/** As asked for, else as set; a name that was set and is known no longer is left to the program. */
export const outputOf = (asked: OutputWord | undefined, settings: Settings): OutputWord =>
  asked ?? OUTPUTS.find(o => o === settings.output) ?? 'auto'

/** Where it is heard, how much later than that device says, and whether it is kept awake. */
export const devicesOf = (
  s: Settings,
): { device?: string; faint: boolean; offsetMs: (device: string | null) => number } => ({
  ...(s.device ? { device: s.device } : {}),
  faint: s.awake,
  offsetMs: device => s.offsets?.[device ?? ''] ?? s.latency,
})

/** Pedals and keys as set up. */
export const controlsOf = ({ right, left, pedals, changedKeys, letters }: Settings): Controls => ({
  right,
  left,
  pedals,
  choice: { keys: changedKeys, letters: letters === 'alone' },
})

export const levelsOf = (settings: Settings): Levels => ({
  ...DEFAULT_LEVELS,
  ...(settings.levels as Levels | undefined),
})

/** How the mark of the beat moves. In time that runs faster for tests nothing glides: it would be drawn as often as that. */
export const motionOf = (ctx: Context, { motion }: Settings): Motion => (ctx.clock.real ? motion : 'step')

/** "ready by March 14, in 4 days" */
export const dateText = (readyBy: string | null, today: string): string => {
  if (readyBy === null) return ''
  return `ready by ${dayText(readyBy, today)}, ${daysAway(daysBetween(today, readyBy))}`
}

/** Begins to open the sound; with a clock that was set for tests it is silent. */
export const startSound = (ctx: Context, output: OutputWord, settings: Settings): Sound =>
  beginSound({
    output: ctx.clock.real ? output : 'silent',
    now: ctx.clock.now,
    player: new URL('./player.js', import.meta.url),
    ...devicesOf(settings),
    levels: levelsOf(settings),
    deep: settings.steady,
    silent: ctx.clock,
  })
