import { type Form, type Measure, measures, waitsIn } from '../music/form.ts'
import { add, compare, equal, type Frac, less, sub } from '../music/fraction.ts'
import { measureLength, pulses } from '../music/meter.ts'
import type { Tempo } from '../music/tempo.ts'
import { countedIn } from './clicks.ts'
import { compile } from './compile.ts'
import type { CompileOptions, Onset, Program } from './program.ts'
import { type Beat, beatsOf } from './program.ts'
import { tempoMap } from './tempo-map.ts'

/** At least one: music without a mark that waits is one leg. */
export type Legs = readonly [Program, ...Program[]]

/** Without the marks at which the music waits, and what else stands there: the wait takes the place of all their time. */
export const withoutWaits = (f: Form): Form => {
  const waits = waitsIn(f)
  return { ...f, breaths: (f.breaths ?? []).filter(b => !waits.some(w => equal(w.at, b.at))) }
}

/** The beats that prepare the next note, in whole notes: how long they last together, and where the second one stands. */
type Lead = { readonly length: Frac; readonly second: Frac | null }

/**
 * One beat, as long as the one in which the next note falls; where that note stands inside its beat, what comes before
 * it in the beat too. A conductor gives one beat after a stop (common practice, no source): the player has breathed and
 * chosen the moment, so there is no need of two clicks and 1.5 s as at the beginning.
 */
const leadTo = (form: Form, tempo: Tempo, o: CompileOptions, at: Frac): Lead => {
  const bars = measures(form)
  const bar = bars.findLast(m => compare(m.from, at) <= 0) as Measure
  const all = pulses(bar.meter, countedIn(form, tempo, o.pulse)(bar))
  const into = sub(at, bar.barline)
  const i = all.findLastIndex(p => compare(p.at, into) <= 0)
  const start = all[i]?.at ?? into
  const beat = sub(all[i + 1]?.at ?? measureLength(bar.meter), start)
  return { length: add(beat, sub(into, start)), second: less(start, into) ? beat : null }
}

/**
 * A repetition with marks that wait, as programs one after another. Each but the first begins with the beat or two that
 * prepare it, in the tempo that follows; the notes stand to each other as in the undivided program, to the frame. Only
 * the last leg takes a verdict: in the others `verdictFrom` is their end.
 */
export const inLegs = (form: Form, tempo: Tempo, o: CompileOptions): Legs => {
  const joined = withoutWaits(form)
  const whole = compile(joined, tempo, o)
  const waits = waitsIn(form)
  if (waits.length === 0) return [whole]
  const map = tempoMap(joined, tempo, o.rate)
  const starts = waits.map(w => whole.firstNote + Math.round(map.frames(w.at)))
  const first = part(whole, { from: 0, to: starts[0] as number, lead: 0, counts: [] })
  const others = waits.map((w, i): Program => {
    const from = starts[i] as number
    const { length, second } = leadTo(joined, tempo, o, w.at)
    const lead = Math.round(map.lasting(length, w.at))
    const frames = second ? [0, Math.round(map.lasting(second, w.at))] : [0]
    const before = beatsOf(whole).filter(b => b.frame < from)
    const counts = frames.map((frame, k): Onset => {
      const { measure, beat } = before.at(k - frames.length) ?? { measure: -1, beat: 1 }
      return { frame, role: 'countIn', measure, beat }
    })
    return part(whole, { from, to: starts[i + 1] ?? whole.end, lead, counts })
  })
  return [first, ...others]
}

type Cut = {
  readonly from: number
  readonly to: number
  readonly lead: number
  readonly counts: readonly Onset[]
}

/** The frames [from, to) of a program, behind `lead` frames of preparation. */
const part = (whole: Program, { from, to, lead, counts }: Cut): Program => {
  const here = (frame: number): number => frame - from + lead
  const inside = (x: Beat): boolean => x.frame >= from && x.frame < to
  const moved = <T extends Beat>(x: T): T => ({ ...x, frame: here(x.frame) })
  const begins = from === 0
  const firstNote = begins ? whole.firstNote : lead
  const end = here(to)
  const last = to === whole.end
  const beats = beatsOf(whole).filter(inside)
  return {
    rate: whole.rate,
    frames: end,
    onsets: [...counts, ...whole.onsets.filter(inside).map(moved)],
    segments: begins
      ? whole.segments
      : [
          { kind: 'countIn', frame: 0 },
          { kind: 'passage', frame: lead },
        ],
    firstNote,
    verdictFrom: last ? Math.max(firstNote, here(whole.verdictFrom)) : end,
    lastBeat: Math.max(firstNote, ...beats.map(b => here(b.frame))),
    end,
    unheard: (whole.unheard ?? []).filter(inside).map(moved),
  }
}
