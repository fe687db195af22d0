import type { Visit } from '../ladder/history.ts'
import { idsOf, isEven } from '../ladder/key.ts'
import { dayAfter, localDay } from '../music/day.ts'
import { compare, less } from '../music/fraction.ts'
import { type Letters, letterAt, parsePlace, placeWords } from '../music/place.ts'
import { compareTempo, sameTempo, spoken, type Tempo, typed } from '../music/tempo.ts'
import { type Note, noteDay, type Wrong } from '../repertoire/note.ts'
import { lettersOfPassage, passageForm, sectionSpan } from '../repertoire/passage-form.ts'
import type { Passage, Section } from '../repertoire/piece.ts'

/** Stops at one place, and what the player noted of it. */
type StopPlace = {
  /** "43.2" = measure and beat (see music/place.ts). */
  readonly place: string
  /** The rehearsal marks of its passage, to say it by. */
  readonly letters?: Letters | null
  readonly stops: number
  /** Slowest and fastest tempo of the stops; null = none, only notes. */
  readonly tempos: readonly [Tempo, Tempo] | null
  readonly wrongs: readonly Wrong[]
}

/** Where some music breaks: all stops, places with most stops first, and what slips were noted to be. */
export type Stops = {
  readonly stops: number
  readonly places: readonly StopPlace[]
  /** Of all notes, those without a place too. */
  readonly wrongs: readonly Wrong[]
}

const inNumbers = (a: string, b: string): number => a.localeCompare(b, 'en', { numeric: true })

/** Of visits and notes that belong together; altered rhythms are counted apart, since their tempos are. */
export const stopsAt = (
  visits: readonly Visit[],
  notes: readonly Note[],
  letters: Letters | null = null,
): Stops => {
  const stops = visits.flatMap(v => v.stops)
  const wrongs = notes.flatMap(n => (n.kind === 'wrong' ? [n] : []))
  const names = new Set([...stops, ...wrongs].flatMap(s => (s.place ? [s.place] : [])))
  const places = [...names].map((place): StopPlace => {
    const tempos = stops
      .filter(s => s.place === place)
      .map(s => s.tempo)
      .sort(compareTempo)
    const [low] = tempos
    return {
      place,
      ...(letters ? { letters } : {}),
      stops: tempos.length,
      tempos: low ? [low, tempos.at(-1) as Tempo] : null,
      wrongs: wrongs.filter(w => w.place === place).map(w => w.what),
    }
  })
  return {
    stops: stops.length,
    places: places.sort(
      (a, b) => b.stops - a.stops || b.wrongs.length - a.wrongs.length || inNumbers(a.place, b.place),
    ),
    wrongs: wrongs.map(w => w.what),
  }
}

/** "rhythm 4, notes 2", most first. */
export const wrongsText = (wrongs: readonly Wrong[]): string =>
  [...new Set(wrongs)]
    .map(w => ({ w, n: wrongs.filter(x => x === w).length }))
    .sort((a, b) => b.n - a.n)
    .map(({ w, n }) => `${w} ${n}`)
    .join(', ')

const fromText = ([low, high]: readonly [Tempo, Tempo]): string =>
  sameTempo(low, high) ? `at ${spoken(low)}` : `from ${spoken(low)} up`

/** So many places are named where no single one breaks more than the others. */
const NAMED = 3

export const wordsOf = (p: StopPlace): string => placeWords(p.place, p.letters)

const list = (places: readonly StopPlace[]): string => {
  const more = places.length - NAMED
  const named = places.slice(0, NAMED).map(wordsOf)
  return [...named, ...(more > 0 ? [`${more} more`] : [])].join('; ')
}

const countedText = ({ stops, places }: Stops): string => {
  const broken = places.filter(p => p.stops > 0)
  const [first] = broken
  if (!first?.tempos) return 'no stops'
  const alike = broken.filter(p => p.stops === first.stops)
  const at = fromText(first.tempos)
  if (stops === 1) return `one stop, in ${wordsOf(first)}, ${at}`
  if (stops === first.stops)
    return `breaks in ${wordsOf(first)}: ${stops === 2 ? 'both' : `all ${stops}`} stops, ${at}`
  if (first.stops === 1) return `${stops} stops, each at another place: ${list(alike)}`
  if (alike.length > 1)
    return `breaks most in ${alike.length} places, ${first.stops} of ${stops} stops each: ${list(alike)}`
  return `breaks most in ${wordsOf(first)}: ${first.stops} of ${stops} stops, ${at}`
}

/**
 * "breaks most in m. 43, beat 2: 7 of 12 stops, from quarter = 108 up; kind: rhythm 4, notes 2", and where more slips were
 * noted than those of that place, ", all slips noted: rhythm 6, breath 1". Empty where nothing broke.
 */
