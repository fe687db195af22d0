import { opening } from '../ladder/start.ts'
import { parseDay } from '../music/day.ts'
import { compare, type Frac } from '../music/fraction.ts'
import { type Meter, measureLength, meterText, parseMeter } from '../music/meter.ts'
import { noteValueName, parseNoteValue } from '../music/note-value.ts'
import { ok, printable, problem, type Result } from '../music/result.ts'
import { compareTempo, parseTempo, splitGoal, type Tempo, typed } from '../music/tempo.ts'
import { sameName } from './find-piece.ts'
import type { Passage, Piece } from './piece.ts'

/** In the order in which they are asked for; what a field needs stands before it. */
const FIELDS = [
  'title',
  'place',
  'passage',
  'measures',
  'meter',
  'pickup',
  'goal',
  'start',
  'readyBy',
  'note',
] as const
export type Field = (typeof FIELDS)[number]

/** A passage as the player types it. A field that is absent or empty takes its default. */
export type Draft = { readonly [F in Field]?: string | undefined }

/** What a draft is checked against: the local day ("2026-03-14") and the pieces that are there. */
export type Around = { readonly today: string; readonly pieces: readonly Piece[] }

type Values = {
  readonly title: string
  /** As printed in the part: "41-44"; null = not said. */
  readonly place: string | null
  readonly passage: string
  readonly measures: number
  readonly meter: Meter
  readonly pickup: Frac | null
  readonly goal: Tempo
  readonly start: Tempo | null
  readonly readyBy: string | null
  readonly note: string | null
}

/** The pieces that a title or an id speaks of. */
export const piecesCalled = (title: string, pieces: readonly Piece[]): readonly Piece[] =>
  pieces.filter(p => p.id === title || sameName(p.title, title))

const clean = (s: string | undefined): string => printable(s ?? '').trim()

const words = (s: string | undefined, field: string, most: number): Result<string | null> => {
  const text = clean(s)
  if (text === '') return ok(null)
  return text.length <= most
    ? ok(text)
    : problem(field, `${text.slice(0, 40)}...`, `text of at most ${most} characters`)
}

/** First and last measure of "41-44"; one measure is both. Null for any other place ("letter C"). */
export const range = (place: string): { readonly first: number; readonly last: number } | null => {
  const m = /^(?:mm?\.?\s*)?(\d{1,4})(?:\s*[-\u2013]\s*(\d{1,4}))?$/i.exec(place)
  return m ? { first: Number(m[1]), last: Number(m[2] ?? m[1]) } : null
}

const MOST_MEASURES = 999

const CHECKS: { readonly [F in Field]: (d: Draft, a: Around) => Result<Values[F]> } = {
  title: d => {
    const title = words(d.title, 'title', 120)
    if (!title.ok) return title
    return title.value === null ? problem('title', '', 'the title as it stands on the part') : ok(title.value)
  },
  place: d => {
    const place = words(d.place, 'place', 40)
    const found = place.ok && place.value !== null ? range(place.value) : null
    if (!found) return place
    const { first, last } = found
    if (first < 1 || last < first)
      return problem('place', d.place ?? '', 'first and last measure as printed, as 41-44')
    return ok(first === last ? `${first}` : `${first}-${last}`)
  },
  passage: (d, a) => {
    const name = words(d.passage, 'passage', 80)
    const place = CHECKS.place(d, a)
    if (!name.ok || !place.ok) return name.ok ? ok('') : name
    const value = name.value ?? place.value
    if (value === null) return problem('passage', '', 'a name, as: run at the weir')
    const [piece] = piecesCalled(clean(d.title), a.pieces)
    return piece?.passages.some(p => sameName(p.name, value))
      ? problem('passage', value, `a name that no other passage of ${piece.title} has`)
      : ok(value)
  },
  measures: d => {
    const text = clean(d.measures)
    const placed = range(clean(d.place))
    const count = text === '' && placed ? placed.last - placed.first + 1 : Number(text)
    const whole = (text === '' ? placed !== null : /^\d{1,4}$/.test(text)) && count >= 1
    return whole && count <= MOST_MEASURES
      ? ok(count)
      : problem(
          'measures',
          text || clean(d.place),
          `how many, from 1 to ${MOST_MEASURES}, or a place as 41-44`,
        )
  },
  meter: d => parseMeter(clean(d.meter) || '4/4'),
  pickup: (d, a) => {
    const text = clean(d.pickup)
    if (text === '' || text.toLowerCase() === 'none') return ok(null)
    const value = parseNoteValue(text, 'pick-up')
    const meter = CHECKS.meter(d, a)
    return value.ok && meter.ok && compare(value.value, measureLength(meter.value)) >= 0
      ? problem('pick-up', text, `a note value shorter than a measure of ${meterText(meter.value)}`)
      : value
  },
  goal: d => {
    const { goal, top } = splitGoal(clean(d.goal))
    const low = parseTempo(goal, 'goal tempo')
    const high = top === null ? low : parseTempo(top, 'goal tempo')
    if (!low.ok || !high.ok) return low.ok ? high : low
    return compareTempo(low.value, high.value) <= 0
      ? low
      : problem('goal tempo', clean(d.goal), 'the slower end first, as 116-124')
  },
  start: (d, a) => {
    const text = clean(d.start)
    const start = text === '' ? ok(null) : parseTempo(text, 'start tempo')
    const goal = CHECKS.goal(d, a)
    if (!start.ok || !goal.ok) return start
    if (start.value && compareTempo(start.value, goal.value) > 0)
      return problem('start tempo', text, `a tempo at or below the goal (${typed(goal.value)})`)
    const ladder = opening(start.value, goal.value, { k: 'notch' }, null)
    return ladder.ok ? start : ladder
  },
  readyBy: (d, a) => {
    const text = clean(d.readyBy)
    if (text === '') return ok(null)
    return parseDay(text, 'ready by', { from: a.today })
  },
  note: d => words(d.note, 'note', 400),
}

/** One field in the light of the others: its value, or the sentence's three parts. */
export const checkField = <F extends Field>(field: F, d: Draft, a: Around): Result<Values[F]> =>
  CHECKS[field](d, a)

/** The upper end of a goal that was typed as a range ("116-124"), as a passage has it. */
const goalTop = (d: Draft): { readonly goalTop?: string } => {
  const { top } = splitGoal(clean(d.goal))
  const high = top === null ? null : parseTempo(top)
  return high?.ok ? { goalTop: typed(high.value) } : {}
}

/** The passage that a draft describes, under this id, and its title; or the first field that is wrong. */
export const readDraft = (
  d: Draft,
  a: Around,
  id: string,
): Result<{ readonly title: string; readonly passage: Passage }> => {
  const values: Partial<Record<Field, unknown>> = {}
  for (const field of FIELDS) {
    const read = CHECKS[field](d, a)
    if (!read.ok) return read
    values[field] = read.value
  }
  const { title, place, passage, measures, meter, pickup, goal, start, readyBy, note } = values as Values
  return ok({
    title,
    passage: {
      id,
      name: passage,
      ...(place === null ? {} : { measures: place }),
      meter: meterText(meter),
      count: measures,
      pickup: pickup && noteValueName(pickup),
      ...(start === null ? {} : { start: typed(start) }),
      goal: typed(goal),
      ...goalTop(d),
      ...(readyBy === null ? {} : { readyBy }),
      ...(note === null ? {} : { note }),
    },
  })
}
