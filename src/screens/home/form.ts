import { daysAway, dayText, weekday } from '../../music/day-words.ts'
import { meterText } from '../../music/meter.ts'
import { noteValueName } from '../../music/note-value.ts'
import { problem, sentence } from '../../music/result.ts'
import { spoken } from '../../music/tempo.ts'
import { type Around, checkField, type Draft, type Field, piecesCalled } from '../../repertoire/draft.ts'
import { editLine, type LineAction } from '../line.ts'

/** Fields that are filled in by keyboard; what is typed stays until it is stored. */
export type Form = {
  readonly fields: readonly Field[]
  readonly text: Draft
  /** Index of the field in hand, and the place in its text where typing goes, in characters. */
  readonly at: number
  readonly cursor: number
  /** Fields that were left: they are checked from then on. */
  readonly left: readonly Field[]
}

export type FormAction = LineAction | { readonly k: 'field'; readonly by: 1 | -1 }

export const PIECE_FIELDS: readonly Field[] = [
  'title',
  'measures',
  'passage',
  'meter',
  'pickup',
  'goal',
  'start',
  'readyBy',
]

export const newForm = (fields: readonly Field[]): Form => ({ fields, text: {}, at: 0, cursor: 0, left: [] })

const LONGEST = 120

export const fieldOf = (f: Form): Field => f.fields[f.at] as Field
export const textOf = (f: Form, field: Field): string => f.text[field] ?? ''

/** Leaves the field in hand for another one; it is checked from now on. */
export const goTo = (f: Form, at: number): Form => {
  const field = f.fields[at]
  if (field === undefined) return f
  const left = f.left.includes(fieldOf(f)) ? f.left : [...f.left, fieldOf(f)]
  return { ...f, left, at, cursor: [...textOf(f, field)].length }
}

export const editForm = (f: Form, a: FormAction): Form => {
  if (a.k === 'field') return goTo(f, f.at + a.by)
  const field = fieldOf(f)
  const line = editLine({ text: textOf(f, field), cursor: f.cursor }, a, LONGEST)
  return { ...f, text: { ...f.text, [field]: line.text }, cursor: line.cursor }
}

/** The form's texts as a draft: measures are a place as printed ("41-44"), or how many there are ("4"). */
export const draftOf = (f: Form): Draft => {
  const { measures = '', ...rest } = f.text
  return /^\s*\d*\s*$/.test(measures) ? f.text : { ...rest, place: measures }
}

const check = (f: Form, field: Field, around: Around) => {
  const draft = draftOf(f)
  const place = field === 'measures' ? checkField('place', draft, around) : null
  // One field here for both; so the sentence names the one that the player sees.
  if (place && !place.ok) return problem('measures', place.problem.got, place.problem.accepted)
  return checkField(field, draft, around)
}

/** The sentence about a field that was left, or null where nothing is wrong with it. */
export const wrong = (f: Form, field: Field, around: Around): string | null => {
  const read = f.left.includes(field) ? check(f, field, around) : null
  return read && !read.ok ? sentence(read.problem) : null
}

/** All fields left, and the first wrong one in hand; null = nothing is wrong. */
export const firstWrong = (f: Form, around: Around): Form | null => {
  const at = f.fields.findIndex(field => !check(f, field, around).ok)
  const all = { ...f, left: f.fields }
  return at < 0 ? null : goTo(all, at)
}

/** What was understood by a field, said beside it; empty where there is nothing to add. */
export const understood = (f: Form, field: Field, around: Around): string => {
  const draft = draftOf(f)
  const typed = textOf(f, field).trim() !== ''
  switch (field) {
    case 'title':
      return piecesCalled(textOf(f, 'title'), around.pieces).length > 0 ? 'there already: a passage more' : ''
    case 'measures': {
      const n = checkField('measures', draft, around)
      return n.ok ? (n.value === 1 ? '1 measure' : `${n.value} measures`) : ''
    }
    case 'meter': {
      const meter = checkField('meter', draft, around)
      return meter.ok && !typed ? meterText(meter.value) : ''
    }
    case 'pickup': {
      const pickup = checkField('pickup', draft, around)
      return pickup.ok ? (pickup.value ? noteValueName(pickup.value).replaceAll('-', ' ') : 'none') : ''
    }
    case 'goal':
    case 'start': {
      const tempo = checkField(field, draft, around)
      if (!tempo.ok) return ''
      return tempo.value ? spoken(tempo.value) : 'the first visit looks for it'
    }
    case 'readyBy': {
      const day = checkField('readyBy', draft, around)
      if (!day.ok) return ''
      if (day.value === null) return 'no date'
      const days = Math.round((Date.parse(day.value) - Date.parse(around.today)) / 86_400_000)
      return `${weekday(day.value)} ${dayText(day.value, around.today)}, ${daysAway(days)}`
    }
    default:
      return ''
  }
}

/** What a field is called, and what may be typed there. */
export const LABELS: Readonly<Record<Field, string>> = {
  title: 'title',
  place: 'place',
  passage: 'passage',
  measures: 'measures',
  meter: 'meter',
  pickup: 'pick-up',
  goal: 'goal',
  start: 'start',
  readyBy: 'ready by',
  note: 'note',
}

export const hintOf = (field: Field, around: Around): string => HINTS[field](around)

const HINTS: Readonly<Record<Field, (a: Around) => string>> = {
  title: () => 'As it stands on the part. A title that is there already gets one more passage.',
  place: () => 'First and last measure as printed, as 41-44.',
  passage: () => 'What you call it, as: run at the weir. Empty: by its measures.',
  measures: () => 'First and last as printed, as 41-44; or how many there are, as 4.',
  meter: () => '4/4, 6/8, 2+2+3/8 and so on. Empty: 4/4.',
  pickup: () => 'The note value before the first bar line, as eighth or dotted-quarter. Empty: none.',
  goal: () => 'Beats a minute, as 112 (quarters) or dotted-quarter=80.',
  start: () => 'The first tempo of the ladder. Empty: the first visit looks for it.',
  readyBy: a => `The day by which it has to be ready, as ${a.today}. Empty: no date.`,
  note: () => 'A word on the music.',
}