export const stopsText = (b: Stops): string => {
  if (b.stops === 0 && b.wrongs.length === 0) return ''
  const [first] = b.places
  const here = first && first.stops > 1 ? first.wrongs : []
  return [
    countedText(b),
    here.length > 0 ? `kind: ${wrongsText(here)}` : '',
    b.wrongs.length > here.length ? `slips noted: ${wrongsText(b.wrongs)}` : '',
  ]
    .filter(Boolean)
    .join('; ')
}

/** A place for programs, with the rehearsal mark it is known by, "C+4". */
export const placeJson = <P extends StopPlace>({ letters, tempos, ...p }: P) => {
  const letter = letters ? letterAt(letters, p.place) : ''
  return { ...p, ...(letter === '' ? {} : { letter }), tempos: tempos?.map(typed) ?? null }
}

export const stopsJson = ({ places, ...b }: Stops) => ({
  ...b,
  places: places.map(placeJson),
})

/** Local days, the first and the last included. */
export type Period = { readonly from: string; readonly to: string }

export const within = (p: Period, day: string): boolean => day >= p.from && day <= p.to

/** Two weeks: long enough for some stops at one place, short enough to be about how it goes now. A choice. */
export const LATELY = 14
const lastWeeks = (today: string): Period => ({ from: dayAfter(today, 1 - LATELY), to: today })

/** Where it breaks: in all that was given, and in the last two weeks. */
export type RecentStops = { readonly all: Stops; readonly lately: Stops }

/** What was played in even rhythm, upward, on a ladder or in a take. */
const evenIds = (key: string): readonly string[] => (isEven(key) ? idsOf(key) : [])

/**
 * Where a passage or one of its sections breaks, in even rhythm: a place in the section counts whatever was played when
 * the music stopped there, the section, its neighbors joined, or the passage. Tempos of altered rhythms and of ladders
 * that lead down mean something else, and are left out.
 */
export const stopsIn = (
  { passage, section }: { readonly passage: Passage; readonly section: Section | null },
  visits: readonly Visit[],
  notes: readonly Note[],
  today: string,
): RecentStops => {
  const own = new Set([(section ?? passage).id])
  const others = new Set([passage, ...(passage.sections ?? [])].map(p => p.id))
  const whole = passageForm(passage)
  const span = section && whole.ok ? sectionSpan(whole.value, section) : null
  const inside = (place: string): boolean => {
    if (!section) return true
    const at = whole.ok ? parsePlace(place, whole.value) : null
    return !!at?.ok && !!span?.ok && compare(span.value.from, at.value) <= 0 && less(at.value, span.value.to)
  }
  const isOwn = (key: string): boolean => {
    const ids = evenIds(key)
    return ids.length === 1 && own.has(ids[0] as string)
  }
  const near = (key: string): boolean => evenIds(key).some(id => others.has(id))
  const stopped = visits
    .filter(v => v.stops.length > 0 && near(v.key))
    .map(v => (isOwn(v.key) ? v : { ...v, stops: v.stops.filter(s => inside(s.place)) }))
  const noted = notes.filter(
    n =>
      n.kind === 'wrong' &&
      n.key !== undefined &&
      (isOwn(n.key) || (near(n.key) && n.place !== undefined && inside(n.place))),
  )
  const recent = lastWeeks(today)
  const letters = lettersOfPassage(passage)
  return {
    all: stopsAt(stopped, noted, letters),
    lately: stopsAt(
      stopped.filter(v => within(recent, localDay(v.time, v.offset))),
      noted.filter(n => within(recent, noteDay(n))),
      letters,
    ),
  }
}

/** A row of the table of places. */
export type StopRow = StopPlace & { readonly label: string }

/** Places of everything that was played, under the name of the passage, most stops first; altered rhythms apart. */
export const stopRows = (
  visits: readonly Visit[],
  notes: readonly Note[],
  labelOf: (key: string) => string,
  lettersOf: (key: string) => Letters | null,
): readonly StopRow[] => {
  const labels = new Map(
    [...visits, ...notes].flatMap(x => (x.key === undefined ? [] : [[labelOf(x.key), x.key]])),
  )
  return [...labels]
    .flatMap(([label, key]) => {
      const mine = (x: { readonly key?: string }): boolean => x.key !== undefined && labelOf(x.key) === label
      return stopsAt(visits.filter(mine), notes.filter(mine), lettersOf(key)).places.map(p => ({
        ...p,
        label,
      }))
    })
    .sort((a, b) => b.stops - a.stops || b.wrongs.length - a.wrongs.length)
}
