import { Text } from 'ink'
import type { ReactElement } from 'react'
import { theme } from '../terminal/theme.ts'
import { type BeatStrip, MARK } from './beat-strip.ts'

/** The beat strip with its mark in color, `left` columns in, and a few words behind it. */
export const StripLine = (p: { strip: BeatStrip; left: number; label: string }): ReactElement => {
  const { row, mark } = p.strip
  return (
    <Text wrap="truncate">
      {' '.repeat(p.left)}
      {mark === null ? row : row.slice(0, mark)}
      {mark === null ? null : (
        <Text color={theme.mark} bold>
          {MARK}
        </Text>
      )}
      {mark === null ? '' : row.slice(mark + 1)}
      {`    ${p.label}`}
    </Text>
  )
}
