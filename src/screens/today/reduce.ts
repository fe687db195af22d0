import { DAY_MINUTES } from '../../music/day.ts'
import type { Question } from '../../plan/dates.ts'
import { type DayLine, moved, nextOpen } from '../../plan/order.ts'
import { stepped } from '../choosing.ts'
import type { LineAction } from '../line.ts'
import type { Written } from '../note/words.ts'
import {
  type AfterForm,
  type Answers,
  answersOf,
  daysAsked,
  movedIn,
  newAfter,
  typedIn,
  type Way,
} from './asked.ts'
import { AFTER_FIELDS, closeWords, daysWords, NO_WAYS, wayWords } from './words.ts'

export type View = 'day' | 'after' | 'days' | 'ways' | 'close'

/** What the player changes of the plan. */
export type PlanChange =
  | { readonly kind: 'way'; readonly way: Way }
  | { readonly kind: 'matters'; readonly line: DayLine }
  | { readonly kind: 'light' }

/** What is said of the day beside its lines. */
export type Told = {
  readonly title: string
  /** Whether the time is enough, what waits, cautions. */
  readonly remarks: readonly string[]
  /** Pain was noted today: nothing is offered. */
  readonly pain: string | null
  /** The last evening: after its lines it stops. */
  readonly evening: boolean
  readonly questions: readonly Question[]
  /** Ways out where it is too much, and whether they are asked at once. */
  readonly ways: readonly Way[]
  readonly asksWay: boolean
  /** Nobody has said yet on which days the player plays, and there is a date. */
  readonly asksDays: boolean
  /** What the close of the day offers to keep. */
  readonly closing: readonly Way[]
}

export type State = Told & {
  readonly view: View
  readonly lines: readonly DayLine[]
  /** Place of the cursor: the questions, then the lines. */
  readonly at: number
  readonly minutes: number
  /** Minutes after midnight. */
  readonly now: number
  /** What has just been reached, and cautions. */
  readonly note: readonly string[]
  /** Answers that are being typed, by the piece and its date. */
  readonly forms: Readonly<Record<string, AfterForm>>
  /** The way out under the cursor. */
  readonly pick: number
  /** Being stored: nothing else is taken meanwhile. */
  readonly busy: boolean
}

export type DayChoice =
  | { readonly kind: 'leave' | 'pieces' }
  | { readonly kind: 'play'; readonly line: DayLine }

export type Effect =
  | { readonly kind: 'go'; readonly to: DayChoice }
  /** The order, or what is skipped, has changed. */
  | { readonly kind: 'keep' }
  | { readonly kind: 'plan'; readonly minutes: number }
  | { readonly kind: 'change'; readonly change: PlanChange }
  | { readonly kind: 'answer'; readonly question: Question; readonly answers: Answers }
  /** A note was kept: what is known of the day is read again. */
  | { readonly kind: 'noted' }
  /** Something is asked that is answered in words. */
  | { readonly kind: 'write'; readonly as: Written }

export type Action =
  /** `ends`: going round, the foot also comes to what ends the list. */
  | { readonly kind: 'choose'; readonly by: 1 | -1; readonly round?: boolean; readonly ends?: boolean }
  | { readonly kind: 'begin' | 'skip' | 'pieces' | 'back' | 'leave' | 'submit' }
  | { readonly kind: 'ways' | 'matters' | 'light' | 'noted' }
  /** A line by its place among those that are played. */
  | { readonly kind: 'to'; readonly at: number }
  | { readonly kind: 'move'; readonly by: 1 | -1 }
  | { readonly kind: 'minutes'; readonly by: number }
  | { readonly kind: 'field'; readonly by: 1 | -1 }
  | { readonly kind: 'edit'; readonly edit: LineAction }
  | { readonly kind: 'clock'; readonly now: number }
  /** The day anew, from the plan and the journal. */
  | {
      readonly kind: 'known'
      readonly told: Told
      readonly lines: readonly DayLine[]
      readonly minutes: number
      readonly note: readonly string[]
    }
  | { readonly kind: 'refused'; readonly text: string }

export type Step = { readonly state: State; readonly effects: readonly Effect[] }

const questionId = (q: Question): string => `${q.piece} ${q.readyBy}`

