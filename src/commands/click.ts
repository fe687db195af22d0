import type { Only } from '../click/program.ts'
import type { Levels } from '../click/voices.ts'
import { type Meter, meterText, parseMeter, pulses } from '../music/meter.ts'
import { parseNoteValue } from '../music/note-value.ts'
import { ok, problem } from '../music/result.ts'
import { parseTempo, tempo } from '../music/tempo.ts'
import { customaryBeat, newClick, type State } from '../screens/click/reduce.ts'
import { RATE } from '../sound/stream.ts'
import { pedalLock } from '../terminal/lock.ts'
import { type Context, must, type Outcome } from './context.ts'
import { type Typed, wholeNumber } from './options.ts'
import { levelsOf } from './preferences.ts'
import { inTerminal, onStage } from './stage.ts'

/** `gradino click`, as typed. */
export type ClickTyped = Pick<
  Typed,
  'meter' | 'subdivide' | 'pulse' | 'beats' | 'on' | 'off' | 'countIn' | 'output'
> & { readonly tempo?: string }

/** Beats a minute where no tempo was typed: a beat a second. */
const TEMPO = 60

/** Beats and measures that click, where not all of them do. */
const onlyOf = (t: ClickTyped, meter: Meter, beats: number): Only | null => {
  const chosen = t.beats?.split(',').map(b => {
    const n = wholeNumber(b, 'beats', 1, beats)
    return must(n.ok ? n : problem('beats', b, `numbers from 1 to ${beats} in ${meterText(meter)}, as 2,4`))
  })
  if (t.on === undefined && t.off === undefined) return chosen ? { beats: chosen } : null
  if (t.on === undefined || t.off === undefined)
    return must(problem('measures on', t.on ?? '', '--measures-on and --measures-off together, as 2 and 2'))
  const on = must(wholeNumber(t.on, 'measures on', 1, 32))
  const off = must(wholeNumber(t.off, 'measures off', 1, 32))
  return { ...(chosen ? { beats: chosen } : {}), measures: { on, off } }
}

/** Throws Stop with one sentence. */
export const readClick = (t: ClickTyped): State => {
  const meter = must(parseMeter(t.meter ?? '4/4'))
  const at = must(t.tempo === undefined ? ok(tempo(TEMPO, customaryBeat(meter))) : parseTempo(t.tempo))
  const pulse = t.pulse === undefined ? null : must(parseNoteValue(t.pulse, 'pulse'))
  return newClick({
    tempo: at,
    meter,
    pulse,
    subdivide: must(wholeNumber(t.subdivide ?? '1', 'subdivide', 1, 8)),
    countIn: must(wholeNumber(t.countIn ?? '0', 'count-in', 0, 8)),
    only: onlyOf(t, meter, pulses(meter, pulse ?? at.unit).length),
  })
}

/** Just the click, on a screen, or as lines with `--plain`. */
export const clickCommand = async (ctx: Context, t: ClickTyped): Promise<Outcome> => {
  const click = readClick(t)
  return onStage(ctx, { what: 'The click', output: t.output }, ({ sound, settings, keep }) => {
    const parts = {
      click,
      sound,
      timing: ctx.clock,
      lock: pedalLock(),
      count: settings.pedals,
      pedals: { right: settings.right, left: settings.left },
      levels: levelsOf(settings),
      rate: RATE,
      louder: (levels: Levels) => keep({ levels: { ...levels } }),
    }
    return inTerminal(
      ctx,
      async terminal => (await import('../screens/click/screen.tsx')).clickScreen({ ...parts, terminal }),
      async terminal => (await import('../screens/click/plain.ts')).clickPlain({ ...parts, terminal }),
    )
  })
}
