import { Box, Text } from 'ink'
import type { ReactElement } from 'react'
import type { KeyChoice } from '../../terminal/key-table.ts'
import type { Terminal } from '../../terminal/open-terminal.ts'
import { runScreen } from '../../terminal/run-screen.tsx'
import { theme } from '../../terminal/theme.ts'
import type { Key } from '../../terminal/tokenizer.ts'
import type { Timing } from '../slept.ts'
import { type Learned, learnPedals, type Pedals, type SetupState } from './setup.ts'
import { enlarge, KEEPS, LEAVES } from './words.ts'

const SetupView = (p: {
  said: readonly string[]
  done: boolean
  rows: number
  cols: number
}): ReactElement => (
  <Box flexDirection="column" width={Math.min(76, p.cols - 2)} height={p.rows} marginLeft={1} paddingTop={1}>
    <Text bold>The pedals</Text>
    <Text> </Text>
    {/* The latest stands at the bottom; what is older leaves at the top. */}
    <Box flexDirection="column" flexGrow={1} flexShrink={1} overflow="hidden" justifyContent="flex-end">
      {p.said.map((line, i) => (
        <Box key={i} flexShrink={0}>
          <Text wrap="wrap" {...(i === p.said.length - 1 ? { bold: true } : {})}>
            {line}
          </Text>
        </Box>
      ))}
    </Box>
    <Text> </Text>
    <Text wrap="wrap">{enlarge(p)}</Text>
    <Text wrap="wrap" color={theme.soft}>
      {p.done ? KEEPS : LEAVES}
    </Text>
  </Box>
)

/** How often silence is looked at, ms: a lifted foot is told by it. */
const LOOK_AGAIN = 100

type Action =
  | { readonly kind: 'key'; readonly key: Key }
  | { readonly kind: 'look' }
  | { readonly kind: 'quit' }

/** Has the pedals pressed; resolves with them, or with null when the player leaves. */
export const setupScreen = (o: {
  readonly terminal: Terminal
  readonly timing: Timing
  readonly before: Pedals
  readonly choice: KeyChoice
  /** Kinds of instruments to ask for; empty = it is not asked. */
  readonly kinds: readonly string[]
}): Promise<Learned | null> => {
  const { timing } = o
  const setup = learnPedals(timing.now(), o.before, o.kinds, o.choice)
  return runScreen<SetupState, Action, 'leave', Learned | null>(o.terminal, timing, {
    state: setup.state(),
    reduce: (s, a) => {
      if (a.kind === 'quit') return { state: s, effects: ['leave'] }
      if (a.kind === 'look') setup.waited(timing.now())
      else setup.key(a.key)
      const state = setup.state()
      return { state, effects: state.over ? ['leave'] : [] }
    },
    // What is pasted is no key that a pedal could send.
    key: (_, key) =>
      key.text !== undefined ? null : key.id === 'C-c' ? { kind: 'quit' } : { kind: 'key', key },
    perform: (_, run) => run.end(run.state().result),
    wakes: () => ({ in: LOOK_AGAIN, act: () => ({ kind: 'look' }) }),
    view: s => <SetupView said={s.said} done={s.result !== null} {...o.terminal.size()} />,
    topics: s => ({ said: s.said.at(-1) ?? '' }),
  })
}
