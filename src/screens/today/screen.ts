import type { Question } from '../../plan/dates.ts'
import type { DayLine } from '../../plan/order.ts'
import type { Screen } from '../../terminal/run-screen.tsx'
import { newWalk, walking } from '../choosing.ts'
import type { PedalDesk } from '../desk.ts'
import { fieldLine } from '../form/words.ts'
import type { Subject } from '../note/note.ts'
import { runCovered } from '../overlay.ts'
import { inOneBreath } from '../text-rows.ts'
import { type Answers, inHand } from './asked.ts'
import { DAY_KEYS, pedalAction, pressOf } from './key-table.ts'
import { type Columns, columnWords, numberedText } from './line-words.ts'
import {
  type Action,
  countOf,
  type DayChoice,
  type Effect,
  formAt,
  isClosed,
  lineAt,
  menuOf,
  menuTitle,
  type PlanChange,
  questionAt,
  reduce,
  type State,
} from './reduce.ts'
import { afterTitle, dayHelp, daySheet, hints, overNotes } from './view.ts'
import { AFTER_FIELDS, afterKeys } from './words.ts'

/** The clock times follow the clock. Milliseconds. */
const CLOCK = 15_000

const stateSaid = (l: DayLine): string => (l.state === 'open' ? '' : `, ${l.state}`)

/** Something that is done beside the screen: what it leads to, or the sentence of a trouble. */
type Doing = Promise<Extract<Action, { kind: 'known' | 'refused' }>>

/** The day until the player begins a line or leaves. The caller opens and closes the terminal. */
export const dayScreen = (
  o: PedalDesk & {
    /** Minutes after midnight, whole. */
    readonly clock: () => number
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
    /** What a note is about that is made on a line. */
    readonly subject: (l: DayLine) => Subject
    /** The day anew after a note. */
    readonly noted: () => Doing
  },
): Promise<{ readonly to: DayChoice; readonly state: State }> => {
  const { controls, timing } = o
  const walk = newWalk(controls.pedals, timing.now())
  const walked = walking(walk, o.lock, o.back)
  /** What comes next, or what the cursor was put on. */
  const lineWords = (s: State): string => {
    const question = questionAt(s)
    if (question) return `How was it? ${question.piece}`
    const line = lineAt(s)
    if (!line || isClosed(s)) return ''
    return numberedText(s.at - s.questions.length + 1, line, o.text(line))
  }
  const shown = (state: State) => ({ state, controls, walk, now: timing.now() })
  let listed = ''
  /** The plan; while something else lies open it waits. Lines that only change places are not said again. */
  const dayTopics = (s: State): Readonly<Record<string, string>> => {
    const remarks = s.pain ? '' : s.remarks.join('\n')
    const what = s.lines.map(l => `${l.name} ${l.state}`).sort()
    if (what.join('\n') === listed) return { remarks }
    listed = what.join('\n')
    const lines = s.lines.map((l, i) => `${i + 1}: ${columnWords(o.columns(l))}${stateSaid(l)}`)
    return { remarks, lines: lines.join('\n') }
  }
  const chosenTopics = (s: State) => {
    const [pedals = '', keys = ''] = hints(shown(s)).map(inOneBreath)
    const way = menuOf(s)?.[s.pick]
    return {
      line: way ? `${s.pick + 1}: ${way.text}` : lineWords(s),
      pedals,
      ...(keys === '' ? {} : { keys }),
      field: '',
    }
  }
  const afterTopics = (s: State) => {
    const { at } = formAt(s)
    const field = AFTER_FIELDS[at]
    return {
      after: [afterTitle(s), ...afterKeys(controls)].join('\n'),
      field: fieldLine(field?.label ?? '', at, AFTER_FIELDS.length, field?.hint ?? ''),
      line: '',
    }
  }
  const screen: Screen<State, Action, Effect, { to: DayChoice; state: State }> = {
    state: o.state,
    reduce,
    key: (s, key, run) =>
      walked(pressOf(key.id, s.view, controls), key.at, countOf(s), run, (pedal, does) =>
        pedalAction(pedal, s, does, controls.pedals),
      ),
    perform: async (e, run) => {
      if (e.kind === 'go') run.end({ to: e.to, state: run.state() })
      else if (e.kind === 'keep') {
        const anew = await o.keep(run.state())
        if (anew) run.act(anew)
      } else if (e.kind === 'change') run.act(await o.change(e.change))
      else if (e.kind === 'noted') run.act(await o.noted())
      else if (e.kind !== 'write')
        run.act(await (e.kind === 'plan' ? o.plan(run.state()) : o.answer(e.question, e.answers)))
    },
    wakes: (_, now) => {
      const due = walk.wakes(now)
      return due && due.in < CLOCK ? due : { in: CLOCK, act: () => ({ kind: 'clock', now: o.clock() }) }
    },
    view: s => daySheet({ ...o, ...shown(s), size: o.terminal.size() }),
    topics: s => ({
      title: s.title,
      pain: s.pain ?? '',
      ...(s.view === 'day' ? dayTopics(s) : {}),
      note: [...s.note, ...overNotes(s)].join(' '),
      ways: (menuOf(s) ? [menuTitle(s), ...(menuOf(s) ?? []).map((w, i) => `${i + 1}: ${w.text}`)] : []).join(
        '\n',
      ),
      ...(s.view === 'after' ? afterTopics(s) : chosenTopics(s)),
    }),
    typing: s => (s.view === 'after' ? inHand(formAt(s)).text : null),
  }
  return runCovered(o, screen, {
    table: DAY_KEYS,
    on: s => s.view,
    chapters: dayHelp(controls),
    subject: s => {
      const line = s.view === 'day' ? lineAt(s) : undefined
      return line ? o.subject(line) : { about: {}, says: '' }
    },
    asks: e => (e.kind === 'write' ? e.as : null),
    kept: { kind: 'noted' },
  })
}
