import { type Controls, type KeyTable, pressed } from '../terminal/key-table.ts'
import type { Sheet } from '../terminal/painted.tsx'
import type { Screen, ScreenRun } from '../terminal/run-screen.tsx'
import type { Size } from '../terminal/screen-writer.ts'
import { inRows } from './home/layout.ts'
import { indented, MARGIN } from './page.ts'
import { wrapped } from './today/wrap.ts'
import { ALL_CAUTIONS, ANY_KEY_BACK, nextPage } from './words.ts'

/** A key and what it does; without a key a sentence. */
export type Entry = readonly [key: string, does: string]
export type Chapter = { readonly title: string; readonly entries: readonly Entry[] }

/** The keys that open the help, on every screen. */
export const HELP_ROW = { name: 'help', keys: ['?', 'h'], hint: 'help', help: 'this help' } as const

const CAREFUL: Chapter = { title: '', entries: [['', ALL_CAUTIONS.join(' ')]] }

/** What every key does, and the usual cautions, to be spoken: a sentence a line. */
export const helpLines = (chapters: readonly Chapter[]): readonly string[] =>
  [...chapters, CAREFUL].flatMap(({ title, entries }) => [
    ...(title === '' ? [] : [`${title}.`]),
    ...entries.map(([key, does]) => (key === '' ? does : `${key}: ${does}.`)),
  ])

/** Columns of what stands before, at most two fifths of the window; what is longer runs on in its own row. */
const chapterRows = ({ title, entries }: Chapter, columns: number): readonly string[] => {
  const longest = Math.max(...entries.map(([key]) => key.length)) + 4
  const width = Math.min(longest, Math.max(16, Math.floor((columns * 2) / 5)))
  const row = ([key, does]: Entry): readonly string[] => {
    if (key === '') return wrapped(does, columns)
    return key.length + 4 > width
      ? wrapped(`  ${key}: ${does}`, columns, 4)
      : wrapped(`  ${key.padEnd(width - 2)}${does}`, columns, width)
  }
  return [...(title === '' ? [] : [title]), ...entries.flatMap(row)]
}

/** The same as rows of a window, page by page: a chapter is cut only where it is longer than a page. */
export const helpPages = (chapters: readonly Chapter[], size: Size): readonly (readonly string[])[] => {
  const room = Math.max(1, size.rows - 2 - belowPage(nextPage(99, 99), size).length)
  const pages: string[][] = [[]]
  for (const chapter of [...chapters, CAREFUL]) {
    const rows = chapterRows(chapter, size.cols - 2 * MARGIN)
    const page = pages.at(-1) as string[]
    const gap = page.length > 0 ? [''] : []
    if (page.length + gap.length + rows.length <= room) page.push(...gap, ...rows)
    else {
      if (page.length > 0) pages.push([])
      for (let i = 0; i < rows.length; i += room) {
        if (i > 0) pages.push([])
        pages.at(-1)?.push(...rows.slice(i, i + room))
      }
    }
  }
  return pages
}

const belowPage = (text: string, { cols }: Size): readonly string[] => inRows(text, cols - 2 * MARGIN)

export const helpSheet = (pages: readonly (readonly string[])[], page: number, size: Size): Sheet => {
  const at = Math.min(page, pages.length - 1)
  const more = at >= pages.length - 1 ? ANY_KEY_BACK : nextPage(at + 1, pages.length)
  return indented(['', ...(pages[at] ?? []), '', ...belowPage(more, size)], {}, MARGIN)
}

/** A screen and the page of its help that lies over it; null = none does. */
type Helped<S> = { readonly state: S; readonly page: number | null }
type HelpedAction<A> =
  | { readonly kind: 'screen'; readonly action: A }
  | { readonly kind: 'page'; readonly page: number | null }

/** What a screen's help is made of. */
export type Help<S> = {
  readonly chapters: readonly Chapter[]
  readonly table: KeyTable<{ readonly kind: string }>
  /** What lies open, as the table of keys calls it. */
  readonly on: (s: S) => string
  readonly sounds: (s: S) => boolean
  readonly controls: Controls
  readonly size: () => Size
  readonly speaks: boolean
}

/**
 * A screen with its help, which lies over it and does not stop it: a pedal stays a pedal while something sounds, and Ctrl+C
 * leaves. Where lines are said the help is said, and nothing lies open.
 */
export const withHelp = <S, A, E, R>(
  screen: Screen<S, A, E, R>,
  o: Help<S>,
): Screen<Helped<S>, HelpedAction<A>, E, R> => {
  type Run = ScreenRun<Helped<S>, HelpedAction<A>, R>
  const within = (action: A): HelpedAction<A> => ({ kind: 'screen', action })
  const runs = new WeakMap<Run, ScreenRun<S, A, R>>()
  const inner = (run: Run): ScreenRun<S, A, R> => {
    const made = runs.get(run) ?? {
      ...run,
      state: () => run.state().state,
      act: (action: A) => run.act(within(action)),
    }
    runs.set(run, made)
    return made
  }
  const pages = () => helpPages(o.chapters, o.size())
  const { open, shows, wakes, eye, typing } = screen
  return {
    state: { state: screen.state, page: null },
    reduce: (s, a) => {
      if (a.kind === 'page') return { state: { ...s, page: a.page }, effects: [] }
      const { state, effects } = screen.reduce(s.state, a.action)
      // What comes up under the help is not hidden by it.
      const page = shows && shows(state) !== shows(s.state) ? null : s.page
      return { state: { state, page }, effects }
    },
    key: (s, key, run) => {
      const press = pressed(o.table, o.on(s.state), key.id, o.controls)
      const foot = press?.kind === 'pedal' && o.sounds(s.state)
      if (s.page !== null && !foot && key.id !== 'C-c')
        return {
          kind: 'page',
          page: key.id === 'Escape' || s.page + 1 >= pages().length ? null : s.page + 1,
        }
      if (press?.kind === 'key' && press.does.kind === 'help') {
        if (!o.speaks) return { kind: 'page', page: 0 }
        for (const line of helpLines(o.chapters)) run.line(line)
        return null
      }
      const action = screen.key(s.state, key, inner(run))
      return action === null ? null : within(action)
    },
    perform: (e, run) => screen.perform(e, inner(run)),
    ...(open ? { open: (run: Run) => open(inner(run)) } : {}),
    ...(shows ? { shows: (s: Helped<S>) => shows(s.state) } : {}),
    ...(wakes
      ? {
          wakes: (s: Helped<S>, now: number) => {
            const due = wakes(s.state, now)
            const then = due?.act
            return due && { in: due.in, ...(then ? { act: () => within(then()) } : {}) }
          },
        }
      : {}),
    ...(screen.resumed === undefined ? {} : { resumed: within(screen.resumed) }),
    view: (s, run) =>
      s.page === null ? screen.view(s.state, inner(run)) : helpSheet(pages(), s.page, o.size()),
    topics: (s, run) => screen.topics(s.state, inner(run)),
    ...(typing ? { typing: (s: Helped<S>) => typing(s.state) } : {}),
    ...(eye ? { eye: (s: Helped<S>, run: Run) => (s.page === null ? eye(s.state, inner(run)) : null) } : {}),
  }
}
