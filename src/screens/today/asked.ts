import { parseWeek, weekWords } from '../../music/day-words.ts'
import type { Tempo } from '../../music/tempo.ts'
import type { Load } from '../../plan/load.ts'
import type { NoteBody } from '../../repertoire/note.ts'
import { editLine, type Line, type LineAction, lineOf } from '../line.ts'
import type { Written } from '../note/words.ts'
import type { NameOf } from './line-words.ts'
import { AFTER_FIELDS, closeWords, daysWords, manyWords, someWords, wayWords } from './words.ts'

/** A way out where it is too much for the days that are left, and what it changes. */
export type Way = {
  readonly text: string
  readonly does:
    | { readonly kind: 'minutes'; readonly minutes: number }
    | { readonly kind: 'lower'; readonly share: number }
    | { readonly kind: 'some' }
    | { readonly kind: 'later' }
    | { readonly kind: 'days'; readonly days: string; readonly said: string }
    | { readonly kind: 'note'; readonly note: NoteBody; readonly said: string }
    /** What is typed then. */
    | { readonly kind: 'write'; readonly as: Written }
    | { readonly kind: 'leave' }
}

const whole = (t: Tempo): number => Math.round(t.bpm.n / t.bpm.d)

/** The ways out, each with its number; none where it is not too much. */
export const waysOf = (load: Load | null, named: NameOf): readonly Way[] => {
  if (!load?.offers) return []
  const { minutes, share, ready, lower } = load.offers
  return [
    ...(minutes === null
      ? []
      : [{ text: wayWords.minutes(minutes), does: { kind: 'minutes', minutes } as const }]),
    { text: wayWords.lower(Math.floor(share * 100)), does: { kind: 'lower', share } },
    {
      text: someWords(
        ready.map(r => named(r)),
        lower.map(l => manyWords(named(l), whole(l.tempo))),
      ),
      does: { kind: 'some' },
    },
    { text: wayWords.later, does: { kind: 'later' } },
  ]
}

/** The days of the week on which most people play, as they are kept. */
const WEEKS = ['every day', 'mon,tue,wed,thu,fri', 'mon,tue,wed,thu,fri,sat'] as const

/** On which days the player plays: asked once, when there is a date to count to. */
export const daysAsked: readonly Way[] = [
  ...WEEKS.flatMap((days): readonly Way[] => {
    const week = parseWeek(days)
    const words = week.ok ? weekWords(week.value) : ''
    return [{ text: daysWords.on(words), does: { kind: 'days', days, said: daysWords.counted(words) } }]
  }),
  { text: daysWords.others, does: { kind: 'days', days: WEEKS[0], said: daysWords.type } },
]

/** Passages that are offered by name at the close of a day: more would be a long way for a foot. */
const MOST = 3

/** The close of a day: any pain, what comes first tomorrow, a question for the teacher, in the player's own words too; each may be left out. */
export const closingOf = (
  played: readonly { readonly key: string; readonly label: string }[],
): readonly Way[] => {
  const some = played.slice(0, MOST)
  const about = (k: 'tomorrow' | 'teacher') =>
    some.map(
      ({ key, label }): Way => ({
        text: closeWords[k](label),
        does: {
          kind: 'note',
          note: { kind: k, text: label, key },
          said: closeWords.kept(closeWords[k](label)),
        },
      }),
    )
  const words = (as: keyof typeof closeWords.words): Way => ({
    text: closeWords.words[as],
    does: { kind: 'write', as },
  })
  return [
    { text: closeWords.leave, does: { kind: 'leave' } },
    words('pain'),
    ...about('tomorrow'),
    words('tomorrow'),
    ...about('teacher'),
    words('teacher'),
  ]
}

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
