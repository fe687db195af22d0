import type { NoteBody } from '../repertoire/note.ts'
import { type Controls, type KeyTable, opens, pressed } from '../terminal/key-table.ts'
import { USUAL_LOCK } from '../terminal/lock.ts'
import { runScreen, type Screen, type ScreenRun, speaks } from '../terminal/run-screen.tsx'
import type { Key } from '../terminal/tokenizer.ts'
import type { Desk } from './desk.ts'
import { type Chapter, helpLines, helpPages, helpSheet } from './help.ts'
import { lineAction } from './line.ts'
import {
  another,
  isOpen,
  type Action as NoteAction,
  type NoteState,
  noteRows,
  reduce,
  type Subject,
  withNote,
} from './note/note.ts'
import { askedAloud, type Written } from './note/words.ts'

/** How a screen has a note and a help over it. */
export type Overlay<S, A, E> = {
  readonly table: KeyTable<unknown>
  /** What lies open, as the table of keys calls it; absent = always the same. */
  readonly on?: (s: S) => string
  /** Its help; absent = it has none. */
  readonly chapters?: readonly Chapter[]
  /** Something sounds, so that a pedal stays a pedal under the help. */
  readonly sounds?: (s: S) => boolean
  /** Neither opens now. */
  readonly locked?: () => boolean
  /** What a note made now is about; null = none is made now, the key is the screen's. */
  readonly subject?: (s: S) => Subject | null
  /** What stops first. */
  readonly stops?: (s: S) => A | null
  /** The note that the screen itself asks for. */
  readonly asks?: (e: E) => Written | null
  /** After a note was kept. */
  readonly kept?: A
}

type Covered<S> = {
  readonly screen: S
  readonly note: NoteState
  /** The page of the help that lies open; null = none does. */
  readonly page: number | null
}
type CoveredAction<A> =
  | { readonly kind: 'screen'; readonly action: A }
  | { readonly kind: 'note'; readonly action: NoteAction }
  | { readonly kind: 'page'; readonly page: number | null }
type CoveredEffect<E> =
  | { readonly kind: 'screen'; readonly effect: E }
  | { readonly kind: 'keep'; readonly body: NoteBody }

const ABOUT_NOTHING: Subject = { about: {}, says: '' }

