import type { Context, Outcome } from '../app/context.ts'
import { inRoom, soundingIn } from '../app/room.ts'
import { clickAt } from '../click/by-tempo.ts'
import { type Clicked, parseClicked } from '../music/clicked.ts'
import { plainForm } from '../music/form.ts'
import { wholeNumber } from '../music/fraction.ts'
import { parseMeter } from '../music/meter.ts'
import { problem } from '../music/result.ts'
import { parseTempo, tempo } from '../music/tempo.ts'
import { customaryBeat, newClick, type State } from '../screens/click/reduce.ts'
import { RATE } from '../sound/stream.ts'
import { clickPlan } from '../visit/target.ts'
import { ifSaid, must } from './command.ts'
import type { Typed } from './commands.ts'
import { parseHow } from './options.ts'

/** Beats a minute where no tempo was typed: a beat a second. */
const TEMPO = 60

/** This click has no ladder: what changes with the tempo is refused. */
const fixed = <K extends keyof Clicked>(t: Typed<'click'>, k: K): void => {
  if (t[k]?.includes(';') || /\bfrom\b/i.test(t[k] ?? ''))
    must(problem(k, t[k] ?? '', 'one value without "from": only a ladder changes the click with its tempo'))
}

/** Throws Stop with one sentence. */
export const readClick = (t: Typed<'click'>): State => {
  const meter = must(parseMeter(t.meter ?? '4/4'))
  const at = ifSaid(t.tempo, s => parseTempo(s)) ?? tempo(TEMPO, customaryBeat(meter))
  for (const k of ['pulse', 'subdivide', 'beats', 'on', 'off'] as const) fixed(t, k)
  const plan = must(clickPlan({ clicked: must(parseClicked(t)) }, plainForm(meter, 1, at), at.unit))
  const { pulse, only, subdivide } = clickAt(plan, plainForm(meter, 1, at), at, at)
  return newClick({
    tempo: at,
    meter,
    pulse: pulse ?? null,
    subdivide,
    countIn: must(wholeNumber(t.countIn ?? '0', 'count-in', 0, 8)),
    only: only ?? null,
  })
}

/** Just the click, on a screen, or as lines with `--plain`. */
export const clickCommand = async (ctx: Context, t: Typed<'click'>): Promise<Outcome> => {
  const click = readClick(t)
  const how = must(parseHow(ctx, t.output, 'The click'))
  const left = await inRoom(ctx, { how }, async room => {
    const { clickScreen } = await import('../screens/click/screen.ts')
    return clickScreen({ click, rate: RATE, ...(await soundingIn(room)) })
  })
  return must(left)
}
