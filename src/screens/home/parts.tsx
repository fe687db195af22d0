import { Box, Text } from 'ink'
import type { ReactElement } from 'react'
import { theme } from '../../terminal/theme.ts'
import { CAUTIONS } from '../caution-words.ts'
import { inRows } from './layout.ts'

/** What is chosen stands behind the sign that begins a repeat. */
export const CHOSEN = '║: '

export const Bar = ({ on }: { on: boolean }): ReactElement => (
  <Box width={3} flexShrink={0}>
    <Text bold color={theme.mark}>
      {on ? CHOSEN : '   '}
    </Text>
  </Box>
)

export const Cautions = (): ReactElement => (
  <Box flexDirection="column" marginBottom={1} flexShrink={0}>
    {CAUTIONS.map(line => (
      <Text key={line} wrap="truncate">{`   ${line}`}</Text>
    ))}
  </Box>
)

/** What has just happened, in as many rows as it needs. */
export const Note = (p: { text: string; width: number }): ReactElement => (
  <Box flexDirection="column" flexShrink={0}>
    {inRows(p.text, p.width - 6).map((row, i) => (
      <Text key={i} bold wrap="truncate">{`   ${row}`}</Text>
    ))}
  </Box>
)
