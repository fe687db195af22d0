import type { Question } from '../../plan/dates.ts'
import type { DayLine } from '../../plan/order.ts'
import type { Controls } from '../../terminal/key-table.ts'
import type { PedalLock } from '../../terminal/lock.ts'
import type { PlainTerminal } from '../../terminal/open-plain.ts'
import type { Terminal } from '../../terminal/open-terminal.ts'
import { LINGER, runScreen } from '../../terminal/run-screen.tsx'
import type { Timing } from '../slept.ts'
import { newWalk } from '../walk.ts'
import type { Answers } from './after.ts'
import { type Columns, columnWords } from './columns.ts'
import { pedalAction, pressOf } from './key-table.ts'
import { numberedText, overText } from './line-words.ts'
import {
  type Action,
  type DayChoice,
  type Effect,
  isClosed,
  isOver,
  lineAt,
  menuOf,
  menuTitle,
  type PlanChange,
  questionAt,
  reduce,
  type State,
} from './reduce.ts'
import { DayView, hints } from './view.tsx'

/** The clock times follow the clock. Milliseconds. */
const CLOCK = 15_000

/** Something that is done beside the screen: what it leads to, or the sentence of a trouble. */
type Doing = Promise<Extract<Action, { kind: 'known' | 'refused' }>>

/** The day until the player begins a line or leaves. The caller opens and closes the terminal. */
export const dayScreen = (o: {
  readonly terminal: Terminal | PlainTerminal
  readonly lock: PedalLock
  readonly timing: Timing
  /** Minutes after midnight, whole. */
  readonly clock: () => number
  readonly controls: Controls
  readonly state: State
  /** Back from another screen, which a pedal may have closed. */
  readonly back: boolean
  readonly text: (l: DayLine) => string
  readonly columns: (l: DayLine) => Columns
  /** The day anew where that changes what is planned. */
  readonly keep: (s: State) => Promise<Action | undefined>
  readonly plan: (s: State) => Doing
  readonly answer: (q: Question, a: Answers) => Doing
  readonly change: (c: PlanChange) => Doing
}): Promise<{ readonly to: DayChoice; readonly state: State }> => {
  const { controls, timing } = o
  const walk = newWalk(controls.pedals, timing.now())
  /** What comes next, or what the cursor was put on. */
  const lineWords = (s: State): string => {
    const question = questionAt(s)
    if (question) return `How was it? ${question.piece}`
    const line = lineAt(s)
    if (!line || isClosed(s)) return ''
    return numberedText(s.at - s.questions.length + 1, line, o.text(line))
  }
  const hint = (s: State, small = false): readonly string[] => hints(s, controls, walk, timing.now(), small)
  return runScreen<State, Action, Effect, { to: DayChoice; state: State }>(o.terminal, timing, {
    state: o.state,
    reduce,
    key: (s, key, run) => {
      const press = pressOf(key.id, s.view, controls)
      if (!press) return null
      if ('action' in press) {
        walk.touch(key.at)
        return press.action
      }
      const early = o.back && key.at - run.since() < LINGER
      if (o.lock.press(press.pedal, key.at) !== 'accepted' || early) return null
      const action = pedalAction(press.pedal, s, walk.press(press.pedal, key.at), controls.pedals)
      walk.touch(key.at)
      if (!action) run.changed()
      return action
    },
    perform: async (e, run) => {
      if (e.kind === 'go') run.end({ to: e.to, state: run.state() })
      else if (e.kind === 'keep') {
        const anew = await o.keep(run.state())
        if (anew) run.act(anew)
      } else if (e.kind === 'change') run.act(await o.change(e.change))
      else run.act(await (e.kind === 'plan' ? o.plan(run.state()) : o.answer(e.question, e.answers)))
    },
    wakes: (_, now) => {
      const due = walk.due(now)
      return due !== null && due < CLOCK
        ? { in: due }
        : { in: CLOCK, act: () => ({ kind: 'clock', now: o.clock() }) }
    },
    view: s => (
      <DayView
        state={s}
        size={o.terminal.size()}
        controls={controls}
        hint={hint}
        text={o.text}
        columns={o.columns}
      />
    ),
    topics: s => ({
      title: s.title,
      pain: s.pain ?? '',
      ways: menuOf(s)
        ? [menuTitle(s), ...(menuOf(s) ?? []).map((w, i) => `${i + 1}: ${w.text}`)].join('\n')
        : '',
      remarks: s.pain ? '' : s.remarks.join('\n'),
      lines: s.lines.map((l, i) => `${i + 1}: ${columnWords(o.columns(l))}`).join('\n'),
      note: [...s.note, ...(isOver(s) && s.lines.length > 0 ? [overText(s.evening)] : [])].join(' '),
      line: menuOf(s)?.[s.pick]?.text ?? lineWords(s),
      pedals: hint(s)[0]?.trim() ?? '',
    }),
  })
}
