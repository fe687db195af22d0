import { Box, Text } from 'ink'
import type { ReactElement, ReactNode } from 'react'
import type { Size } from '../../terminal/screen-writer.ts'
import { theme } from '../../terminal/theme.ts'
import { CAUTIONS, tooSmallText } from '../words.ts'
import { inRows, kindOf, widthOf } from './layout.ts'

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

/** The composed columns in the middle of the window; below 40x12 one sentence that says what it is too small for. */
export const Composed = (p: { size: Size; what: string; children: ReactNode }): ReactElement => {
  const { size } = p
  if (kindOf(size) === 'none') return <Text wrap="wrap">{tooSmallText(p.what)}</Text>
  const width = widthOf(size)
  return (
    <Box
      flexDirection="column"
      width={width}
      height={size.rows}
      paddingTop={kindOf(size) === 'full' ? 1 : 0}
      marginLeft={Math.floor((size.cols - width) / 2)}
    >
      {p.children}
    </Box>
  )
}
