import { render } from 'ink'
import type { PlainTerminal } from './open-plain.ts'
import type { Terminal } from './open-terminal.ts'
import { Painted, type Sheet } from './painted.tsx'
import type { Key } from './tokenizer.ts'

/** Monotonic milliseconds, and a timer on the same clock that can be called off. */
type Clock = {
  readonly now: () => number
  readonly later: (ms: number, f: () => void) => () => void
}

/** Between two drawings of the traveling mark. Milliseconds. */
const EYE = 80

/** What there is to say, by topic: a topic is said when it has changed and is not empty. */
export type Topics = Readonly<Record<string, string>>

/** How a screen is led while it runs. */
export type ScreenRun<S, A, R> = {
  readonly state: () => S
  readonly act: (a: A) => void
  /** Something that is seen has changed outside the state. */
  readonly changed: () => void
  /** When what lies open now came up. Monotonic ms. */
  readonly since: () => number
  /** Says a line where lines are said; nothing on a screen. */
  readonly line: (text: string) => void
  readonly end: (result: R) => void
}

/** A screen as data and functions: its state, what a key does, and its two faces. */
export type Screen<S, A, E, R> = {
  readonly state: S
  /** Pure: the next state, and what is to be done beside it. */
  readonly reduce: (s: S, a: A) => { readonly state: S; readonly effects: readonly E[] }
  readonly key: (s: S, key: Key, run: ScreenRun<S, A, R>) => A | null
  /** Does what the state can't; what it rejects with ends the screen. */
  readonly perform: (e: E, run: ScreenRun<S, A, R>) => void | Promise<void>
  /** Begins to listen to whatever else the screen needs; what is given back is called at the end. */
  readonly open?: (run: ScreenRun<S, A, R>) => readonly (() => void)[]
  /** What lies open: another name begins the time in which the press before does not count. */
  readonly shows?: (s: S) => string
  /** Milliseconds until the screen changes by itself, and what happens then; null = it does not. */
  readonly wakes?: (s: S, now: number) => { readonly in: number; readonly act?: () => A } | null
  readonly view: (s: S, run: ScreenRun<S, A, R>) => Sheet
  readonly topics: (s: S, run: ScreenRun<S, A, R>) => Topics
  /** The text that is being typed now, which stands below all lines; null = none is. */
  readonly typing?: (s: S) => string | null
  /**
   * What travels between the beats: its first row (0 = top), its rows of text, and the milliseconds until it stands
   * elsewhere (usually 80); null while nothing does.
   */
  readonly eye?: (
    s: S,
    run: ScreenRun<S, A, R>,
  ) => { readonly row: number; readonly text: string; readonly in?: number } | null
  /** After the program was stopped (Ctrl+Z) and goes on. */
  readonly resumed?: A
}

/** Which face a terminal has. */
export const speaks = (t: Terminal | PlainTerminal): t is PlainTerminal => t.ink === null

/**
 * Runs a screen until it ends: keys in, effects out, drawn or said as lines. Drawn and said from the same state; nothing is
 * shown that the other face could not know. The caller opens and closes the terminal.
 */
export const runScreen = <S, A, E, R>(
  terminal: Terminal | PlainTerminal,
  clock: Clock,
  screen: Screen<S, A, E, R>,
): Promise<R> =>
  new Promise((resolve, reject) => {
    let state = screen.state
    let over = false
    let shows = screen.shows?.(state)
    let since = clock.now()
    let stopWake = (): void => {}
    let offs: readonly (() => void)[] = []
    const told = new Map<string, string>()

    const close = (): void => {
      over = true
      stopWake()
      stopTravel()
      for (const off of offs) off()
      ink?.unmount()
    }
    const fail = (error: unknown): void => {
      if (!over) close()
      reject(error)
    }
    const wake = (): void => {
      stopWake()
      const next = over ? null : (screen.wakes?.(state, clock.now()) ?? null)
      if (next) stopWake = clock.later(Math.max(1, next.in), () => (next.act ? act(next.act()) : changed()))
    }
    let ink: ReturnType<typeof render> | undefined
    const draw = (t: Terminal): void => {
      const sheet = <Painted sheet={screen.view(state, run)} />
      if (ink) ink.rerender(sheet)
      else ink = render(sheet, t.ink)
    }
    const show = (): void => {
      if (over) return
      if (!speaks(terminal)) {
        draw(terminal)
        return
      }
      for (const [topic, text] of Object.entries(screen.topics(state, run))) {
        if (text !== '' && text !== told.get(topic)) terminal.line(text)
        told.set(topic, text)
      }
      terminal.typing(screen.typing?.(state) ?? null)
    }
    const changed = (): void => {
      show()
      wake()
      if (!travels && screen.eye && !speaks(terminal)) travel()
    }
    const act = (a: A): void => {
      if (over) return
      const step = screen.reduce(state, a)
      state = step.state
      const now = screen.shows?.(state)
      if (now !== shows) since = clock.now()
      shows = now
      changed()
      for (const e of step.effects) {
        try {
          screen.perform(e, run)?.catch(fail)
        } catch (error) {
          fail(error)
        }
      }
    }
    const run: ScreenRun<S, A, R> = {
      state: () => state,
      act,
      changed,
      since: () => since,
      line: text => {
        if (speaks(terminal)) terminal.line(text)
      },
      end: result => {
        if (over) return
        close()
        resolve(result)
      },
    }
    /** Draws what travels, and again when it stands elsewhere; nothing wakes while nothing moves. */
    let travels = false
    let stopTravel = (): void => {}
    const travel = (): void => {
      const eye = over ? null : screen.eye?.(state, run)
      travels = eye != null
      if (!eye || speaks(terminal)) return
      terminal.patch(eye.row, eye.text)
      stopTravel = clock.later(eye.in ?? EYE, travel)
    }

    offs = [
      terminal.onKey(key => {
        const action = over ? null : screen.key(state, key, run)
        if (action !== null) act(action)
      }),
      terminal.onResize(changed),
      ...(speaks(terminal)
        ? []
        : [terminal.onResume(() => (screen.resumed === undefined ? changed() : act(screen.resumed)))]),
    ]
    offs = [...offs, ...(screen.open?.(run) ?? [])]
    changed()
  })
