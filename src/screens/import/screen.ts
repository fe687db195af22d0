import type { Offer } from '../../score/offer.ts'
import type { Done } from '../../store/trouble.ts'
import { LINGER } from '../../terminal/lock.ts'
import type { Screen } from '../../terminal/run-screen.tsx'
import type { PedalDesk } from '../desk.ts'
import { runCovered } from '../overlay.ts'
import { IMPORT_KEYS, pressOf } from './key-table.ts'
import { type Action, type Effect, openOf, type Picked, reduce, type State } from './reduce.ts'
import { importSheet, said } from './view.ts'

/** How the screen was left: with what was stored, or without. */
export type Left<T> = { readonly stored: T | null; readonly quit: boolean }

/** Lets the screen be drawn before the work that keeps everything waiting. Milliseconds. */
const BREATHER = 20

/** What to take from a score, until something is stored or the player leaves. The caller opens and closes the terminal. */
export const importScreen = <T>(
  o: PedalDesk & {
    readonly state: State
    readonly read: (path: string) => Promise<Done<Offer>>
    readonly store: (picked: Picked) => Promise<Done<T>>
  },
): Promise<Left<T>> => {
  const drawn = () => new Promise<void>(resolve => void o.timing.later(BREATHER, resolve))
  const screen: Screen<State, Action, Effect, Left<T>> = {
    state: o.state,
    reduce,
    key: (s, key, run) => {
      const press = pressOf(s, key, o.controls)
      if (press?.kind !== 'pedal') return press?.does ?? null
      const early = key.at - run.since() < LINGER
      if (o.lock.press(press.pedal, key.at) !== 'accepted' || early) return null
      return press.pedal === 'right' ? { kind: 'take' } : { kind: 'choose', by: 1, round: true }
    },
    perform: async (e, run) => {
      if (e.kind === 'end') return run.end({ stored: null, quit: e.quit })
      await drawn()
      if (e.kind === 'read') {
        const read = await o.read(e.path)
        return run.act(
          read.ok ? { kind: 'read', offer: read.value } : { kind: 'refused', text: read.message },
        )
      }
      const done = await o.store(e.picked)
      if (done.ok) run.end({ stored: done.value, quit: false })
      else run.act({ kind: 'refused', text: done.message })
    },
    // A file that was dropped is read at once.
    open: run => {
      if (o.state.texts.file.text !== '') run.act({ kind: 'take' })
      return []
    },
    view: s => importSheet(s, o.terminal.size(), o.controls),
    topics: s => ({ said: said(s), note: s.note }),
  }
  return runCovered(o, screen, { table: IMPORT_KEYS, on: openOf })
}
