import { CHORD } from '../../terminal/chord.ts'
import { keyHints } from '../../terminal/key-table.ts'
import type { Sheet } from '../../terminal/painted.tsx'
import type { Screen } from '../../terminal/run-screen.tsx'
import type { Size } from '../../terminal/screen-writer.ts'
import type { Key } from '../../terminal/tokenizer.ts'
import type { Desk } from '../desk.ts'
import { SETUP_KEYS } from '../key-tables.ts'
import { runCovered } from '../overlay.ts'
import { BOLD, indented, MARGIN, row, SOFT, topAndFoot } from '../page.ts'
import { inPhrases, inRows } from '../text-rows.ts'
import { type Learned, learnPedals, type SetupState } from './setup.ts'
import { enlarge, KEEPS, LEAVES } from './words.ts'

/** Rows around what is said: above the title, the title, and a free row above and below. */
const AROUND = 4

/** What was said so far, the latest last; what is older leaves at the top. `keys` = that of a note, where it has one now. */
export const setupSheet = (
  all: readonly string[],
  done: boolean,
  size: Size,
  keys: readonly string[] = [],
): Sheet => {
  const width = Math.max(1, Math.min(76, size.cols - 2))
  const said = all.map(line => inPhrases(line, width))
  const foot = inPhrases([done ? KEEPS : LEAVES, ...keys].join('   '), width)
  const letters = inPhrases(enlarge(size), width)
  const room = size.rows - AROUND - foot.length
  // What was said last is never cut for the size of the letters.
  const below = room - letters.length < (said.at(-1)?.length ?? 0) ? [] : letters
  const shown = said
    .flatMap((rows, i) => rows.map(text => row(` ${text}`, i === said.length - 1 ? BOLD : {})))
    .slice(-Math.max(1, room - below.length))
  return topAndFoot(
    [[], ...indented(inRows('The pedals', width), BOLD, MARGIN)],
    [...shown, [], ...indented(below, {}, MARGIN), ...indented(foot, SOFT, MARGIN)],
    size.rows,
  )
}

/** How often silence is looked at, ms: a lifted foot is told by it. */
const LOOK_AGAIN = 100

type Action =
  | { readonly kind: 'key'; readonly key: Key }
  | { readonly kind: 'look' }
  | { readonly kind: 'quit' }

/** Has the pedals pressed; resolves with them, or with null when the player leaves. */
export const setupScreen = (
  /** The controls as they are until now, and kinds of instruments to ask for (none = it is not asked). */
  o: Desk & { readonly kinds: readonly string[] },
): Promise<Learned | null> => {
  const { timing, controls } = o
  const { choice, ...before } = controls
  const setup = learnPedals(timing.now(), before, o.kinds, choice)
  const keysOf = (s: SetupState): readonly string[] => keyHints(SETUP_KEYS, s.asking, choice)
  const screen: Screen<SetupState, Action, 'leave', Learned | null> = {
    state: setup.state(),
    reduce: (s, a) => {
      if (a.kind === 'quit') return { state: s, effects: ['leave'] }
      if (a.kind === 'look') setup.waited(timing.now())
      else setup.key(a.key)
      const state = setup.state()
      return { state, effects: state.over ? ['leave'] : [] }
    },
    // What is pasted is no key that a pedal could send.
    key: (_, key) =>
      key.text !== undefined ? null : key.id === 'C-c' ? { kind: 'quit' } : { kind: 'key', key },
    perform: (_, run) => run.end(run.state().result),
    wakes: () => ({ in: LOOK_AGAIN, act: () => ({ kind: 'look' }) }),
    view: s => setupSheet(s.said, s.result !== null, o.terminal.size(), keysOf(s)),
    topics: s => ({ said: s.said.at(-1) ?? '' }),
  }
  return runCovered(o, screen, {
    table: SETUP_KEYS,
    on: s => s.asking,
    // Where the pedal is several keys at once, each of them may come alone.
    subject: s => ([s.result?.right, s.result?.left].includes(CHORD) ? null : { about: {}, says: '' }),
  })
}