/** What a key does to the note. A pedal takes it or leaves it like Enter and Escape, unless it sends a character. */
const toNote = (key: Key, c: Controls): NoteAction | null => {
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
 * A screen with its notes and its help. The key of a note opens a line over the last rows, and the screen waits under it:
 * what ends meanwhile ends when the note is closed, and the key that closed it does nothing until it was let go. The help
 * covers the whole and stops nothing: a pedal stays a pedal while something sounds, and Ctrl+C leaves; where lines are said
 * it is said, and nothing lies open.
 */
export const covered = <S, A, E, R>(
  { terminal, controls, notebook }: Omit<Desk, 'timing'>,
  screen: Screen<S, A, E, R>,
  o: Overlay<S, A, E>,
): Screen<Covered<S>, CoveredAction<A>, CoveredEffect<E>, R> => {
  type Run = ScreenRun<Covered<S>, CoveredAction<A>, R>
  const within = (action: A): CoveredAction<A> => ({ kind: 'screen', action })
  const noted = (action: NoteAction): CoveredAction<A> => ({ kind: 'note', action })
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
  const on = (s: S): string => o.on?.(s) ?? ''
  const opened = (s: S, key: Key) => (o.locked?.() ? null : opens(o.table, on(s), key.id, controls))
  const subjectOf = (s: S): Subject | null => (o.subject ? o.subject(s) : ABOUT_NOTHING)
  const pages = () => helpPages(o.chapters ?? [], terminal.size())
  const stillHeld = (key: Key): boolean => {
    if (held?.id !== key.id || key.at - held.at >= USUAL_LOCK) return false
    held = { id: key.id, at: key.at }
    return true
  }
  const inNote = (key: Key, run: Run): void => {
    const action = toNote(key, controls)
    if (action === null) return
    run.act(noted(action))
    if (action.kind === 'keep' || action.kind === 'leave') held = { id: key.id, at: key.at }
    closed(run)
  }
  return {
    state: { screen: screen.state, note: null, page: null },
    reduce: (s, a) => {
      if (a.kind === 'page') return { state: { ...s, page: a.page }, effects: [] }
      if (a.kind === 'note') {
        const { state: note, keep } = reduce(s.note, a.action)
        return { state: { ...s, note }, effects: keep ? [{ kind: 'keep', body: keep }] : [] }
      }
      const { state, effects } = screen.reduce(s.screen, a.action)
      // What comes up under the help is not hidden by it.
      const page = screen.shows && screen.shows(state) !== screen.shows(s.screen) ? null : s.page
      return {
        state: { ...s, screen: state, page },
        effects: effects.map(effect => ({ kind: 'screen', effect }) as const),
      }
    },
    key: (s, key, run) => {
      if (stillHeld(key)) return null
      if (isOpen(s.note) && key.id !== 'C-c') {
        inNote(key, run)
        return null
      }
      if (s.note !== null) run.act(noted({ kind: isOpen(s.note) ? 'leave' : 'heard' }))
      const opening = opened(s.screen, key)
      if (s.page !== null) {
        const foot = pressed(o.table, on(s.screen), key.id, controls)?.kind === 'pedal'
        if (!(foot && o.sounds?.(s.screen)) && key.id !== 'C-c')
          return {
            kind: 'page',
            page: key.id === 'Escape' || s.page + 1 >= pages().length ? null : s.page + 1,
          }
      } else if (opening === 'note' && notebook && screen.typing?.(s.screen) == null) {
        const subject = subjectOf(s.screen)
        const stops = subject && o.stops?.(s.screen)
        if (stops != null) run.act(within(stops))
        if (subject) return noted({ kind: 'open', subject, as: 'note' })
      } else if (opening === 'help' && o.chapters) {
        if (!speaks(terminal)) return { kind: 'page', page: 0 }
        for (const line of helpLines(o.chapters)) run.line(line)
        return null
      }
      const action = screen.key(s.screen, key, inner(run))
      return action === null ? null : within(action)
    },
    perform: (e, run) => {
      if (e.kind === 'keep')
        return notebook?.keep(e.body).then(
          text => {
            run.act(noted({ kind: 'kept', text }))
            closed(run)
            if (o.kept !== undefined) run.act(within(o.kept))
          },
          error =>
            run.act(noted({ kind: 'refused', text: error instanceof Error ? error.message : String(error) })),
        )
      const as = (notebook && o.asks?.(e.effect)) ?? null
      if (as === null) return screen.perform(e.effect, inner(run))
      run.act(noted({ kind: 'open', subject: subjectOf(run.state().screen) ?? ABOUT_NOTHING, as }))
    },
    open: run => screen.open?.(inner(run)) ?? [],
    shows: s => screen.shows?.(s.screen) ?? '',
    wakes: (s, now) => {
      const due = screen.wakes?.(s.screen, now) ?? null
      const then = due?.act
      return due && { in: due.in, ...(then ? { act: () => within(then()) } : {}) }
    },
    ...(screen.resumed === undefined ? {} : { resumed: within(screen.resumed) }),
    view: (s, run) => {
      const size = terminal.size()
      const under = s.page === null ? screen.view(s.screen, inner(run)) : helpSheet(pages(), s.page, size)
      return withNote(under, s.note, size)
    },
    topics: ({ screen: s, note }, run) => ({
      ...screen.topics(s, inner(run)),
      'note asked': isOpen(note) ? askedAloud(note.as, note.says, another(note.as, 1)) : '',
      'note refused': isOpen(note) ? note.refused : '',
      'note said': note !== null && !isOpen(note) ? note.said : '',
    }),
    typing: s => (isOpen(s.note) ? s.note.line.text : (screen.typing?.(s.screen) ?? null)),
    eye: (s, run) => {
      const drawn = s.page === null ? screen.eye?.(s.screen, inner(run)) : null
      const free = terminal.size().rows - noteRows(s.note, terminal.size()).length
      return !drawn || drawn.row + drawn.text.split('\n').length > free ? null : drawn
    },
  }
}

/** Runs a screen with its notes and its help. The caller opens and closes the terminal. */
export const runCovered = <S, A, E, R>(
  desk: Desk,
  screen: Screen<S, A, E, R>,
  overlay: Overlay<S, NoInfer<A>, NoInfer<E>>,
): Promise<R> => runScreen(desk.terminal, desk.timing, covered(desk, screen, overlay))
