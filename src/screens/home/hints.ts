import { type Controls, keyHints, keyOf } from '../../terminal/key-table.ts'
import type { Row } from '../../terminal/painted.tsx'
import type { Size } from '../../terminal/screen-writer.ts'
import { type Walk, walkHint } from '../choosing.ts'
import { JOIN_KEY } from '../key-rows.ts'
import { BAR, BOLD, CHOSEN, indented, row, SOFT } from '../page.ts'
import { CAUTIONS } from '../words.ts'
import { HOME_KEYS } from './key-table.ts'
import { type State, wayOf } from './reduce.ts'
import type { PassageRow } from './row.ts'
import { WAYS } from './words.ts'

export type Shown = {
  readonly state: State
  readonly size: Size
  readonly controls: Controls
  readonly walk: Walk
  /** Monotonic ms, for what a press means now. */
  readonly now: number
}

/** What can be joined, and by which key as the player has it; empty where nothing can. */
export const joinHint = ({ join }: PassageRow, { choice }: Controls): string =>
  join ? [join.says, keyOf(JOIN_KEY, choice)].filter(Boolean).join(': ') : ''

/** What pedals and keys do now; `take` = what the chosen line leads to. */
export const hints = ({ state: s, controls: c, walk, now }: Omit<Shown, 'size'>, take: string) => {
  const way = wayOf(s)
  return [
    walkHint(walk, now, c, { take: way ? WAYS[way] : take, next: 'next line' }),
    keyHints(HOME_KEYS, s.view, c.choice).join('  '),
  ] as const
}
export const hintRows = (p: Shown, take: string): readonly Row[] => indented(hints(p, take), {}, BAR)

/** Behind the last line: the way out that the foot has come to, else what is not shown. */
export const wayRow = (s: State, beside: string): Row => {
  const way = wayOf(s)
  return way ? row(`${CHOSEN}${WAYS[way]}`, BOLD) : row(`   ${beside}`, SOFT)
}

export const cautionRows = (s: State): readonly Row[] =>
  s.cautions ? [...indented(CAUTIONS, {}, BAR), []] : []
