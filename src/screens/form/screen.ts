import type { Edits } from '../../repertoire/edit.ts'
import type { HistoryChoice } from '../../repertoire/same-music.ts'
import type { Screen } from '../../terminal/run-screen.tsx'
import type { Desk } from '../desk.ts'
import type { Subject } from '../note/note.ts'
import { runCovered } from '../overlay.ts'
import { type Around, type Form, unsaved } from './form.ts'
import { actionOf, EDIT_KEYS } from './key-table.ts'
import { type Action, ANSWERS, type Effect, newState, QUESTIONS, reduce, type State } from './reduce.ts'
import { editSheet, formLines, rowsThatFit, typedIn } from './view.ts'
import { FORM_KEYS, QUESTION_KEYS } from './words.ts'

/** What came of storing: done, a question about the history, or a sentence why not. */
export type Tried<T> =
  | { readonly kind: 'stored'; readonly value: T }
  | { readonly kind: 'asked' | 'refused'; readonly text: string }

/** How the form was left: stored, or not; then with what had been typed, in words (empty = nothing). */
export type Left<T> = { readonly stored: T } | { readonly stored: null; readonly unsaved: string }

/** The form until the player leaves it. The caller opens and closes the terminal. */
export const editScreen = <T>(
  o: Desk & {
    readonly title: string
    readonly form: Form
    readonly around: Around
    readonly store: (edits: Edits, choice: HistoryChoice | null) => Promise<Tried<T>>
    readonly subject: Subject
  },
): Promise<Left<T>> => {
  const lines = formLines()
  const screen: Screen<State, Action, Effect, Left<T>> = {
    state: newState(o.form, o.around),
    reduce: (s, a) => reduce({ ...s, page: rowsThatFit(o.terminal.size()) }, a),
    key: (s, key) => actionOf(key.id, s.view, o.controls),
    perform: async (e, run) => {
      if (e.kind === 'leave') return run.end({ stored: null, unsaved: unsaved(run.state().form) })
      const tried = await o.store(e.edits, e.choice)
      if (tried.kind === 'stored') run.end({ stored: tried.value })
      else run.act(tried)
    },
    view: s => editSheet(s, o.title, o.terminal.size()),
    topics: s => {
      const title = { title: o.title, note: s.note }
      if (s.view === 'form') return { ...title, keys: FORM_KEYS, asks: '', ...lines(s.form, s.around) }
      const answers = ANSWERS[s.view]
      return {
        ...title,
        asks: [QUESTIONS[s.view](s), ...answers.map(a => `${a.name}: ${a.says}`), QUESTION_KEYS].join('\n'),
        answer: answers[s.answer]?.name ?? '',
      }
    },
    typing: s => (s.view === 'form' ? typedIn(s.form) : null),
  }
  return runCovered(o, screen, { table: EDIT_KEYS, on: s => s.view, subject: () => o.subject })
}
