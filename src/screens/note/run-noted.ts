import type { NoteBody } from '../../repertoire/note.ts'
import { type Controls, type KeyTable, opensNote } from '../../terminal/key-table.ts'
import { USUAL_LOCK } from '../../terminal/lock.ts'
import type { PlainTerminal } from '../../terminal/open-plain.ts'
import type { Terminal } from '../../terminal/open-terminal.ts'
import { runScreen, type Screen, type ScreenRun } from '../../terminal/run-screen.tsx'
import type { Size } from '../../terminal/screen-writer.ts'
import type { Key } from '../../terminal/tokenizer.ts'
import { lineAction } from '../line.ts'
import type { Timing } from '../slept.ts'
import { another, isOpen, type Action as NoteAction, type NoteState, reduce, type Subject } from './reduce.ts'
import { noteRows, withNote } from './view.tsx'
import { askedAloud, type Written } from './words.ts'

/** Where notes are kept. Resolves with what to say once the note is on disk; rejects with one sentence. */
export type Notebook = { readonly keep: (body: NoteBody) => Promise<string> }

/** How a screen has notes. */
export type Notes<S, A, E> = {
  readonly notebook: Notebook
  readonly controls: Controls
  readonly table: KeyTable<unknown>
  /** What lies open, as the table of keys calls it. */
  readonly on: (s: S) => string
  /** What a note made now is about; null = none is made now, the key is the screen's. */
  readonly subject: (s: S) => Subject | null
  /** What stops first. */
  readonly stops?: (s: S) => A | null
  /** The note that the screen itself asks for. */
  readonly asks?: (e: E) => Written | null
  /** After a note was kept. */
  readonly kept?: A
}

type Noted<S> = { readonly screen: S; readonly note: NoteState }
type NotedAction<A> =
  | { readonly kind: 'screen'; readonly action: A }
  | { readonly kind: 'note'; readonly action: NoteAction }
type NotedEffect<E> =
  | { readonly kind: 'screen'; readonly effect: E }
  | { readonly kind: 'keep'; readonly body: NoteBody }

/** What a key does to the note. A pedal takes it or leaves it like Enter and Escape, unless it sends a character. */
const keyOf = (key: Key, c: Controls): NoteAction | null => {
  if (key.text !== undefined) return { kind: 'edit', edit: { kind: 'type', text: key.text } }
  const edit = lineAction(key.id)
  if (edit?.kind !== 'type') {
    if (key.id === 'Enter' || key.id === c.right) return { kind: 'keep' }
    if (key.id === 'Escape' || (key.id === c.left && c.pedals === 2)) return { kind: 'leave' }
  }
  if (key.id === 'Tab' || key.id === 'S-Tab') return { kind: 'another', by: key.id === 'Tab' ? 1 : -1 }
  return edit && { kind: 'edit', edit }
}

/**
 * A screen with notes: one key opens a line over its last rows, and the screen waits under it. What ends meanwhile ends when
 * the note is closed. The key that closed it does nothing until it was let go.
 */
