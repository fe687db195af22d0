import { changesFrom, playedForm, steadyForm } from '../music/changes.ts'
import { type Form, measures } from '../music/form.ts'
import { add, compare, div, equal, type Frac, frac, less, sub, toNumber } from '../music/fraction.ts'
import { type Note, onsetsOf } from '../music/groups.ts'
import { groupStarts } from '../music/meter.ts'
import { compareTempo, scaleTempo, slower, type Tempo, tidy } from '../music/tempo.ts'
import { type Air, hundredthsUp, longestAir } from './one-breath.ts'
import { tempoMap } from './tempo-map.ts'

/** A stretch that is too long for one breath, and where one more breath could be taken. */
export type MoreBreath = {
  readonly air: Air
  /** Null where there is no beat inside. */
  readonly at: Frac | null
  /** A slow breath that stands there already is taken below a higher tempo instead. */
  readonly instead: boolean
  /** The tempo of the first mark from which it is no longer needed. */
  readonly below: Tempo
}

/** What is played, and its goal: well below it tempo changes are left out. */
type Played = { readonly form: Form; readonly goal: Tempo }

/** The tempo of the first mark from which a stretch fits into one breath. */
const fitsFrom = ({ form, goal }: Played, { from, to }: Air, capacity: number): Tempo => {
  // All times go with the inverse of the tempo.
  const found = (f: Form): Tempo => {
    const map = tempoMap(f, goal, 1)
    return hundredthsUp(goal.unit, (toNumber(goal.bpm) * (map.until(to) - map.frames(from))) / capacity)
  }
  const changing = found(form)
  const share = scaleTempo(goal, changesFrom(form))
  return compareTempo(changing, share) >= 0 ? changing : tidy(slower(found(steadyForm(form)), share))
}

/** In each list the nearest to the middle; of the lists the first that has one. */
const nearest = (middle: Frac, ...lists: readonly (readonly Frac[])[]): Frac | null => {
  const away = (at: Frac): Frac => (less(at, middle) ? sub(middle, at) : sub(at, middle))
  const all = lists.find(l => l.length > 0) ?? []
  return all.reduce<Frac | null>((best, at) => (best && compare(away(best), away(at)) <= 0 ? best : at), null)
}

/** Where sound ends and a rest begins. */
const restsIn = (notes: readonly Note[]): readonly Frac[] => {
  const sorted = [...notes].sort((a, b) => compare(a.at, b.at))
  return sorted
    .map(n => add(n.at, n.length))
    .filter(
      end =>
        sorted.every(n => compare(n.at, end) > 0 || compare(add(n.at, n.length), end) <= 0) &&
        sorted.some(n => less(end, n.at)),
    )
}

/**
 * What is too long for one breath at a tempo, in seconds that the player can play in one, and the place of one more: a
 * slow breath that is there already or a rest, near the middle; else the beat nearest to the middle, one on which a note
 * begins where the notes are known. Null = it fits.
 */
export const moreBreath = (
  played: Played,
  at: Tempo,
  capacity: number,
  notes: readonly Note[] = [],
): MoreBreath | null => {
  const { form, goal } = played
  const air = longestAir(playedForm(form, at, goal), at)
  if (air.seconds <= capacity + 1e-9) return null
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
  return {
    air,
    at: place,
    instead: place !== null && slow.includes(place),
    below: fitsFrom(played, air, capacity),
  }
}
