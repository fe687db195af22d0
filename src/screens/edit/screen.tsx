import { render } from 'ink'
import type { Edits } from '../../repertoire/edit.ts'
import type { Terminal } from '../../terminal/open-terminal.ts'
import { type Around, type Form, unsaved } from '../form/form.ts'
import { actionOf } from './keys.ts'
import { type Action, type Choice, newState, reduce } from './reduce.ts'
import { EditView, rowsThatFit } from './view.tsx'

/** What came of storing: done, a question about the history, or a sentence why not. */
export type Tried<T> =
  | { readonly k: 'stored'; readonly value: T }
  | { readonly k: 'asked' | 'refused'; readonly text: string }

/** How the form was left: stored, or not; then with what had been typed, in words (empty = nothing). */
export type Left<T> = { readonly stored: T } | { readonly stored: null; readonly unsaved: string }

/** The form until the player leaves it. The caller opens and closes the terminal. */
export const editScreen = <T,>(o: {
  readonly terminal: Terminal
  readonly title: string
  readonly form: Form
  readonly around: Around
  readonly store: (edits: Edits, choice: Choice | null) => Promise<Tried<T>>
}): Promise<Left<T>> =>
  new Promise((resolve, reject) => {
    const { terminal, title } = o
    let state = newState(o.form, o.around)
    let over = false
    const view = () => <EditView state={state} title={title} size={terminal.size()} />
    const ink = render(view(), terminal.ink)
    const draw = (): void => {
      if (!over) ink.rerender(view())
    }
    const close = (): void => {
      over = true
      for (const off of offs) off()
      ink.unmount()
    }
    const leave = (left: Left<T>): void => {
      close()
      resolve(left)
    }
    const store = async (edits: Edits, choice: Choice | null): Promise<void> => {
      const tried = await o.store(edits, choice)
      if (over) return
      if (tried.k === 'stored') leave({ stored: tried.value })
      else act(tried)
    }
    const act = (action: Action): void => {
      if (over) return
      const step = reduce({ ...state, page: rowsThatFit(terminal.size()) }, action)
      state = step.state
      draw()
      for (const e of step.effects) {
        if (e.k === 'leave') leave({ stored: null, unsaved: unsaved(state.form) })
        else
          store(e.edits, e.choice).catch(error => {
            if (!over) close()
            reject(error)
          })
      }
    }
    const offs = [
      terminal.onKey(key => {
        const action = actionOf(key.id, state.view)
        if (action) act(action)
      }),
      terminal.onResize(draw),
      terminal.onResume(draw),
    ]
    draw()
  })
