import { type Tempo, tempo } from '../../src/music/tempo.ts'
import type { Item } from '../../src/plan/item.ts'

/** A day that is written down, so that what shows and plays a plan does not hang on how one is made. */

type Known = { readonly from: number; readonly ceiling: number; readonly goal: number }
const KNOWN: Readonly<Record<string, Known>> = {
  A: { from: 74, ceiling: 84, goal: 120 },
  B: { from: 88, ceiling: 100, goal: 120 },
  D: { from: 58, ceiling: 66, goal: 96 },
  F: { from: 79, ceiling: 90, goal: 132 },
}

const visit = (name: string, keyOf: KeyOf, at: number, again = false): Item => {
  const { from, ceiling, goal } = KNOWN[name] as Known
  return {
    kind: 'section',
    key: keyOf(name),
    label: `section ${name}`,
    from: again ? null : tempo(from),
    again,
    over: 60,
    ceiling: tempo(ceiling),
    goal: tempo(goal),
    top: null,
    toPass: null,
    why: 'gap',
    at,
    minutes: 3,
  }
}

type KeyOf = (name: string) => string

/** 45 minutes on six sections of the Weir Street Overture. */
export const setDay = (keyOf: KeyOf = name => name): readonly Item[] => {
  const take = (name: string, t: Tempo) => ({ key: keyOf(name), label: `section ${name}`, tempo: t })
  return [
    { kind: 'fundamentals', at: 0, minutes: 9 },
    visit('D', keyOf, 9),
    visit('A', keyOf, 12),
    { kind: 'rest', at: 15, minutes: 5 },
    { kind: 'cold', take: take('E', tempo(120)), at: 20, minutes: 0.5 },
    visit('D', keyOf, 20.5, true),
    visit('F', keyOf, 23.5),
    visit('B', keyOf, 26.5),
    visit('D', keyOf, 29.5, true),
    visit('A', keyOf, 32.5, true),
    visit('F', keyOf, 35.5, true),
    visit('B', keyOf, 38.5, true),
    {
      kind: 'through',
      takes: [take('D', tempo(58)), take('A', tempo(72)), take('F', tempo(80)), take('B', tempo(88))],
      at: 41.5,
      minutes: 2,
    },
  ]
}
