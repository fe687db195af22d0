import type { Edits } from '../../repertoire/edit.ts'
import type { Done } from '../../store/trouble.ts'
import type { Screen } from '../../terminal/run-screen.tsx'
import { newWalk, walking } from '../choosing.ts'
import type { PedalDesk } from '../desk.ts'
import { formLines, typedIn } from '../form/view.ts'
import { runCovered } from '../overlay.ts'
import { HOME_KEYS, pedalAction, pressOf } from './key-table.ts'
import {
  type Action,
  countOf,
  type Destination,
  type Effect,
  formOf,
  type Listing,
  reduce,
  type State,
  subjectOf,
} from './reduce.ts'
import { homeHelp, homeTopics } from './spoken.ts'
import { homeSheet } from './view.ts'

/** A stored passage: its id, and the repertoire with it. */
export type Added = { readonly id: string; readonly known: Listing }

/** The home screen until the player goes on to something else; resolves with that and with the state to come back to. */
export const homeScreen = (
  o: PedalDesk & {
    readonly state: State
    /** Back from another screen, which a pedal may have closed. */
    readonly back: boolean
    readonly add: (edits: Edits) => Promise<Done<Added>>
  },
): Promise<{ readonly to: Destination; readonly state: State }> => {
  const { controls, timing } = o
  const walk = newWalk(controls.pedals, timing.now())
  const walked = walking(walk, o.lock, o.back)
  const form = formLines()
  const shown = (state: State) => ({ state, controls, walk, now: timing.now() })
  const screen: Screen<State, Action, Effect, { to: Destination; state: State }> = {
    state: o.state,
    reduce,
    key: (s, key, run) => {
      if (key.text !== undefined) return { kind: 'import', path: key.text }
      return walked(pressOf(key.id, s.view, controls), key.at, countOf(s), run, (_, does) =>
        pedalAction(does, controls.pedals),
      )
    },
    perform: async (e, run) => {
      if (e.kind === 'go') return run.end({ to: e.to, state: run.state() })
      const done = await o.add(e.edits)
      run.act(done.ok ? { kind: 'stored', ...done.value } : { kind: 'refused', text: done.message })
    },
    wakes: (_, now) => walk.wakes(now),
    view: s => homeSheet({ ...shown(s), size: o.terminal.size() }),
    topics: s => {
      const filled = formOf(s)
      return { ...homeTopics(shown(s)), ...(filled ? form(filled, s.around) : {}) }
    },
    typing: s => {
      const filled = formOf(s)
      return filled && typedIn(filled)
    },
  }
  return runCovered(o, screen, {
    table: HOME_KEYS,
    on: s => s.view,
    chapters: homeHelp(controls),
    subject: subjectOf,
  })
}