export const withNotes = <S, A, E, R>(
  screen: Screen<S, A, E, R>,
  n: Notes<S, A, E>,
  size: () => Size,
): Screen<Noted<S>, NotedAction<A>, NotedEffect<E>, R> => {
  type Run = ScreenRun<Noted<S>, NotedAction<A>, R>
  const within = (action: A): NotedAction<A> => ({ kind: 'screen', action })
  const noted = (action: NoteAction): NotedAction<A> => ({ kind: 'note', action })
  /** The end that waits for the note. */
  let ends: (() => void) | null = null
  let held: { readonly id: string; readonly at: number } | null = null
  const runs = new WeakMap<Run, ScreenRun<S, A, R>>()
  const inner = (run: Run): ScreenRun<S, A, R> => {
    const made = runs.get(run) ?? {
      ...run,
      state: () => run.state().screen,
      act: (action: A) => run.act(within(action)),
      end: (result: R) => {
        if (isOpen(run.state().note)) ends = () => run.end(result)
        else run.end(result)
      },
    }
    runs.set(run, made)
    return made
  }
  const closed = (run: Run): void => {
    if (!isOpen(run.state().note)) ends?.()
  }
  const canOpen = (s: S, key: Key): Subject | null =>
    screen.typing?.(s) == null && opensNote(n.table, n.on(s), key.id, n.controls) ? n.subject(s) : null
  const stillHeld = (key: Key): boolean => {
    if (held?.id !== key.id || key.at - held.at >= USUAL_LOCK) return false
    held = { id: key.id, at: key.at }
    return true
  }
  const { open, shows, wakes, eye, typing } = screen
  return {
    state: { screen: screen.state, note: null },
    reduce: (s, a) => {
      if (a.kind === 'screen') {
        const step = screen.reduce(s.screen, a.action)
        const effects = step.effects.map(effect => ({ kind: 'screen', effect }) as const)
        return { state: { ...s, screen: step.state }, effects }
      }
      const step = reduce(s.note, a.action)
      return {
        state: { ...s, note: step.state },
        effects: step.keep ? [{ kind: 'keep', body: step.keep }] : [],
      }
    },
    key: (s, key, run) => {
      if (stillHeld(key)) return null
      if (isOpen(s.note) && key.id !== 'C-c') {
        const action = keyOf(key, n.controls)
        if (action === null) return null
        run.act(noted(action))
        if (action.kind === 'keep' || action.kind === 'leave') held = { id: key.id, at: key.at }
        closed(run)
        return null
      }
      if (s.note !== null) run.act(noted({ kind: isOpen(s.note) ? 'leave' : 'heard' }))
      const subject = canOpen(s.screen, key)
      if (!subject) {
        const action = screen.key(s.screen, key, inner(run))
        return action === null ? null : within(action)
      }
      const stops = n.stops?.(s.screen) ?? null
      if (stops !== null) run.act(within(stops))
      return noted({ kind: 'open', subject, as: 'note' })
    },
    perform: (e, run) => {
      if (e.kind === 'keep')
        return n.notebook.keep(e.body).then(
          text => {
            run.act(noted({ kind: 'kept', text }))
            closed(run)
            if (n.kept !== undefined) run.act(within(n.kept))
          },
          error =>
            run.act(noted({ kind: 'refused', text: error instanceof Error ? error.message : String(error) })),
        )
      const as = n.asks?.(e.effect) ?? null
      if (as === null) return screen.perform(e.effect, inner(run))
      const subject = n.subject(run.state().screen) ?? { about: {}, says: '' }
      run.act(noted({ kind: 'open', subject, as }))
    },
    ...(open ? { open: (run: Run) => open(inner(run)) } : {}),
    ...(shows ? { shows: (s: Noted<S>) => shows(s.screen) } : {}),
    ...(wakes
      ? {
          wakes: (s: Noted<S>, now: number) => {
            const due = wakes(s.screen, now)
            const then = due?.act
            return due && { in: due.in, ...(then ? { act: () => within(then()) } : {}) }
          },
        }
      : {}),
    ...(screen.resumed === undefined ? {} : { resumed: within(screen.resumed) }),
    view: (s, run) => withNote(screen.view(s.screen, inner(run)), s.note, size()),
    topics: (s, run) => ({
      ...screen.topics(s.screen, inner(run)),
      'note asked': isOpen(s.note) ? askedAloud(s.note.as, s.note.says, another(s.note.as, 1)) : '',
      'note refused': isOpen(s.note) ? s.note.refused : '',
      'note said': s.note !== null && !isOpen(s.note) ? s.note.said : '',
    }),
    typing: s => (isOpen(s.note) ? s.note.line.text : (typing?.(s.screen) ?? null)),
    ...(eye
      ? {
          eye: (s: Noted<S>, run: Run) => {
            const drawn = eye(s.screen, inner(run))
            const free = size().rows - noteRows(s.note, size()).length
            return drawn && drawn.row + drawn.text.split('\n').length > free ? null : drawn
          },
        }
      : {}),
  }
}

/** Runs a screen with its notes; without a notebook as it is. */
export const runNoted = <S, A, E, R>(
  terminal: Terminal | PlainTerminal,
  timing: Timing,
  screen: Screen<S, A, E, R>,
  notebook: Notebook | undefined,
  notes: Omit<Notes<S, A, E>, 'notebook'>,
): Promise<R> =>
  notebook
    ? runScreen(terminal, timing, withNotes(screen, { ...notes, notebook }, terminal.size))
    : runScreen(terminal, timing, screen)
