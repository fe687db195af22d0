import { editLine, type Line, type LineAction, lineOf } from '../line.ts'

/** What is asked once after a date; each may be left out. */
export const AFTER_FIELDS = [
  {
    key: 'tempo',
    label: 'true tempo',
    hint: 'As it was taken: 126 or half=63, or a ratio like x0.92. Empty: as it was.',
  },
  { key: 'spots', label: 'spots', hint: 'What was hard, in your own words. Kept as a note.' },
  {
    key: 'next',
    label: 'next date',
    hint: 'The day it has to be ready by again: Friday, in 6 days, March 14. Empty: no date.',
  },
] as const

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
