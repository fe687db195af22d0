import type { Visit } from '../ladder/history.ts'
import { idsOf, isEven } from '../ladder/key.ts'
import { dayAfter, localDay } from '../music/day.ts'
import { compare, less } from '../music/fraction.ts'
import { parsePlace } from '../music/place.ts'
import { type Note, noteDay } from '../repertoire/note.ts'
import { passageForm, sectionSpan } from '../repertoire/passage-form.ts'
import type { Passage, Section } from '../repertoire/piece.ts'
import { type Break, type Breaks, breaksOf } from './breaks.ts'

/** Local days, the first and the last included. */
export type Period = { readonly from: string; readonly to: string }

export const within = (p: Period, day: string): boolean => day >= p.from && day <= p.to

/** Two weeks: long enough for some stops at one place, short enough to be about how it goes now. A choice. */
export const LATELY = 14
export const lastWeeks = (today: string): Period => ({ from: dayAfter(today, 1 - LATELY), to: today })

/** Where it breaks: in all that was given, and in the last two weeks. */
export type Broken = { readonly all: Breaks; readonly lately: Breaks }

/** What was played in even rhythm, upward, on a ladder or in a take. */
const evenIds = (key: string): readonly string[] => (isEven(key) ? idsOf(key) : [])

/**
 * Where a passage or one of its sections breaks, in even rhythm: a place in the section counts whatever was played when
 * the music stopped there, the section, its neighbors joined, or the passage. Tempos of altered rhythms and of ladders
 * that lead down mean something else, and are left out.
 */
export const brokenIn = (
  { passage, section }: { readonly passage: Passage; readonly section: Section | null },
  visits: readonly Visit[],
  notes: readonly Note[],
  today: string,
): Broken => {
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
      n.k === 'wrong' &&
      n.key !== undefined &&
      (isOwn(n.key) || (near(n.key) && n.place !== undefined && inside(n.place))),
  )
  const recent = lastWeeks(today)
  return {
    all: breaksOf(stopped, noted),
    lately: breaksOf(
      stopped.filter(v => within(recent, localDay(v.time, v.offset))),
      noted.filter(n => within(recent, noteDay(n))),
    ),
  }
}

/** A row of the table of places. */
export type Place = Break & { readonly label: string }

/** Places of everything that was played, under the name of the passage, most stops first; altered rhythms apart. */
export const placesOf = (
  visits: readonly Visit[],
  notes: readonly Note[],
  labelOf: (key: string) => string,
): readonly Place[] => {
  const labels = new Set([...visits, ...notes].flatMap(x => (x.key === undefined ? [] : [labelOf(x.key)])))
  return [...labels]
    .flatMap(label => {
      const mine = (x: { readonly key?: string }): boolean => x.key !== undefined && labelOf(x.key) === label
      return breaksOf(visits.filter(mine), notes.filter(mine)).places.map(p => ({ ...p, label }))
    })
    .sort((a, b) => b.stops - a.stops || b.wrongs.length - a.wrongs.length)
}
