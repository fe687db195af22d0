import { editLine, type Line, type LineAction, lineOf } from '../line.ts'
import { AFTER_FIELDS } from './words.ts'

type AfterKey = (typeof AFTER_FIELDS)[number]['key']

/** The three answers as they are being typed. */
export type AfterForm = {
  readonly at: number
  readonly texts: Readonly<Record<AfterKey, Line>>
}

export const newAfter = (): AfterForm => ({
  at: 0,
  texts: { tempo: lineOf(''), spots: lineOf(''), next: lineOf('') },
})

/** The line in which one types. */
export const inHand = (f: AfterForm): Line => f.texts[AFTER_FIELDS[f.at]?.key ?? 'tempo']

const LONGEST = 300

export const typedIn = (f: AfterForm, a: LineAction): AfterForm => {
  const key = AFTER_FIELDS[f.at]?.key ?? 'tempo'
  return { ...f, texts: { ...f.texts, [key]: editLine(f.texts[key], a, LONGEST) } }
}

export const movedIn = (f: AfterForm, by: 1 | -1): AfterForm => ({
  ...f,
  at: Math.max(0, Math.min(AFTER_FIELDS.length - 1, f.at + by)),
})

export type Answers = Readonly<Record<AfterKey, string>>

export const answersOf = (f: AfterForm): Answers => ({
  tempo: f.texts.tempo.text.trim(),
  spots: f.texts.spots.text.trim(),
  next: f.texts.next.text.trim(),
})
