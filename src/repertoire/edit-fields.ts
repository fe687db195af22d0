import { changesFromText, parseChangesFrom } from '../music/changes.ts'
import { CLICKED } from '../music/clicked.ts'
import { parseDay } from '../music/day.ts'
import { meterText, parseMeter } from '../music/meter.ts'
import { noteValueName, parseLength } from '../music/note-value.ts'
import { ok, printable, problem, type Result } from '../music/result.ts'
import { parseTempo, typed } from '../music/tempo.ts'
import { MOST_RESTS } from './click-fields.ts'
import { range } from './draft.ts'
import { EXPOSURES, type Passage, type Piece, type Section, SURENESS } from './piece.ts'

/** What a field is read against: the local day ("2026-03-14"). */
export type Today = { readonly today: string }

/** One thing that can be changed in a T. An empty text, or "none", takes it out. */
export type EditField<T> = {
  readonly key: string
  /** What it is called on screen and in sentences. */
  readonly label: string
  readonly hint: string
  readonly get: (t: T) => string
  readonly set: (t: T, text: string, a: Today) => Result<T>
}

type Read = (text: string, label: string, a: Today) => Result<string>

const written =
  (most: number): Read =>
  (text, label) =>
    text.length <= most
      ? ok(text)
      : problem(label, `${text.slice(0, 40)}...`, `text of at most ${most} characters`)

const parsed =
  <V>(parse: (s: string, field: string) => Result<V>, show: (v: V) => string): Read =>
  (text, label) => {
    const read = parse(text, label)
    return read.ok ? ok(show(read.value)) : read
  }
const tempo = parsed(parseTempo, typed)
const length = parsed(parseLength, noteValueName)
const clicked = (k: keyof typeof CLICKED): Read =>
  parsed<unknown>(CLICKED[k].parse, CLICKED[k].show as (c: unknown) => string)

const day: Read = (text, label, { today }) => parseDay(text, label, { from: today })

const oneOf =
  (all: readonly string[]): Read =>
  (text, label) =>
    all.includes(text) ? ok(text) : problem(label, text, all.join(', '))

/** A field that may be absent: `empty` is what then stands there. */
const optional = <T>(
  key: string & keyof T,
  label: string,
  hint: string,
  read: Read,
  empty?: null,
): EditField<T> => ({
  key,
  label,
  hint: `${hint} Empty: none.`,
  get: t => String(t[key] ?? ''),
  set: (t, text, a) => {
    const { [key]: _, ...rest } = t
    if (text === '') return ok((empty === null ? { ...t, [key]: null } : rest) as T)
    const value = read(text, label, a)
    return value.ok ? ok({ ...t, [key]: value.value }) : value
  },
})

/** A field that is always there. */
const needed = <T>(
  key: string & keyof T,
  label: string,
  hint: string,
  read: Read,
  accepted: string,
): EditField<T> => ({
  key,
  label,
  hint,
  get: t => String(t[key] ?? ''),
  set: (t, text, a) => {
    const value = text === '' ? problem(label, '', accepted) : read(text, label, a)
    return value.ok ? ok({ ...t, [key]: value.value }) : value
  },
})

const readyBy = <T extends { readonly readyBy?: string }>(): EditField<T> =>
  optional('readyBy', 'ready by', 'The day by which it has to be ready, as 2026-03-14.', day)

export const PIECE_EDITS: readonly EditField<Piece>[] = [
  needed('title', 'title', 'As it stands on the part.', written(120), 'the title as it stands on the part'),
  readyBy(),
  optional('concert', 'concert', 'The day of the concert, as 2026-04-18.', day),
  optional('sure', 'goals are', `How sure the goal tempos are: ${SURENESS.join(', ')}.`, oneOf(SURENESS)),
]

/** A new place brings its own number of measures, and counts on from its first. */
const place: EditField<Passage> = {
  key: 'measures',
  label: 'place',
  hint: 'First and last measure as printed, as 41-44; or any place, as letter C. Empty: none.',
  get: p => p.measures ?? '',
  set: (p, text) => {
    const { measures: _, numbers: __, ...rest } = p
    if (text === '') return ok(rest)
    const found = range(text)
    if (!found) {
      const words = written(40)(text, 'place', { today: '' })
      return words.ok ? ok({ ...rest, measures: words.value }) : words
    }
    const { first, last } = found
    if (first < 1 || last < first)
      return problem('place', text, 'first and last measure as printed, as 41-44')
    return ok({
      ...rest,
      measures: first === last ? `${first}` : `${first}-${last}`,
      count: last - first + 1,
    })
  },
}

const count: EditField<Passage> = {
  key: 'count',
  label: 'measures',
  hint: 'How many whole measures, a pick-up not counted.',
  get: p => String(p.count),
  set: (p, text) =>
    /^\d{1,3}$/.test(text) && Number(text) > 0
      ? ok({ ...p, count: Number(text) })
      : problem('measures', text, 'how many, from 1 to 999'),
}