/** What is asked at once, before the day. */
const firstOf = (t: Told): View => {
  if (t.pain) return 'day'
  if (t.asksDays) return 'days'
  return t.asksWay && t.ways.length > 0 ? 'ways' : 'day'
}

/** Questions come first, then what is played, the next open line of it under the cursor. */
export const newState = (
  told: Told,
  lines: readonly DayLine[],
  minutes: number,
  now: number,
  note: readonly string[],
): State => ({
  ...told,
  view: firstOf(told),
  lines,
  at: told.questions.length > 0 ? 0 : (nextOpen(lines, 0) ?? 0),
  minutes,
  now,
  note,
  forms: {},
  pick: 0,
  busy: false,
})

const only = (state: State, ...effects: Effect[]): Step => ({ state, effects })

export const lineAt = (s: State): DayLine | undefined => s.lines[s.at - s.questions.length]
export const questionAt = (s: State): Question | undefined => s.questions[s.at]
export const formAt = (s: State): AfterForm => {
  const q = questionAt(s)
  return (q && s.forms[questionId(q)]) ?? newAfter()
}
const withForm = (s: State, form: AfterForm): State => {
  const q = questionAt(s)
  return q ? { ...s, note: [], forms: { ...s.forms, [questionId(q)]: form } } : s
}

/** All that was planned is over or skipped. */
export const isOver = (s: State): boolean => nextOpen(s.lines, 0) === null

/** After the last evening nothing more is begun here; who wants to all the same finds the pieces. */
const stopped = (s: State): boolean => s.evening && isOver(s)

/** Nothing is offered any more: it hurts, or the last evening is over. */
export const isClosed = (s: State): boolean => s.pain !== null || (stopped(s) && !questionAt(s))

/** The foot has come to the end of the day, where it stops. */
export const atStop = (s: State): boolean => s.at === s.questions.length + s.lines.length && s.at > 0

/** The list that lies over the day: the days of the week, ways out, or its close. */
export const menuOf = (s: State): readonly Way[] | null => {
  if (s.view === 'days') return daysAsked
  return s.view === 'ways' ? s.ways : s.view === 'close' ? s.closing : null
}

/** How many lines have a number. */
export const countOf = (s: State): number => menuOf(s)?.length ?? s.lines.length

/** What that list asks. */
export const menuTitle = (s: State): string => {
  if (s.view === 'days') return daysWords.title
  return s.view === 'close' ? closeWords.title : wayWords.title(s.minutes)
}

const choose = (s: State, by: 1 | -1, round: boolean, ends: boolean): Step => {
  const menu = menuOf(s)
  if (menu) return only({ ...s, pick: stepped(s.pick, menu.length, by, round) })
  const lines = s.questions.length + s.lines.length
  const count = lines + (ends && lines > 0 ? 1 : 0)
  return count === 0 || s.pain ? only(s) : only({ ...s, at: stepped(s.at, count, by, round) })
}

/** What the cursor stands on; what is done is played again only when the cursor was put there. */
const change = (s: State, what: PlanChange): Step =>
  only({ ...s, busy: true, note: [] }, { kind: 'change', change: what })

const begin = (s: State): Step => {
  const menu = menuOf(s)
  const way = menu?.[s.pick]
  if (way?.does.kind === 'leave') return only(s, { kind: 'go', to: { kind: 'leave' } })
  if (way?.does.kind === 'write') return only(s, { kind: 'write', as: way.does.as })
  if (menu) return way ? change(s, { kind: 'way', way }) : only({ ...s, view: 'day' })
  if (s.pain) return only(s)
  if (questionAt(s)) return only({ ...s, view: 'after', note: [] })
  if (atStop(s)) return only({ ...s, view: 'close', pick: 0 })
  const line = lineAt(s)
  if (!line || stopped(s)) return only(s)
  return only({ ...s, note: [] }, { kind: 'go', to: { kind: 'play', line } })
}

const skip = (s: State): Step => {
  const line = lineAt(s)
  if (!line || line.state === 'done' || s.pain) return only(s)
  const state = line.state === 'open' ? 'skipped' : 'open'
  const lines = s.lines.map(l => (l === line ? ({ ...l, state } as const) : l))
  const at =
    state === 'open'
      ? s.at
      : s.questions.length + (nextOpen(lines, s.at - s.questions.length) ?? s.at - s.questions.length)
  return only({ ...s, lines, at, note: [] }, { kind: 'keep' })
}

