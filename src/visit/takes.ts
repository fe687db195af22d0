import type { ClickPlan } from '../click/by-tempo.ts'
import type { Guide } from '../click/program.ts'
import type { Histories } from '../ladder/history.ts'
import { type TakeKind, takeKey } from '../ladder/key.ts'
import { nextEnd } from '../ladder/ready.ts'
import { takesOf } from '../ladder/standing.ts'
import { FIND_FROM, markBelow } from '../ladder/start.ts'
import { cutForm } from '../music/cut.ts'
import { measures } from '../music/form.ts'
import { compare, type Frac, less, sub } from '../music/fraction.ts'
import { beatPlaceAt, numbersBetween, placeWords } from '../music/place.ts'
import { ok, type Result, wrong } from '../music/result.ts'
import { type Span, sections } from '../music/sections.ts'
import { sameTempo, slower, type Tempo } from '../music/tempo.ts'
import type { Target } from './subject.ts'
import { oneTempo } from './words.ts'

/** One repetition apart from the ladder. */
type Take = Pick<Target, 'key' | 'title' | 'form' | 'numbers'> & {
  readonly click: ClickPlan
  readonly tempo: Tempo
  /** How it is played, where its name does not say it. */
  readonly says: string
}

/** At which end of a goal that is a range: as the player said, the other one than usual, or (null) as usual. */
export type End = 'lower' | 'upper' | 'other' | null

/** An end that was asked for; refused where the goal is no range. */
export const checkEnd = (end: End, t: Target): Result<End> =>
  end === null || t.top ? ok(end) : wrong(oneTempo(end))

/** The goal once it was reached, before that the ceiling; without one the start. */
const reachedTempo = (all: Histories, t: Target): Tempo =>
  t.direction === 'down'
    ? (all.of(t.key)?.ceiling ?? t.start ?? t.goal)
    : slower(all.of(t.key)?.ceiling ?? t.start ?? markBelow(t.goal, FIND_FROM), t.goal)

const atEnd = (t: Target, usual: Tempo, end: End): Tempo => {
  if (!t.top || end === null) return usual
  return end === 'upper' || (end === 'other' && !sameTempo(usual, t.top)) ? t.top : t.goal
}

/** Of a range that was reached, the end whose turn it is. */
export const coldTempo = (all: Histories, t: Target, end: End = null): Tempo => {
  const reached = reachedTempo(all, t)
  const done = t.top && sameTempo(reached, t.goal)
  return atEnd(t, done ? nextEnd(takesOf(all, t.key), t.goal, t.top ?? null) : reached, end)
}

const cutGuide = (g: Guide, from: Frac, to: Frac): Guide =>
  'onsets' in g
    ? {
        onsets: g.onsets.filter(at => compare(from, at) <= 0 && less(at, to)).map(at => sub(at, from)),
      }
    : g

/** The first beat and its next note; with each such take that was clean, the beat after it. */
const oneBeat = (
  t: Target,
  all: Histories,
  key: string,
): Pick<Target, 'form' | 'numbers' | 'click'> & { readonly from: string } => {
  const beats = sections(t.form, { kind: 'beat' })
  const done = (all.of(key)?.visits ?? []).filter(v => v.goal).length
  const beat = beats[done % beats.length] as Span
  const bars = measures(t.form)
  const first = bars.findLastIndex(m => compare(m.from, beat.from) <= 0)
  const last = bars.findLastIndex(m => less(m.from, beat.to))
  const { guide, ...click } = t.click
  return {
    form: cutForm(t.form, beat.from, beat.to),
    numbers: numbersBetween(t.numbers, first, last + 1),
    from: beatPlaceAt(beat.from, t),
    click: { ...click, ...(guide ? { guide: cutGuide(guide, beat.from, beat.to) } : {}) },
  }
}

const without = ({ guide: _, ...click }: ClickPlan): ClickPlan => click

/** Shares of what was reached, and of what the plan asks for. */
export const SHARES = { through: 0.9, slow: 0.7 } as const

/** What each take is called, how it is clicked, and at which tempo it is played. `rung` = where the ladder stands. */
const KINDS: Readonly<
  Record<
    TakeKind,
    {
      words: string
      says?: string
      tempo: (t: Target, all: Histories, rung: Tempo | null, end: End) => Tempo
      click?: (c: ClickPlan, t: Target) => ClickPlan
    }
  >
> = {
  cold: { words: 'cold take: once', tempo: (t, all, _, end) => coldTempo(all, t, end) },
  // Only what is counted before it sounds: the rests in the part, else two measures of count-in at least.
  entry: {
    words: 'from the entrance: once',
    says: 'what is counted before it sounds, then you play alone',
    tempo: (t, all, rung, end) =>
      rung ?? atEnd(t, nextEnd(takesOf(all, t.key, 'entry'), t.goal, t.top ?? null), end),
    click: (c, t) => ({
      ...without(c),
      silent: true,
      countIn: 2,
      ...(t.rests ? { rests: t.rests } : {}),
    }),
  },
  goal: { words: 'a try at the goal', tempo: (t, _, __, end) => atEnd(t, t.goal, end) },
  beat: { words: 'one beat at the goal', tempo: (t, _, __, end) => atEnd(t, t.goal, end) },
  silent: {
    words: 'without a sound',
    says: 'to the click: fingers only, or sung, or the bow in the air',
    tempo: (t, all, rung) => rung ?? reachedTempo(all, t),
  },
  through: {
    words: 'last time through: once',
    tempo: (t, all, rung) => rung ?? markBelow(reachedTempo(all, t), SHARES.through),
  },
  slow: { words: 'slow', tempo: (t, all, rung) => rung ?? markBelow(reachedTempo(all, t), SHARES.slow) },
}

export const takeOf = (
  kind: TakeKind,
  t: Target,
  all: Histories,
  rung: Tempo | null,
  end: End = null,
): Take => {
  const { words, says, tempo, click } = KINDS[kind]
  const key = takeKey(kind, t.key)
  const beat = kind === 'beat' ? oneBeat(t, all, key) : null
  const music = beat ?? t
  return {
    key,
    title: `${t.title}, ${words}`,
    form: music.form,
    numbers: music.numbers,
    click: click ? click(music.click, t) : music.click,
    tempo: tempo(t, all, rung, end),
    says: beat ? `from ${placeWords(beat.from, t.beside)} to the next beat` : (says ?? ''),
  }
}
