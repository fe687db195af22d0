import { Box, render, Text } from 'ink'
import type { ReactElement } from 'react'
import type { PlainTerminal } from '../../terminal/open-plain.ts'
import type { Terminal } from '../../terminal/open-terminal.ts'
import { theme } from '../../terminal/theme.ts'

/** A title, some lines and what the keys do. */
const LinesView = (p: {
  title: string
  lines: readonly string[]
  hint: string
  rows: number
  cols: number
}): ReactElement => (
  <Box flexDirection="column" width={Math.min(78, p.cols - 2)} height={p.rows} marginLeft={1} paddingTop={1}>
    <Text bold>{p.title}</Text>
    <Text> </Text>
    <Box flexDirection="column" flexGrow={1} flexShrink={1} overflow="hidden">
      {p.lines.map((line, i) => (
        <Text key={i} wrap="wrap" bold={line.startsWith('>')}>
          {line}
        </Text>
      ))}
    </Box>
    <Text wrap="wrap" color={theme.soft}>
      {p.hint}
    </Text>
  </Box>
)

/** Shows lines that change with the keys; on a plain terminal `said` is printed when it is another sentence than before. */
export const linesScreen = (o: {
  readonly terminal: Terminal | PlainTerminal
  readonly title: string
  readonly hint: string
  readonly lines: () => readonly string[]
  readonly said: () => string
  readonly key: (id: string, at: number) => void
}): { readonly draw: () => void; readonly close: () => void } => {
  const { terminal } = o
  const view = (): ReactElement => (
    <LinesView title={o.title} lines={o.lines()} hint={o.hint} {...terminal.size()} />
  )
  let last = ''
  const line = terminal.ink === null ? terminal.line : null
  const ink = terminal.ink === null ? null : render(view(), terminal.ink)
  line?.(o.title)
  line?.(o.hint)
  const draw = (): void => {
    ink?.rerender(view())
    const said = o.said()
    if (said !== '' && said !== last) line?.(said)
    last = said
  }
  const offs = [terminal.onKey(key => o.key(key.id, key.at)), terminal.onResize(draw)]
  draw()
  return {
    draw,
    close: () => {
      for (const off of offs) off()
      ink?.unmount()
    },
  }
}
