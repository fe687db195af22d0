import { DEFAULT_LEVELS, type Levels } from '../click/voices.ts'
import { daysBetween } from '../music/day.ts'
import { daysAway, dayText } from '../music/day-words.ts'
import { problem } from '../music/result.ts'
import { beginSound } from '../sound/open-sound.ts'
import { DEVICES, type OutputName } from '../sound/outputs/output.ts'
import type { Sound } from '../sound/sound.ts'
import type { Settings } from '../store/settings.ts'
import type { Feet } from '../terminal/feet.ts'
import { type Context, must } from './context.ts'

const OUTPUTS: readonly string[] = ['auto', 'silent', ...DEVICES]

/** Seconds of rest after a clean repetition, and after one that was not. */
export const REST = { clean: 2, slip: 4 }

/** What the terminal knows of the pedals. */
export const feetOf = (s: Settings): Feet => ({ keys: [s.right, s.left], learnedIn: s.learnedIn })

/** The rests as typed, else as set. */
export const restOf = (typed: string | undefined, settings: Settings): typeof REST & { asLong: boolean } => {
  if (typed !== undefined && typed !== 'usual' && typed !== 'as-long')
    return must(problem('rest', typed, 'usual or as-long'))
  return { ...REST, asLong: (typed ?? settings.rest) === 'as-long' }
}

/** Whether all keys but the pedals are locked, as typed, else as set. */
export const lockedOf = (typed: string | undefined, settings: Settings): boolean => {
  if (typed !== undefined && typed !== 'all' && typed !== 'pedals')
    return must(problem('keys', typed, 'all or pedals'))
  return (typed ?? settings.keys) === 'pedals'
}

export const outputOf = (typed: string | undefined, settings: Settings): 'auto' | OutputName => {
  const name = typed ?? settings.output ?? 'auto'
  if (!OUTPUTS.includes(name)) return must(problem('output', name, OUTPUTS.join(', ')))
  return name as 'auto' | OutputName
}

/** Where it is heard, how much later than that device says, and whether it is kept awake. */
export const devicesOf = (
  s: Settings,
): { device?: string; faint: boolean; offsetMs: (device: string | null) => number } => ({
  ...(s.device ? { device: s.device } : {}),
  faint: s.awake,
  offsetMs: device => s.offsets?.[device ?? ''] ?? s.latency,
})

export const levelsOf = (settings: Settings): Levels => ({
  ...DEFAULT_LEVELS,
  ...(settings.levels as Levels | undefined),
})

export const afterOf = (typed: string | undefined, settings: Settings): 'wait' | 'go-on' => {
  if (typed === undefined || typed === 'wait' || typed === 'go-on') return typed ?? settings.after
  return must(problem('after', typed, 'wait or go-on'))
}

/** "ready by 14 March, in 4 days" */
export const dateText = (readyBy: string | null, today: string): string => {
  if (readyBy === null) return ''
  return `ready by ${dayText(readyBy, today)}, ${daysAway(daysBetween(today, readyBy))}`
}

/** Begins to open the sound; with a clock that was set for tests it is silent. */
export const startSound = (ctx: Context, output: 'auto' | OutputName, settings: Settings): Sound =>
  beginSound({
    output: ctx.clock.real ? output : 'silent',
    now: ctx.clock.now,
    player: new URL('./player.js', import.meta.url),
    ...devicesOf(settings),
    levels: levelsOf(settings),
    deep: settings.steady,
    silent: ctx.clock,
  })
