import { changesFrom, playedForm, steadyForm } from '../music/changes.ts'
import { type Breath, breathsAt, type Form, measures } from '../music/form.ts'
import { add, compare, div, equal, type Frac, frac, less, sub, toNumber, zero } from '../music/fraction.ts'
import { type Note, onsetsOf } from '../music/groups.ts'
import { groupStarts } from '../music/meter.ts'
import { compareTempo, scaleTempo, slower, type Tempo } from '../music/tempo.ts'
import { tempoMap } from './tempo-map.ts'

/** What is played in one breath: from one place to breathe to the next, whole notes and seconds. */
export type Air = { readonly from: Frac; readonly to: Frac; readonly seconds: number }

/**
 * A new bow is to a string player what a breath is to others. Where the music waits for the pedal there is time to
 * breathe before it goes on, also after a fermata.
 */
export const breathes = (b: Breath): boolean =>
  b.kind === 'breath' ||
  b.kind === 'bow' ||
  b.kind === 'slow-breath' ||
  b.kind === 'caesura' ||
  b.waits === true

/** The stretches between breaths with the form's first mark at a tempo; slow breaths count where they are taken. */
export const airs = (form: Form, first: Tempo): readonly Air[] => {
  const map = tempoMap(form, first, 1)
  const inside = breathsAt(form, first).filter(
    b => breathes(b) && less(zero, b.at) && less(b.at, form.length),
  )
  const places = [zero, ...inside.map(b => b.at), form.length]
  return places.slice(1).map((to, i) => {
    const from = places[i] as Frac
    return { from, to, seconds: map.until(to) - map.frames(from) }
  })
}

/** The longest stretch in one breath. */
export const longestAir = (form: Form, first: Tempo): Air =>
  airs(form, first).reduce((a, b) => (b.seconds > a.seconds ? b : a))

/** What is played, and its goal: well below it tempo changes are left out. */
type Played = { readonly form: Form; readonly goal: Tempo }

/** The longest stretch in one breath as it is played at a tempo. */
export const airAt = ({ form, goal }: Played, at: Tempo): Air => longestAir(playedForm(form, at, goal), at)

/** Seconds in one breath: as the player said, else the longest that was played clean. */
export type BreathLimit = { readonly seconds: number; readonly said: boolean }

/** By what is known of a player: what was said, and the longest that was played clean; null = nothing. */
export const breathLimit = (said: number | undefined, clean: number | null): BreathLimit | null => {
  if (said !== undefined) return { seconds: said, said: true }
  return clean ? { seconds: clean, said: false } : null
}

/** What was played is known to a hundredth. */
const ROUNDED = 0.005

/** Where nobody has said what is possible, a stretch of so many seconds is worth a word; a shorter one is the player's own. */
const LONG = 12

/** A stretch that is too long for one breath, and where one more breath could be taken. */
export type MoreBreath = {
  readonly air: Air
  readonly limit: BreathLimit
  /** Null where there is no beat inside. */
  readonly at: Frac | null
  /** A slow breath that stands there already is taken below a higher tempo instead. */
  readonly instead: boolean
  /** The tempo of the first mark from which it is no longer needed, in whole beats; null = it is needed at the goal too. */
  readonly below: Tempo | null
}

/** A tempo rounded up to a whole number; without the last digits of a division, which would lift it by one. */
const wholeUp = (unit: Frac, bpm: number): Tempo => ({
  unit,
  bpm: frac(Math.ceil(Number(bpm.toFixed(6)))),
})

/** The tempo of the first mark from which a stretch fits into one breath. */
const fitsFrom = ({ form, goal }: Played, { from, to }: Air, capacity: number): Tempo => {
  // All times go with the inverse of the tempo.
  const found = (f: Form): number => {
    const map = tempoMap(f, goal, 1)
    return (toNumber(goal.bpm) * (map.until(to) - map.frames(from))) / capacity
  }
  const changing = wholeUp(goal.unit, found(form))
  const share = scaleTempo(goal, changesFrom(form))
  if (compareTempo(changing, share) > 0) return changing
  const steady = wholeUp(goal.unit, found(steadyForm(form)))
  return slower(steady, wholeUp(goal.unit, toNumber(share.bpm)))
}

/** In each list the nearest to the middle; of the lists the first that has one. */
const nearest = (middle: Frac, ...lists: readonly (readonly Frac[])[]): Frac | null => {
  const away = (at: Frac): Frac => (less(at, middle) ? sub(middle, at) : sub(at, middle))
  const all = lists.find(l => l.length > 0) ?? []
  return all.reduce<Frac | null>((best, at) => (best && compare(away(best), away(at)) <= 0 ? best : at), null)
}

/** Where sound ends and a rest begins. */
const restsIn = (notes: readonly Note[]): readonly Frac[] =>
  notes
    .map(n => add(n.at, n.length))
    .filter(
      end =>
        notes.every(n => compare(n.at, end) > 0 || compare(add(n.at, n.length), end) <= 0) &&
        notes.some(n => less(end, n.at)),
    )

/**
 * The one rule of what is too long for one breath at a tempo, and of the place of one more: a slow breath that is there
 * already or a rest, near the middle; else the beat nearest to the middle, one on which a note begins where the notes are
 * known. Null = it fits.
 */
export const moreBreath = (
  played: Played,
  at: Tempo,
  limit: BreathLimit,
  notes: readonly Note[] = [],
): MoreBreath | null => {
  const { form, goal } = played
  const capacity = limit.seconds + (limit.said ? 0 : ROUNDED)
  const air = airAt(played, at)
  if (air.seconds <= capacity + 1e-9 || (!limit.said && air.seconds <= LONG)) return null
  const quarter = div(sub(air.to, air.from), frac(4))
  const inside = (p: Frac): boolean => less(air.from, p) && less(p, air.to)
  const near = (p: Frac): boolean => less(add(air.from, quarter), p) && less(p, sub(air.to, quarter))
  const slow = (form.breaths ?? [])
    .filter(b => b.kind === 'slow-breath')
    .map(b => b.at)
    .filter(near)
  const beats = measures(form)
    .flatMap(m => groupStarts(m.meter).map(g => add(m.barline, g)))
    .filter(inside)
  const begun = onsetsOf(notes).map(n => n.at)
  const place = nearest(
    add(air.from, div(sub(air.to, air.from), frac(2))),
    slow,
    restsIn(notes).filter(near),
    beats.filter(b => begun.some(p => equal(p, b))),
    beats,
  )
  const below = fitsFrom(played, air, capacity)
  return {
    air,
    limit,
    at: place,
    instead: place !== null && slow.includes(place),
    below: compareTempo(below, goal) > 0 ? null : below,
  }
}
