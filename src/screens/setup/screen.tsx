import { Box, render, Text } from 'ink'
import type { ReactElement } from 'react'
import type { Terminal } from '../../terminal/open-terminal.ts'
import { theme } from '../theme.ts'
import { type Learned, learnPedals, type Pedals } from './setup.ts'
import { KEEPS, LEAVES } from './words.ts'

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
    <Text wrap="wrap" color={theme.soft}>
      {p.done ? KEEPS : LEAVES}
    </Text>
  </Box>
)

/** How often silence is looked at, ms: a lifted foot is told by it. */
const LOOK_AGAIN = 100

/** Has the pedals pressed; resolves with them, or with null when the player leaves. */
export const setupScreen = (o: {
  readonly terminal: Terminal
  readonly now: () => number
  readonly later: (ms: number, f: () => void) => () => void
  readonly before: Pedals
  /** Kinds of instruments to ask for; empty = it is not asked. */
  readonly kinds: readonly string[]
}): Promise<Learned | null> =>
  new Promise(resolve => {
    const setup = learnPedals(o.now(), o.before, o.kinds)
    let shown = setup.state()
    const view = (): ReactElement => (
      <SetupView said={shown.said} done={shown.result !== null} {...o.terminal.size()} />
    )
    const ink = render(view(), o.terminal.ink)
    const draw = (): void => {
      if (shown === setup.state()) return
      shown = setup.state()
      if (shown.over) leave(shown.result)
      else ink.rerender(view())
    }
    let stop = (): void => {}
    const look = (): void => {
      stop = o.later(LOOK_AGAIN, look)
      setup.waited(o.now())
      draw()
    }
    stop = o.later(LOOK_AGAIN, look)
    const leave = (pedals: Learned | null): void => {
      stop()
      for (const off of offs) off()
      ink.unmount()
      resolve(pedals)
    }
    const offs = [
      o.terminal.onKey(key => {
        if (key.id === 'C-c') return leave(setup.state().result)
        setup.key(key)
        draw()
      }),
      o.terminal.onResize(() => ink.rerender(view())),
    ]
  })
