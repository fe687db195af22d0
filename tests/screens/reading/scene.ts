import { compile } from '../../../src/click/compile.ts'
import { markBelow } from '../../../src/ladder/start.ts'
import { passageForm } from '../../../src/repertoire/passage-form.ts'
import type { Passage } from '../../../src/repertoire/piece.ts'
import type { Pass } from '../../../src/screens/reading/reduce.ts'
import { RATE } from '../../click/support.ts'
import { must } from '../practice/stage.ts'

/** Measures 41 to 48 of an invented overture, unless the test says otherwise. */
export const passage = (change: Partial<Passage> = {}): Passage => ({
  id: 'pass1',
  name: 'run at the weir',
  measures: '41-48',
  meter: '4/4',
  count: 8,
  pickup: null,
  goal: '120',
  ...change,
})

/** A passage as `gradino read` reads it: at 72 where the goal is 120. */
export const passOf = (p: Passage = passage()): Pass => {
  const { form, numbers, goal } = must(passageForm(p))
  const tempo = markBelow(goal, 0.6)
  return {
    id: p.id,
    piece: 'overture',
    title: `Weir Street Overture   ${p.name}`,
    name: `Weir Street Overture/${p.name}`,
    music: { form, numbers },
    tempo,
    counted: null,
    program: compile(form, tempo, { countIn: 1, subdivide: 1, rate: RATE }),
  }
}
