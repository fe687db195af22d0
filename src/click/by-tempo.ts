import { type Changing, retuned, type Toward, valueAt } from '../music/changing.ts'
import type { Clicked } from '../music/clicked.ts'
import { type Form, meterAt } from '../music/form.ts'
import { compare, div, equal, type Frac, frac, less, min, mul, sub } from '../music/fraction.ts'
import { measureLength, pulses } from '../music/meter.ts'
import { clickFor, type Rhythm } from '../music/rhythm.ts'
import { compareTempo, inUnit, quarters, spoken, type Tempo, tidy } from '../music/tempo.ts'
import type { CompileOptions, Guide, Only } from './program.ts'

/** How a passage is clicked on all rungs of its ladder. */
export type ClickPlan = Clicked &
  Pick<CompileOptions, 'countIn' | 'freeRitardando' | 'guide' | 'rests'> & {
    /** Where its ladder leads: fewer clicks from a tempo on means toward the goal. */
    readonly toward?: Toward
    /** The passage itself does not click, only what is counted before it. */
    readonly silent?: true
  }

/** How it is clicked at one tempo. */
export type ClickHere = Omit<CompileOptions, 'again' | 'rest' | 'signals' | 'rate'>

/** Beats slower than this are subdivided. Beats a minute; common practice, no source. */
const SUBDIVIDED_BELOW = frac(60)
/** From this share of the goal on they are not: the goal is played without. Common practice, no source. */
const PLAIN_FROM = frac(4, 5)

/** Lengths of the beats of the first whole measure when the tempo is counted in `unit`. */
const beatLengths = (form: Form, unit: Frac): readonly Frac[] => {
  const meter = meterAt(form, form.pickup)
  const all = pulses(meter, unit)
  return all.map((p, i) => sub(all[i + 1]?.at ?? measureLength(meter), p.at))
}
const shortest = (form: Form, unit: Frac): Frac => beatLengths(form, unit).reduce(min)

/** Two to a simple beat, three to a dotted one; a beat that is neither stays whole. */
const divided = ({ n }: Frac): number => (n % 3 === 0 ? 3 : Number.isInteger(Math.log2(n)) ? 2 : 1)

/** Beats a minute. */
const rate = (t: Tempo, beat: Frac): Frac => div(mul(t.unit, t.bpm), beat)

/**
 * Subdivisions where nobody chose them: on while the beat that clicks is slower than 60 a minute and the tempo below
 * 80 % of the goal. Once off they stay off: also where a longer beat takes over that is slower than 60 again, or one that
 * can be divided after one that can't.
 */
const usualSubdivision = (plan: ClickPlan, form: Form, tempo: Tempo, goal: Tempo): number => {
  if (plan.guide || plan.silent || plan.toward === 'down') return 1
  if (!less(quarters(tempo), mul(quarters(goal), PLAIN_FROM))) return 1
  const beat = shortest(form, valueAt(plan.pulse ?? [], tempo) ?? tempo.unit)
  if (!less(rate(tempo, beat), SUBDIVIDED_BELOW)) return 1
  const left = (plan.pulse ?? []).flatMap(s => (s.from && compareTempo(s.from, tempo) <= 0 ? [s.from] : []))
  const before = (at: Tempo): Changing<Frac> =>
    (plan.pulse ?? []).filter(s => !s.from || compareTempo(s.from, at) < 0)
  const on = left.every(at => {
    const was = shortest(form, valueAt(before(at), at) ?? tempo.unit)
    return divided(was) > 1 && compare(rate(at, was), SUBDIVIDED_BELOW) <= 0
  })
  return on ? divided(beat) : 1
}

/** Beats that no meter of the form has are left out; where none is left, all of them click. */
const beatsIn = (form: Form, unit: Frac, beats: readonly number[]): readonly number[] => {
  const most = Math.max(...form.meters.map(m => pulses(m.meter, unit).length))
  return beats.filter(b => b <= most)
}

/**
 * How the rung at `tempo` is clicked: the only place that decides it, for the practice screen and for files.
 * The pulse goes by the tempo alone (in 2 from so fast on); the others go with the ladder, toward its goal.
 */
export const clickAt = (plan: ClickPlan, form: Form, tempo: Tempo, goal: Tempo): ClickHere => {
  const pulse = valueAt(plan.pulse ?? [], tempo)
  const toward = plan.toward ?? 'up'
  const chosen = valueAt(plan.beats ?? [], tempo, toward)
  const beats = plan.silent ? [] : chosen && beatsIn(form, pulse ?? tempo.unit, chosen)
  const [on, off] = [valueAt(plan.on ?? [], tempo, toward), valueAt(plan.off ?? [], tempo, toward)]
  const only: Only = {
    ...(beats && (plan.silent || beats.length > 0) ? { beats } : {}),
    ...(on && off ? { measures: { on, off } } : {}),
  }
  return {
    countIn: plan.countIn,
    subdivide: valueAt(plan.subdivide ?? [], tempo, toward) ?? usualSubdivision(plan, form, tempo, goal),
    ...(pulse ? { pulse } : {}),
    ...(only.beats || only.measures ? { only } : {}),
    ...(plan.freeRitardando ? { freeRitardando: true as const } : {}),
    ...(plan.guide ? { guide: plan.guide } : {}),
    ...(plan.rests ? { rests: plan.rests } : {}),
  }
}

const CLICKED_KEYS = ['pulse', 'subdivide', 'beats', 'on', 'off'] as const

/** The tempos at which something changes, moved: to where a section begins, or into a rhythm. */
export const movedClicked = <C extends Clicked>(
  c: C,
  to: (t: Tempo) => Tempo,
  keys: readonly (keyof Clicked)[] = CLICKED_KEYS,
): C => ({
  ...c,
  ...Object.fromEntries(
    keys.flatMap(k => {
      const changing: Changing<unknown> | undefined = c[k]
      return changing ? [[k, retuned(changing, to)]] : []
    }),
  ),
})

/**
 * The click of the same music in a rhythm, with its guide. Fewer clicks come from the rung on whose quick notes run as the
 * even ones do there; the pulse goes by the click that is heard, so its tempos stay.
 */
export const alteredClick = (plan: ClickPlan, r: Rhythm, guide: Guide): ClickPlan => ({
  ...movedClicked(plan, t => clickFor(t, r), ['subdivide', 'beats', 'on', 'off']),
  guide,
})

/** "2 to the beat", "on beats 2, 4", "2 of 4 measures": what is not plain about a click. */
export const clickWords = ({ subdivide, only }: Pick<ClickHere, 'subdivide' | 'only'>): readonly string[] => [
  ...(subdivide > 1 ? [`${subdivide} to the beat`] : []),
  ...(only?.beats?.length ? [`on ${only.beats.length > 1 ? 'beats' : 'beat'} ${only.beats.join(', ')}`] : []),
  ...(only?.measures ? [`${only.measures.on} of ${only.measures.on + only.measures.off} measures`] : []),
]

/** "half = 66, quarter = 132": the beat that clicks and the tempo as written, where a pulse was chosen that differs. */
export const tempoWords = (tempo: Tempo, form: Form, pulse: Frac | undefined): string => {
  const beats = pulse ? beatLengths(form, pulse) : []
  const [beat] = beats
  const shown = beat && !equal(beat, tempo.unit) && beats.every(b => equal(b, beat))
  return shown ? `${spoken(tidy(inUnit(tempo, beat)))}, ${spoken(tempo)}` : spoken(tempo)
}
