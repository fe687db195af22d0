import type { Edits } from '../../repertoire/edit.ts'
import type { HistoryChoice } from '../../repertoire/same-music.ts'
import {
  type Around,
  editForm,
  editsOf,
  type Form,
  type FormAction,
  firstWrong,
  goTo,
  isChanged,
} from './form.ts'
import { historyQuestion, NOT_STORED } from './words.ts'

/** The form; or a question: whether to store before leaving, or what becomes of the history. */
export type View = 'form' | 'leave' | 'history'

export type State = {
  readonly view: View
  readonly form: Form
  readonly around: Around
  /** Index of the chosen answer to the question. */
  readonly answer: number
  /** How many rows one page of the form has. */
  readonly page: number
  /** Which music is no longer the one that was practiced. */
  readonly moved: string
  /** Being stored: nothing else is taken meanwhile. */
  readonly busy: boolean
  readonly note: string
}

export type Effect =
  | { readonly kind: 'leave' }
  | { readonly kind: 'store'; readonly edits: Edits; readonly choice: HistoryChoice | null }

export type Action =
  | { readonly kind: 'edit'; readonly edit: FormAction }
  | { readonly kind: 'page' | 'choose'; readonly by: 1 | -1 }
  | { readonly kind: 'take' | 'next' | 'submit' | 'back' | 'leave' }
  | { readonly kind: 'asked' | 'refused'; readonly text: string }

type Answer = { readonly name: string; readonly says: string; readonly act: (s: State) => Step }

export type Step = { readonly state: State; readonly effects: readonly Effect[] }

export const newState = (form: Form, around: Around): State => ({
  view: 'form',
  form,
  around,
  answer: 0,
  page: 10,
  moved: '',
  busy: false,
  note: '',
})

const only = (state: State, ...effects: Effect[]): Step => ({ state, effects })
const toForm = (s: State): Step => only({ ...s, view: 'form' })

/** Stores what was typed, or has the first wrong row looked at. */
const store = (s: State, choice: HistoryChoice | null): Step => {
  const look = firstWrong(s.form, s.around)
  return look
    ? only({ ...s, view: 'form', form: look.form, note: look.says })
    : only({ ...s, busy: true, note: '' }, { kind: 'store', edits: editsOf(s.form), choice })
}

/** What each question asks. */
export const QUESTIONS: { readonly [V in Exclude<View, 'form'>]: (s: State) => string } = {
  leave: () => NOT_STORED,
  history: s => historyQuestion(s.moved),
}

/** The answers to each question, the harmless one first. */
export const ANSWERS: { readonly [V in Exclude<View, 'form'>]: readonly Answer[] } = {
  leave: [
    { name: 'Store it', says: 'keeps what you typed', act: s => store(s, null) },
    {
      name: 'Leave everything as it was',
      says: 'drops what you typed',
      act: s => only(s, { kind: 'leave' }),
    },
    { name: 'Go on', says: 'back to the form as you left it', act: toForm },
  ],
  history: [
    {
      name: 'Keep the history',
      says: "it's the same music, now written correctly",
      act: s => store(s, 'keep'),
    },
    {
      name: 'Begin anew',
      says: "it's different music; you can still see the old ceiling",
      act: s => store(s, 'anew'),
    },
    { name: 'Go on', says: 'back to the form, nothing is stored yet', act: toForm },
  ],
}

/** The questions's answer in hand. */
const inForm = (s: State, a: Action): Step => {
  switch (a.kind) {
    case 'edit':
      return only({ ...s, form: editForm(s.form, a.edit), note: '' })
    case 'page':
      return only({ ...s, form: goTo(s.form, s.form.at + a.by * s.page), note: '' })
    case 'next':
      return s.form.at < s.form.rows.length - 1
        ? inForm(s, { kind: 'edit', edit: { kind: 'row', by: 1 } })
        : inForm(s, { kind: 'submit' })
    case 'submit':
      return isChanged(s.form) ? store(s, null) : only(s, { kind: 'leave' })
    case 'back':
      return isChanged(s.form)
        ? only({ ...s, view: 'leave', answer: 0, note: '' })
        : only(s, { kind: 'leave' })
    default:
      return only(s)
  }
}

const inQuestion = (s: State, answers: readonly Answer[], a: Action): Step => {
  switch (a.kind) {
    case 'choose':
      return only({ ...s, answer: Math.max(0, Math.min(answers.length - 1, s.answer + a.by)) })
    case 'take':
      return answers[s.answer]?.act(s) ?? only(s)
    case 'back':
      return toForm(s)
    default:
      return only(s)
  }
}

/** The form's next state, and what is to be done beside it. */
export const reduce = (s: State, a: Action): Step => {
  switch (a.kind) {
    case 'leave':
      return only(s, { kind: 'leave' })
    case 'asked':
      return only({ ...s, busy: false, view: 'history', answer: 0, moved: a.text })
    case 'refused':
      return only({ ...s, busy: false, view: 'form', note: a.text })
  }
  if (s.busy) return only(s)
  return s.view === 'form' ? inForm(s, a) : inQuestion(s, ANSWERS[s.view], a)
}
