import { failed, ok, type Result, wrong } from '../music/result.ts'
import type { Sound } from '../sound/sound.ts'
import { acquirePractice } from '../store/practice-lock.ts'
import { openSettings, type Settings } from '../store/settings.ts'
import type { PlainTerminal } from '../terminal/open-plain.ts'
import type { Terminal } from '../terminal/open-terminal.ts'
import type { Context } from './context.ts'
import { feetOf, type OutputWord, outputOf, startSound } from './preferences.ts'

/** What stands ready for a screen that sounds. */
export type Stage = {
  readonly sound: Sound
  readonly settings: Settings
  /** Keeps a setting; a failure is not worth a word. */
  readonly keep: (part: Partial<Settings>) => Promise<void>
}

/** Takes pedal and loudspeaker, opens the sound, and gives all back whatever happens. */
export const onStage = async <T>(
  ctx: Context,
  /** `offset` false = the sound is taken as the device says it is, not as it was measured to be heard. */
  o: { readonly what: string; readonly output: OutputWord | undefined; readonly offset?: boolean },
  play: (stage: Stage) => Promise<T>,
): Promise<Result<T>> => {
  if (!ctx.tty && !ctx.plain)
    return wrong(`${o.what} needs a terminal; --plain gives lines instead of a screen.`)
  const settings = await openSettings(ctx.home, ctx.clock.wall)
  const output = outputOf(o.output, settings.now())
  const lock = await acquirePractice(ctx.home)
  if (!lock.ok) return failed(lock.message)
  const kept = settings.now()
  const sound = startSound(ctx, output, o.offset === false ? { ...kept, offsets: {}, latency: 0 } : kept)
  try {
    const keep = (part: Partial<Settings>): Promise<void> => settings.change(part).catch(() => {})
    return ok(await play({ sound, settings: settings.now(), keep }))
  } finally {
    await sound.close()
    await lock.release()
  }
}

/** Opens the terminal for a screen, or for lines with `--plain`, and gives it back whatever happens. */
export const inTerminal = async <T>(
  ctx: Context,
  settings: Settings,
  screen: (terminal: Terminal | PlainTerminal) => Promise<T>,
): Promise<T> => {
  const io = { now: ctx.clock.now, stdin: process.stdin, stdout: process.stdout, feet: feetOf(settings) }
  const terminal = ctx.plain
    ? (await import('../terminal/open-plain.ts')).openPlain(io)
    : (await import('../terminal/open-terminal.ts')).openTerminal(io)
  try {
    return await screen(terminal)
  } finally {
    terminal.close()
  }
}
