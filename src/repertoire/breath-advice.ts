import { type Air, breathes as isBreath, longestAir, slowBreathBelow } from '../click/one-breath.ts'
import { changesFrom, playedForm, steadyForm } from '../music/changes.ts'
import { type Form, measures } from '../music/form.ts'
import { add, compare, div, equal, type Frac, frac, less, sub, toNumber } from '../music/fraction.ts'
import { groupStarts } from '../music/meter.ts'
import { placeAt } from '../music/place.ts'
import { ok, problem, type Result } from '../music/result.ts'
import { EXTENDED_MARKS } from '../music/scale.ts'
import { compareTempo, scaleTempo, slower, spoken, type Tempo, tidy, typed } from '../music/tempo.ts'
import type { PassageForm } from './passage-form.ts'

/** A passage or section; of a section also what its end is called in the passage. */
export type Music = PassageForm & { readonly end?: string }

/** The longest stretch in one breath with the first mark at a tempo: places, and seconds to a tenth. */
export type Breath = { readonly from: string; readonly to: string; readonly seconds: number }

const airAt = (music: PassageForm, at: Tempo): Air => longestAir(playedForm(music.form, at, music.goal), at)

export const tenths = (n: number): number => Math.round(n * 10) / 10

/** As it is played at a tempo: below a share of the goal without its tempo changes. */
export const oneBreath = (music: Music, at: Tempo): Breath => {
  const { from, to, seconds } = airAt(music, at)
  const end = equal(to, music.form.length) && music.end ? music.end : placeAt(to, music)
  return { from: placeAt(from, music), to: end, seconds: tenths(seconds) }
}

/** "7.2 s (41 to 43)" */
export const breathText = (b: Breath): string => `${b.seconds} s (${b.from} to ${b.to})`

/** Whether marks of breathing stand in the music. */
export const breathes = (f: Form): boolean => (f.breaths ?? []).some(isBreath)

/** Seconds that the player can play in one breath; at most ten minutes. */
export const parseCapacity = (text: string, field = '--breath-seconds'): Result<number> => {
  const n = /^\d{1,3}(\.\d)?$/.test(text) ? Number(text) : 0
  return n >= 1 && n <= 600 ? ok(n) : problem(field, text, 'seconds from 1 to 600, as 8 or 8.5')
}

/** The beat nearest to the middle of a stretch, inside it; null where there is none. */
const middleOf = (music: PassageForm, { from, to }: Air): Frac | null => {
  const middle = div(add(from, to), frac(2))
  const away = (at: Frac): Frac => (less(at, middle) ? sub(middle, at) : sub(at, middle))
  const beats = measures(music.form)
    .flatMap(m => groupStarts(m.meter).map(g => add(m.barline, g)))
    .filter(at => less(from, at) && less(at, to))
  return beats.reduce<Frac | null>(
    (best, at) => (best && compare(away(best), away(at)) <= 0 ? best : at),
    null,
  )
}

/**
 * The tempo below which the planned breaths no longer serve: with its tempo changes where they are played at that tempo,
 * else without them.
 */
const servesFrom = ({ form, goal }: PassageForm, capacity: number): Tempo => {
  const changing = slowBreathBelow(form, capacity).tempo
  const share = scaleTempo(goal, changesFrom(form))
  return compareTempo(changing, share) >= 0
    ? changing
    : tidy(slower(slowBreathBelow(steadyForm(form), capacity).tempo, share))
}

/** The lowest traditional mark not below a tempo. */
const markAbove = (t: Tempo): Tempo => {
  const mark = EXTENDED_MARKS.find(m => m >= toNumber(t.bpm))
  return mark === undefined ? t : { unit: t.unit, bpm: frac(mark) }
}

/** What to do where the longest stretch at a tempo is too long for one breath; null = it fits. */
export type Advice = {
  readonly at: string
  readonly breath: Breath
  /** Below this tempo the planned breaths do not serve. */
  readonly below: string
  /** A mark to put in, up to the next mark of the scale, as `piece edit --breath` takes it; null where there is no beat inside. */
  readonly mark: string | null
}

export const breathAdvice = (music: Music, at: Tempo, capacity: number): Advice | null => {
  const air = airAt(music, at)
  if (air.seconds <= capacity + 1e-9) return null
  const tempo = servesFrom(music, capacity)
  const middle = middleOf(music, air)
  // Where it is too long even at the goal, a breath is missing at any tempo.
  const slow = compareTempo(tempo, music.goal) > 0 ? '' : ` slow below=${typed(markAbove(tempo))}`
  return {
    at: typed(at),
    breath: oneBreath(music, at),
    below: typed(tempo),
    mark: middle && placeAt(middle, music) + slow,
  }
}

/** 'at quarter = 80 41 to 43 takes 9.2 s, more than 8: perhaps --breath "42 slow below=96"' */
export const adviceText = (a: Advice, at: Tempo, capacity: number): string =>
  `at ${spoken(at)} ${a.breath.from} to ${a.breath.to} takes ${a.breath.seconds} s, more than ${capacity}${a.mark ? `: perhaps --breath "${a.mark}"` : ''}`
