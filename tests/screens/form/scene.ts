import type { Where } from '../../../src/repertoire/edit.ts'
import type { Passage, Piece } from '../../../src/repertoire/piece.ts'
import { editedForm } from '../../../src/screens/form/form.ts'
import { actionOf } from '../../../src/screens/form/key-table.ts'
import { type Action, type Effect, newState, reduce } from '../../../src/screens/form/reduce.ts'
import { overture } from '../../store/scene.ts'
import { TWO } from '../controls.ts'

/** Measures 41 to 44 with two breaths, a change of meter and two sections. */
export const run: Passage = {
  id: 'p0000003',
  name: 'run at the weir',
  measures: '41-44',
  meter: '4/4',
  count: 4,
  pickup: null,
  start: '80',
  goal: '138',
  changes: [{ at: '43', meter: '3/4' }],
  breaths: [
    { at: '42.4', kind: 'breath' },
    { at: '43.3', kind: 'slow-breath', below: '96' },
  ],
  sections: [
    { id: 's0000001', name: '1', from: '41', to: '43.2' },
    { id: 's0000002', name: '2', from: '43', to: 'end' },
  ],
}
export const weir: Piece = { ...overture, passages: [run] }
export const around = {
  today: '2026-03-24',
  isRhythm: (name: string) => ['long-short', 'short-long'].includes(name),
}

/** A player at the form, key by key. */
export const sitAt = (where: Where = { passage: run.id }, piece: Piece = weir) => {
  let state = newState(editedForm(piece, where), around)
  const effects: Effect[] = []
  const act = (a: Action): void => {
    const step = reduce(state, a)
    state = step.state
    effects.push(...step.effects)
  }
  const press = (...ids: string[]): void => {
    for (const id of ids) {
      const action = actionOf(id, state.view, TWO)
      if (action) act(action)
    }
  }
  const text = (s: string): void => press(...[...s].map(c => (c === ' ' ? 'Space' : c)))
  return {
    act,
    press,
    text,
    effects,
    state: () => state,
    row: () => state.form.rows[state.form.at],
    /** Goes to the first row of a field or list (or to a later one of it) and writes this there instead. */
    write: (key: string, s: string, nth = 0) => {
      const to = state.form.rows.findIndex(
        (r, i) => r.key === key && state.form.rows.slice(0, i).filter(x => x.key === key).length === nth,
      )
      while (state.form.at !== to) press(state.form.at < to ? 'Down' : 'Up')
      for (const _ of state.form.rows[to]?.text ?? '') press('Backspace')
      text(s)
    },
  }
}
