import { tempo } from '../../../src/music/tempo.ts'
import { pedalAction, pressOf } from '../../../src/screens/home/key-table.ts'
import { type Effect, type Listing, newState, reduce, type State } from '../../../src/screens/home/reduce.ts'
import type { PassageRow } from '../../../src/screens/home/row.ts'
import { overture } from '../../store/scene.ts'
import { TWO } from '../controls.ts'

const TODAY = '2026-03-24'

export const row = (id: string, part: Partial<PassageRow> = {}): PassageRow => ({
  id,
  name: `a1b2c3d4/${id}`,
  piece: 'Weir Street Overture',
  place: id,
  music: '4 measures of 4/4',
  note: '',
  readyBy: null,
  days: null,
  goal: tempo(126),
  start: null,
  ceiling: null,
  secure: null,
  ready: false,
  next: tempo(76),
  finding: true,
  sections: [],
  ...part,
})

const opening = row('opening, m. 1-8', {
  readyBy: '2026-04-02',
  days: 9,
  ceiling: tempo(112),
  next: tempo(96),
  finding: false,
})
const run = row('run at the weir, m. 41-44', { readyBy: '2026-03-28', days: 4 })
const coda = row('coda')

export const known: Listing = { rows: [coda, opening, run], around: { today: TODAY, pieces: [overture] } }
export const empty: Listing = { rows: [], around: { today: TODAY, pieces: [] } }

/** A player at the home screen, key by key; `text` is typed character by character. */
export const sitAt = (start: State) => {
  let state = start
  const effects: Effect[] = []
  const press = (...ids: string[]): void => {
    for (const id of ids) {
      const press = pressOf(id, state.view, TWO)
      if (!press) continue
      const action =
        press.kind === 'key' ? press.does : pedalAction(press.pedal === 'right' ? 'take' : 'next', 2)
      if (!action) continue
      const step = reduce(state, action)
      state = step.state
      effects.push(...step.effects)
    }
  }
  return {
    press,
    text: (s: string) => press(...[...s].map(c => (c === ' ' ? 'Space' : c))),
    act: (a: Parameters<typeof reduce>[1]) => {
      const step = reduce(state, a)
      state = step.state
      effects.push(...step.effects)
    },
    state: () => state,
    effects,
    chosen: () => state.rows[state.chosen]?.place,
  }
}

export const atTheList = () => sitAt(newState(known, false))
export const atTheQuestion = () => sitAt(newState(empty, true))
