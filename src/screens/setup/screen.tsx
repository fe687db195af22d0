import { Box, render, Text } from 'ink'
import type { ReactElement } from 'react'
import type { Terminal } from '../../terminal/open-terminal.ts'
import { theme } from '../theme.ts'
import { type Learned, learnPedals, type Pedals } from './setup.ts'

const SetupView = (p: { said: readonly string[]; done: boolean; cols: number }): ReactElement => (
  <Box flexDirection="column" width={Math.min(76, p.cols - 2)} marginLeft={1} marginTop={1}>
    <Text bold>The pedals</Text>
    <Text> </Text>
    {p.said.map((line, i) => (
      <Text key={i} wrap="wrap" {...(i === p.said.length - 1 ? { bold: true } : {})}>
        {line}
      </Text>
    ))}
    <Text> </Text>
    <Text wrap="wrap" color={theme.soft}>
      {p.done ? 'Any key keeps this.' : 'f leaves everything as it was.'}
    </Text>
  </Box>
)

const LOOK_AGAIN = 500

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
    const view = (): ReactElement => {
      const { said, result } = setup.state()
      return <SetupView said={said} done={result !== null} cols={o.terminal.size().cols} />
    }
    const ink = render(view(), o.terminal.ink)
    const draw = (): void => ink.rerender(view())
    let stop = (): void => {}
    const look = (): void => {
      setup.waited(o.now())
      draw()
      stop = o.later(LOOK_AGAIN, look)
    }
    stop = o.later(LOOK_AGAIN, look)
    let since = 0
    const leave = (pedals: Learned | null): void => {
      stop()
      off()
      ink.unmount()
      resolve(pedals)
    }
    const off = o.terminal.onKey(key => {
      const { result } = setup.state()
      // The foot that taught the last pedal may still be down.
      if (result !== null && key.at - since > 600) leave(result)
      else if (key.id === 'C-c' || (key.id === 'f' && result === null)) leave(null)
      else {
        setup.key(key)
        since = key.at
        draw()
      }
    })
  })
