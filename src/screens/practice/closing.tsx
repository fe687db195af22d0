import { Box, Text } from 'ink'
import type { ReactElement } from 'react'

/** Three sentences and nothing else. */
export const ClosingView = (p: {
  lines: readonly string[]
  locked: boolean
  /** Something can be joined now. */
  joins?: boolean
  /** What one pedal can choose now; empty where any key closes. */
  choice?: string
  size: { readonly rows: number; readonly cols: number }
}): ReactElement => (
  <Box
    flexDirection="column"
    width={Math.min(72, p.size.cols)}
    marginLeft={Math.max(0, Math.floor((p.size.cols - 72) / 2))}
    marginTop={Math.max(0, Math.floor(p.size.rows / 2) - 4)}
  >
    {p.lines.map(line => (
      <Text key={line} wrap="wrap">
        {line}
      </Text>
    ))}
    <Text> </Text>
    <Text>
      {p.lines.length === 0
        ? ' '
        : p.choice
          ? `All of it is stored. ${p.choice}`
          : p.joins && !p.locked
            ? 'All of it is stored. j: their seam, then as one. Any other key closes.'
            : `All of it is stored. ${p.locked ? 'A pedal' : 'Any key'} closes.`}
    </Text>
  </Box>
)
