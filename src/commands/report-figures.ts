import { standing } from '../ladder/fold.ts'
import type { Visit } from '../ladder/history.ts'
import { sectionKey } from '../ladder/key.ts'
import { isReady, secure } from '../ladder/ready.ts'
import { faster, slower, type Tempo } from '../music/tempo.ts'
import { localDay } from '../store/day.ts'
import type { Note, Wrong } from '../store/notes.ts'
import type { Passage, Piece } from '../store/piece.ts'
import type { JournalRead } from '../store/read-journal.ts'
import { type Known, takesOf } from './known.ts'
import { type Named, namesOf, nameText } from './practiced-names.ts'
import { passageMusic, placeText } from './target.ts'

/** Local days, the first and the last included. */
export type Period = { readonly from: string; readonly to: string }

/** A passage, or a section of one. Counts are of the period; tempos as they stand today. */
export type Part = {
  readonly key: string
  readonly label: string
  readonly goal: Tempo
  readonly ceiling: Tempo | null
  readonly secure: Tempo | null
  readonly ready: boolean
  readonly clean: number
  readonly verdicts: number
  /** The ceiling after the first day of the period on which it was played; null = not played, or no ceiling. */
  readonly first: Tempo | null
}

/** What else was played of the piece: joined sections, seams, altered rhythms, takes. */
export type Other = Pick<Part, 'label' | 'clean' | 'verdicts'>

/** Stops at one place, and what the player noted of it. */
export type Break = {
  readonly label: string
  /** "43.2" = measure and beat. */
  readonly place: string
  readonly stops: number
  /** Slowest and fastest tempo of the stops; null = none, only notes. */
  readonly tempos: readonly [Tempo, Tempo] | null
  readonly wrongs: readonly Wrong[]
}

export const dayOf = (v: { readonly time: string; readonly offset: number }): string =>
  localDay(v.time, v.offset)
export const within = (p: Period, day: string): boolean => day >= p.from && day <= p.to
const total = (all: readonly number[]): number => all.reduce((a, b) => a + b, 0)

/** Whether a key is of one of these passages, earlier forms of their music included. */
export const keysOf = (passages: readonly Passage[]): ((key: string) => boolean) => {
  const ids = new Set(
    passages.flatMap(p => [p, ...(p.sections ?? [])].flatMap(part => [part.id, ...(part.was ?? [])])),
  )
  return key => key.split(/[ +]/).some(id => ids.has(id))
}

/** What the piece's name is not needed for. */
const short = (n: Named): string => nameText({ ...n, piece: '' })

const sums = (visits: readonly Visit[]): { clean: number; verdicts: number } => ({
  clean: total(visits.map(v => v.clean)),
  verdicts: total(visits.map(v => v.verdicts)),
})

const highest = (visits: readonly Visit[]): Tempo | null =>
  visits.reduce<Tempo | null>(
    (best, v) => (v.ceiling ? (best ? faster(best, v.ceiling) : v.ceiling) : best),
    null,
  )

const firstCeiling = (visits: readonly Visit[], period: Period): Tempo | null => {
  const days = visits
    .filter(v => v.played > 0)
    .map(dayOf)
    .filter(d => within(period, d))
    .sort()
  const upTo = (day: string): Tempo | null => highest(visits.filter(v => dayOf(v) <= day))
  return days.map(upTo).find(t => t !== null) ?? null
}

const partOf = (all: Known, key: string, label: string, goal: Tempo, period: Period): Part => {
  const history = all.of(key)
  const visits = history?.visits ?? []
  const takes = takesOf(all, key)
  const ceiling = history?.ceiling ?? null
  return {
    key,
    label,
    goal,
    ceiling,
    secure: secure(takes),
    ready: isReady(ceiling, goal, takes),
    ...sums(visits.filter(v => within(period, dayOf(v)))),
    first: firstCeiling(visits, period),
  }
}

/** Each passage as a whole, then its sections. */
export const partsOf = (all: Known, passages: readonly Passage[], period: Period): readonly Part[] =>
  passages.flatMap(p => [
    partOf(all, sectionKey(p.id), placeText(p), passageMusic(p).goal, period),
    ...(p.sections ?? []).map(s =>
      partOf(all, sectionKey(s.id), `${placeText(p)}, section ${s.name}`, passageMusic(p, s).goal, period),
    ),
  ])

/** What else was judged in the period, by its name; what is no longer in the piece is left out. */
export const othersOf = (
  visits: readonly Visit[],
  piece: Piece,
  parts: readonly Part[],
): readonly Other[] => {
  const known = new Set(parts.map(p => p.key))
  const name = namesOf([piece])
  const byLabel = new Map<string, Visit[]>()
  for (const v of visits) {
    const named = name(v.key)
    if (known.has(v.key) || named.passage === '' || v.verdicts === 0) continue
    const label = short(named)
    byLabel.set(label, [...(byLabel.get(label) ?? []), v])
  }
  return [...byLabel].map(([label, of]) => ({ label, ...sums(of) }))
}

type Spot = { label: string; place: string; tempos: Tempo[]; wrongs: Wrong[] }

/**
 * Where it stopped in the period: the same place of a passage counts together, whichever section was played; altered
 * rhythms are apart, since their tempos are. Most stops first.
 */
export const breaksOf = (
  journal: JournalRead,
  notes: readonly Note[],
  piece: Piece,
  mine: (key: string) => boolean,
  period: Period,
): readonly Break[] => {
  const name = namesOf([piece])
  const spots = new Map<string, Spot>()
  const spot = (key: string, place: string): Spot => {
    const named = name(key)
    const label = short({ ...named, section: '', take: null })
    const found = spots.get(`${label} ${place}`) ?? { label, place, tempos: [], wrongs: [] }
    spots.set(`${label} ${place}`, found)
    return found
  }
  for (const visit of journal.visits) {
    const [opened] = visit
    if (opened?.k !== 'visit' || !mine(opened.key) || !within(period, dayOf(opened))) continue
    for (const e of standing(visit))
      if (e.k === 'verdict' && !e.clean && e.place) spot(opened.key, e.place).tempos.push(e.tempo)
  }
  for (const n of notes)
    if (n.k === 'wrong' && n.place && n.key && mine(n.key)) spot(n.key, n.place).wrongs.push(n.what)
  return [...spots.values()]
    .map(s => ({
      label: s.label,
      place: s.place,
      stops: s.tempos.length,
      tempos: s.tempos.length > 0 ? ([s.tempos.reduce(slower), s.tempos.reduce(faster)] as const) : null,
      wrongs: s.wrongs,
    }))
    .sort((a, b) => b.stops - a.stops || b.wrongs.length - a.wrongs.length)
}

/** Days and seconds of practice in a period. */
export const playedIn = (visits: readonly Visit[]): { readonly days: number; readonly seconds: number } => {
  const played = visits.filter(v => v.played > 0)
  return { days: new Set(played.map(dayOf)).size, seconds: total(played.map(v => v.seconds)) }
}