const move = (s: State, by: 1 | -1): Step => {
  const line = lineAt(s)
  if (!line || s.pain) return only(s)
  const lines = moved(s.lines, line.name, by)
  const at = s.questions.length + lines.findIndex(l => l.name === line.name)
  return lines === s.lines ? only(s) : only({ ...s, lines, at, note: [] }, { kind: 'keep' })
}

const plan = (s: State, by: number): Step => {
  const minutes = Math.max(DAY_MINUTES.least, Math.min(DAY_MINUTES.most, s.minutes + by))
  return minutes === s.minutes || s.pain
    ? only(s)
    : only({ ...s, minutes, busy: true }, { kind: 'plan', minutes })
}

const submit = (s: State): Step => {
  const form = formAt(s)
  const question = questionAt(s)
  if (!question) return only({ ...s, view: 'day' })
  if (form.at < AFTER_FIELDS.length - 1) return only(withForm(s, movedIn(form, 1)))
  return only({ ...s, busy: true }, { kind: 'answer', question, answers: answersOf(form) })
}

/** The cursor stays on its line; where that is over it goes to the next open one. */
const known = (s: State, { told, lines, minutes, note }: Action & { kind: 'known' }): State => {
  const before = lineAt(s)
  const asked = told.questions.length
  const here = lines.findIndex(l => l.name === before?.name)
  const place = Math.max(0, here >= 0 ? here : s.at - s.questions.length)
  const stays = lines[here]?.state === 'open'
  const line = stays ? here : (nextOpen(lines, place) ?? Math.min(place, Math.max(0, lines.length - 1)))
  const at = asked > 0 && questionAt(s) ? Math.min(s.at, asked - 1) : asked + line
  // The last line leads to the close of the day; what is kept there leaves it open.
  const over = (all: readonly DayLine[]): boolean => all.length > 0 && nextOpen(all, 0) === null
  const closes = s.view === 'close' || (over(lines) && !over(s.lines))
  const open = s.view === 'days' ? firstOf(told) : 'day'
  const view = closes && told.pain === null ? 'close' : open
  return { ...s, ...told, lines, minutes, note, at, view, busy: false, pick: 0 }
}

/** The day's next state, and what is to be done beside it. Pure: the time comes in. */
export const reduce = (s: State, a: Action): Step => {
  switch (a.kind) {
    case 'leave':
      return only(s, { kind: 'go', to: { kind: 'leave' } })
    case 'clock':
      return only({ ...s, now: a.now })
    case 'known':
      return only(s.busy && a.minutes !== s.minutes ? s : known(s, a))
    case 'refused':
      return only({ ...s, busy: false, note: [a.text] })
    case 'noted':
      return only(s, { kind: 'noted' })
  }
  // Five more and five more again: the plan of the last press counts.
  if (s.busy && a.kind !== 'minutes') return only(s)
  switch (a.kind) {
    case 'choose':
      return choose(s, a.by, a.round === true, a.ends === true)
    case 'ways':
      return only(s.ways.length > 0 && !s.pain ? { ...s, view: 'ways', pick: 0 } : { ...s, note: [NO_WAYS] })
    case 'matters': {
      const line = lineAt(s)
      return line && !s.pain ? change(s, { kind: 'matters', line }) : only(s)
    }
    case 'light':
      return change(s, { kind: 'light' })
    case 'to':
      if (menuOf(s)) return only(menuOf(s)?.[a.at] ? { ...s, pick: a.at } : s)
      return only(s.lines[a.at] && !s.pain ? { ...s, at: s.questions.length + a.at, note: [] } : s)
    case 'begin':
      return begin(s)
    case 'skip':
      return skip(s)
    case 'move':
      return move(s, a.by)
    case 'minutes':
      return plan(s, a.by)
    case 'pieces':
      return only({ ...s, note: [] }, { kind: 'go', to: { kind: 'pieces' } })
    case 'back':
      return only({ ...s, view: 'day' })
    case 'submit':
      return submit(s)
    case 'field':
      return only(withForm(s, movedIn(formAt(s), a.by)))
    case 'edit':
      return only(withForm(s, typedIn(formAt(s), a.edit)))
  }
}
