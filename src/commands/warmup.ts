import { parseMeter } from '../music/meter.ts'
import { parseTempo } from '../music/tempo.ts'
import type { Exercise } from '../screens/warmup/warmup.ts'
import { RATE } from '../sound/stream.ts'
import { acquirePractice } from '../store/practice-lock.ts'
import { openSettings } from '../store/settings.ts'
import { type Context, must, type Outcome, Stop } from './context.ts'
import type { Typed } from './options.ts'
import { outputOf, startSound } from './preferences.ts'
import { warmUpNamed } from './presets.ts'

/** A warm-up on screen, or as lines with `--plain`. It asks for no verdict and stores none. */
export const warmupCommand = async (ctx: Context, name: string | undefined, t: Typed): Promise<Outcome> => {
  const warmUp = warmUpNamed(name)
  const exercises = warmUp.items.map(
    (i): Exercise => ({
      name: i.name,
      words: i.words,
      meter: must(parseMeter(i.meter)),
      measures: i.measures,
      tempos: i.tempos.map(x => must(parseTempo(x))),
      times: i.times,
    }),
  )
  if (ctx.json) return { json: warmUp }
  if (!ctx.tty && !ctx.plain)
    throw new Stop(2, 'The warm-up screen needs a terminal; --plain gives lines instead of a screen.')
  const settings = (await openSettings(ctx.home, ctx.clock.wall)).now()
  const output = outputOf(t.output, settings)
  const lock = await acquirePractice(ctx.home)
  if (!lock.ok) throw new Stop(1, lock.message)
  const sound = startSound(ctx, output, settings)
  const { openTerminal } = await import('../terminal/open-terminal.ts')
  const { openPlain } = await import('../terminal/open-plain.ts')
  const { warmUpScreen } = await import('../screens/warmup/screen.tsx')
  const io = { now: ctx.clock.now, stdin: process.stdin, stdout: process.stdout }
  const terminal = ctx.plain ? openPlain(io) : openTerminal(io)
  try {
    const { title } = warmUp
    const pedals = { right: settings.right, left: settings.left }
    return await warmUpScreen({ terminal, sound, timing: ctx.clock, title, exercises, pedals, rate: RATE })
  } finally {
    terminal.close()
    await sound.close()
    await lock.release()
  }
}