const rests: EditField<Passage> = {
  key: 'rests',
  label: 'rests',
  hint: 'Measures of rest that are counted before its entry, as 8. Empty: none.',
  get: p => String(p.rests ?? ''),
  set: (p, text) => {
    const { rests: _, ...rest } = p
    if (text === '') return ok(rest)
    return /^\d{1,2}$/.test(text) && Number(text) > 0
      ? ok({ ...p, rests: Number(text) })
      : problem('rests', text, `how many, from 1 to ${MOST_RESTS}`)
  },
}

const numbers: EditField<Passage> = {
  key: 'numbers',
  label: 'numbers',
  hint: 'What the measures are called, pick-up included, where they do not count on: 41 42 41 42 43. Empty: they count on.',
  get: p => (p.numbers ?? []).join(' '),
  set: (p, text) => {
    const { numbers: _, ...rest } = p
    return ok(text === '' ? rest : { ...rest, numbers: text.split(/[\s,]+/).filter(Boolean) })
  },
}

const pickup: EditField<Passage> = optional(
  'pickup',
  'pick-up',
  'The note value before the first bar line, as eighth or dotted-quarter.',
  length,
  null,
)

const GOAL = 'Beats a minute, as 112 (quarters) or dotted-quarter=80.'

/** What stands before a passage's changes, tempos, breaths and sections; and after them. */
export const PASSAGE_EDITS: readonly EditField<Passage>[] = [
  needed(
    'name',
    'name',
    'What you call it, as: run at the weir.',
    written(80),
    'a name, as: run at the weir',
  ),
  place,
  count,
  numbers,
  needed('meter', 'meter', '4/4, 6/8, 2+2+3/8 and so on.', parsed(parseMeter, meterText), 'a meter as 4/4'),
  pickup,
  optional('ends', 'ends', 'Where it ends inside its last measure, as 44.3.', written(24)),
  needed('goal', 'goal tempo', GOAL, tempo, 'beats a minute, as 112 (quarters) or dotted-quarter=80'),
  optional('goalTop', 'upper goal', 'The upper end of a goal that is a range, as 120.', tempo),
  optional(
    'start',
    'start tempo',
    'The first tempo of the ladder; without one the first visit looks for it.',
    tempo,
  ),
  readyBy(),
  optional('run', 'run', 'The length of the running notes, for altered rhythms, as 16th or 1/12.', length),
  optional('exposure', 'heard as', `How it is heard: ${EXPOSURES.join(', ')}.`, oneOf(EXPOSURES)),
  optional(
    'tempoChanges',
    'tempo change',
    'From which share of the goal its tempos change: always, or 60%. Usual: 80%.',
    parsed(parseChangesFrom, changesFromText),
  ),
  optional(
    'pulse',
    'pulse',
    'The note value that is counted and clicked: half, or quarter; half from 100.',
    clicked('pulse'),
  ),
  optional('subdivide', 'subdivide', 'Clicks to a beat: 2, or 2; 1 from 80.', clicked('subdivide')),
  optional('beats', 'beats', 'The beats that click: 2,4, or all; 1 from 112.', clicked('beats')),
  optional('on', 'measures on', 'So many measures click: 2, or all; 2 from 126.', clicked('on')),
  optional('off', 'measures off', 'Then so many measures do not: 2.', clicked('off')),
  rests,
  optional(
    'guide',
    'guide',
    'What the guide taps while it is practiced as written: notes.',
    oneOf(['notes']),
  ),
  optional('note', 'note', 'A word on the music, shown while practicing.', written(400)),
]

export const SECTION_EDITS: readonly EditField<Section>[] = [
  needed('name', 'name', 'What you call it, as 2.', written(80), 'a name, as 2'),
  needed('from', 'from', 'Where it begins, as 43 or 43.2.', written(24), 'a place, as 43 or 43.2'),
  needed(
    'to',
    'to',
    'Where it ends, as 44.2: after the first note of the next one, as a rule; or end.',
    written(24),
    'a place, as 44.2, or end',
  ),
]

/** What was typed for some fields, by their keys. */
export type Texts = { readonly [key: string]: string }

/** All fields that were typed, set one after another; or the first that is wrong. */
export const setFields = <T>(fields: readonly EditField<T>[], t: T, texts: Texts, a: Today): Result<T> => {
  let now = t
  for (const field of fields) {
    const text = texts[field.key]
    if (text === undefined) continue
    const plain = printable(text).trim()
    const set = field.set(now, plain === 'none' ? '' : plain, a)
    if (!set.ok) return set
    now = set.value
  }
  return ok(now)
}
