import type { Visit } from '../ladder/history.ts'
import { compareTempo, sameTempo, spoken, type Tempo, typed } from '../music/tempo.ts'
import type { Note, Wrong } from '../repertoire/note.ts'
import { spotText } from './note-words.ts'

/** Stops at one place, and what the player noted of it. */
export type Break = {
  /** "43.2" = measure and beat (see music/place.ts). */
  readonly place: string
  readonly stops: number
  /** Slowest and fastest tempo of the stops; null = none, only notes. */
  readonly tempos: readonly [Tempo, Tempo] | null
  readonly wrongs: readonly Wrong[]
}

/** Where some music breaks: all stops, places with most stops first, and what slips were noted to be. */
export type Breaks = {
  readonly stops: number
  readonly places: readonly Break[]
  /** Of all notes, those without a place too. */
  readonly wrongs: readonly Wrong[]
}

const inNumbers = (a: string, b: string): number => a.localeCompare(b, 'en', { numeric: true })

/** Of visits and notes that belong together; altered rhythms are counted apart, since their tempos are. */
export const breaksOf = (visits: readonly Visit[], notes: readonly Note[]): Breaks => {
  const stops = visits.flatMap(v => v.stops)
  const wrongs = notes.flatMap(n => (n.k === 'wrong' ? [n] : []))
  const names = new Set([...stops, ...wrongs].flatMap(s => (s.place ? [s.place] : [])))
  const places = [...names].map((place): Break => {
    const tempos = stops
      .filter(s => s.place === place)
      .map(s => s.tempo)
      .sort(compareTempo)
    const [low, high] = [tempos[0], tempos.at(-1)]
    return {
      place,
      stops: tempos.length,
      tempos: low && high ? [low, high] : null,
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

const list = (places: readonly Break[]): string => {
  const more = places.length - NAMED
  const named = places.slice(0, NAMED).map(p => spotText(p.place))
  return [...named, ...(more > 0 ? [`${more} more`] : [])].join('; ')
}

const stopsText = ({ stops, places }: Breaks): string => {
  const broken = places.filter(p => p.stops > 0)
  const [first] = broken
  if (!first?.tempos) return 'no stops'
  const alike = broken.filter(p => p.stops === first.stops)
  const at = fromText(first.tempos)
  if (stops === 1) return `one stop, in ${spotText(first.place)}, ${at}`
  if (stops === first.stops)
    return `breaks in ${spotText(first.place)}: ${stops === 2 ? 'both' : `all ${stops}`} stops, ${at}`
  if (first.stops === 1) return `${stops} stops, each at another place: ${list(alike)}`
  if (alike.length > 1)
    return `breaks most in ${alike.length} places, ${first.stops} of ${stops} stops each: ${list(alike)}`
  return `breaks most in ${spotText(first.place)}: ${first.stops} of ${stops} stops, ${at}`
}

/**
 * "breaks most in m. 43, beat 2: 7 of 12 stops, from quarter = 108 up; kind: rhythm 4, notes 2", and where more slips were
 * noted than those of that place, ", all slips noted: rhythm 6, breath 1". Empty where nothing broke.
 */
export const breaksText = (b: Breaks): string => {
  if (b.stops === 0 && b.wrongs.length === 0) return ''
  const [first] = b.places
  const here = first && first.stops > 1 ? first.wrongs : []
  return [
    stopsText(b),
    here.length > 0 ? `kind: ${wrongsText(here)}` : '',
    b.wrongs.length > here.length ? `slips noted: ${wrongsText(b.wrongs)}` : '',
  ]
    .filter(Boolean)
    .join('; ')
}

export const breaksJson = ({ places, ...b }: Breaks) => ({
  ...b,
  places: places.map(p => ({ ...p, tempos: p.tempos?.map(typed) ?? null })),
})
