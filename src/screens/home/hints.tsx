import { Text } from 'ink'
import type { ReactElement } from 'react'
import { keyLabel } from '../../terminal/key-label.ts'
import { type Controls, keyHelp, keyHints, keyOf } from '../../terminal/key-table.ts'
import { theme } from '../../terminal/theme.ts'
import type { Chapter } from '../help.ts'
import { JOIN_KEY } from '../key-rows.ts'
import { type Walk, walkHint } from '../walk.ts'
import { ONE_PEDAL_LISTS } from '../words.ts'
import { HOME_KEYS } from './key-table.ts'
import { CHOSEN } from './parts.tsx'
import { type State, wayOf } from './reduce.ts'
import type { PassageRow } from './row.ts'
import { LIST_WORDS } from './words.ts'

/** What can be joined, and by which key as the player has it; empty where nothing can. */
export const joinHint = ({ join }: PassageRow, { choice }: Controls): string => {
  return join ? [join.says, keyOf(JOIN_KEY, choice)].filter(Boolean).join(': ') : ''
}

export const WAYS = { day: 'to the day', leave: 'leave' } as const

/** What pedals and keys do now; `take` = what the chosen line leads to. */
export const hints = (p: {
  readonly state: State
  readonly controls: Controls
  readonly walk: Walk
  readonly now: number
  readonly take: string
}): readonly [string, string] => {
  const { state: s, controls: c, walk, now } = p
  const way = wayOf(s)
  const keys = keyHints(HOME_KEYS, s.view, c.choice)
  return [walkHint(walk, now, c, { take: way ? WAYS[way] : p.take, next: 'next line' }), keys.join('  ')]
}

export const Hints = (p: Parameters<typeof hints>[0]): ReactElement => (
  <>
    {hints(p).map(row => (
      <Text key={row} wrap="truncate">{`   ${row}`}</Text>
    ))}
  </>
)

/** Behind the last line: the way out that the foot has come to, else what is not shown. */
export const Way = (p: { state: State; beside: string }): ReactElement => {
  const way = wayOf(p.state)
  return way ? (
    <Text bold>{`${CHOSEN}${WAYS[way]}`}</Text>
  ) : (
    <Text color={theme.soft}>{`   ${p.beside}`}</Text>
  )
}

/** What the pedals and the keys of the list do, and what stands in it. */
export const homeHelp = (c: Controls): readonly Chapter[] => [
  {
    title: 'The pedals',
    entries:
      c.pedals === 1
        ? [['', ONE_PEDAL_LISTS]]
        : [
            [keyLabel(c.right), 'practice the chosen passage, or open its sections'],
            [keyLabel(c.left), 'the next line, and round again'],
          ],
  },
  { title: 'The keys', entries: keyHelp(HOME_KEYS, c.choice) },
  { title: 'The list', entries: LIST_WORDS },
]
