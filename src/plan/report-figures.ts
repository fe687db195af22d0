import type { Histories, Visit } from '../ladder/history.ts'
import { idsOf } from '../ladder/key.ts'
import { type Ladder, standing } from '../ladder/standing.ts'
import { type Instant, localDay } from '../music/day.ts'
import { faster, type Tempo } from '../music/tempo.ts'
import { ladderOf } from '../repertoire/ladder-of.ts'
import type { Note } from '../repertoire/note.ts'
import { isOpen, type Passage, type Piece, type Section } from '../repertoire/piece.ts'
import { placeText } from '../visit/subject.ts'
import { namesOf, nameText, type PracticedName } from './practiced-names.ts'
import { type Period, type RecentStops, stopsIn, within } from './stops.ts'

/** A passage, or a section of one. Counts are of the period; tempos as they stand today. */
export type Figures = {
  readonly key: string
  readonly label: string
  readonly goal: Tempo
  /** Upper end of a goal that is a range. */
  readonly top?: Tempo
  /** Nobody knows the goal yet. */
  readonly open?: true
  readonly ceiling: Tempo | null
  readonly secure: Tempo | null
  readonly ready: boolean
  readonly clean: number
  readonly verdicts: number
  /** The ceiling after the first day of the period on which it was played; null = not played, or no ceiling. */
  readonly first: Tempo | null
}

/** What else was played of the piece: joined sections, seams, altered rhythms, takes. */
export type Other = Pick<Figures, 'label' | 'clean' | 'verdicts'>

export const dayOf = (v: { readonly time: string; readonly offset: number }): string =>
  localDay(v.time, v.offset)
const total = (all: readonly number[]): number => all.reduce((a, b) => a + b, 0)

/** Whether a key is of one of these passages, earlier forms of their music included. */
export const keysOf = (passages: readonly Passage[]): ((key: string) => boolean) => {
  const ids = new Set(
    passages.flatMap(p => [p, ...(p.sections ?? [])].flatMap(part => [part.id, ...(part.was ?? [])])),
  )
  return key => idsOf(key).some(id => ids.has(id))
}

/** What the piece's name is not needed for. */
const short = (n: PracticedName): string => nameText({ ...n, piece: '' })

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

const partOf = (
  l: Ladder,
  label: string,
  open: boolean,
  all: Histories,
  period: Period,
  now: Instant,
): Figures => {
  const { key, goal, top, ceiling, secure, ready } = standing(l, all, now)
  const visits = all.of(key)?.visits ?? []
  return {
    key,
    label,
    goal,
    ...(top ? { top } : {}),
    ...(open ? { open } : {}),
    ceiling,
    secure,
    ready,
    ...sums(visits.filter(v => within(period, dayOf(v)))),
    first: firstCeiling(visits, period),
  }
}

/** Each passage as a whole, then its sections; a passage of which only sections were ever played is not a row. */
export const partsOf = (
  all: Histories,
  piece: Piece,
  passages: readonly Passage[],
  period: Period,
  now: Instant,
): readonly Figures[] =>
  passages.flatMap(p => {
    const whole = partOf(ladderOf(p), placeText(p), isOpen(piece), all, period, now)
    const sections = (p.sections ?? []).map(s =>
      partOf(ladderOf(p, [s]), `${placeText(p)}, section ${s.name}`, isOpen(piece), all, period, now),
    )
    const played = (key: string): boolean => (all.of(key)?.visits.length ?? 0) > 0
    return !played(whole.key) && sections.some(s => played(s.key)) ? sections : [whole, ...sections]
  })

/** What else was judged in the period, by its name; what is no longer in the piece is left out. */
export const othersOf = (
  visits: readonly Visit[],
  piece: Piece,
  parts: readonly Figures[],
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

/** What the places of a piece are listed under: the passage and the rhythm, whichever section was played. */
export const passageLabel = (piece: Piece): ((key: string) => string) => {
  const name = namesOf([piece])
  return key => short({ ...name(key), section: '', take: null })
}

/** Where each section breaks; a passage as a whole where it has none, or where it stops outside of them. */
export const sectionStops = (
  passages: readonly Passage[],
  visits: readonly Visit[],
  notes: readonly Note[],
  today: string,
): readonly (RecentStops & { readonly label: string })[] =>
  passages.flatMap(passage => {
    const one = (section: Section | null) => ({
      label: `${placeText(passage)}${section ? `, section ${section.name}` : ''}`,
      ...stopsIn({ passage, section }, visits, notes, today),
    })
    const whole = one(null)
    const sections = (passage.sections ?? []).map(one)
    const found = sections.reduce((n, s) => n + s.all.stops, 0)
    return [...sections, ...(found < whole.all.stops || sections.length === 0 ? [whole] : [])].filter(
      b => b.all.stops > 0 || b.all.wrongs.length > 0,
    )
  })

/** Days and seconds of practice in a period. */
export const playedIn = (visits: readonly Visit[]): { readonly days: number; readonly seconds: number } => {
  const played = visits.filter(v => v.played > 0)
  return { days: new Set(played.map(dayOf)).size, seconds: total(played.map(v => v.seconds)) }
}
