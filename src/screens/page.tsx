import { Box, Text } from 'ink'
import type { ReactElement } from 'react'
import { inRows } from './home/layout.ts'
import { theme } from './theme.ts'

/** A piece of a row, in a color by its meaning. */
export type Part = { readonly text: string; readonly color?: keyof typeof theme; readonly bold?: true }
export type Row = readonly Part[]

export const row = (text: string, style: Omit<Part, 'text'> = {}): Row => [{ text, ...style }]
export const lengthOf = (r: Row): number => r.reduce((n, p) => n + [...p.text].length, 0)

/** Rows beside each other: the right ones begin in one column. */
export const sideBySide = (left: readonly Row[], right: readonly Row[], column: number): readonly Row[] =>
  Array.from({ length: Math.max(left.length, right.length) }, (_, i) => {
    const [l, r] = [left[i] ?? [], right[i]]
    return r ? [...l, { text: ' '.repeat(Math.max(1, column - lengthOf(l))) }, ...r] : l
  })

/**
 * A text in rows of so many columns. What stands apart in it (two spaces or more) is broken there first, then between
 * words; nothing is cut.
 */
export const inPhrases = (text: string, width: number): readonly string[] => {
  const rows: string[] = []
  for (const [, gap = '', phrase = ''] of text.matchAll(/( {2,}|^ ?)(.+?)(?= {2,}|$)/g)) {
    const last = rows.at(-1)
    const joined = `${last}${gap}${phrase}`
    if (last !== undefined && [...joined].length <= width) rows[rows.length - 1] = joined
    else rows.push(...inRows(phrase, width))
  }
  return rows
}

/** The whole window, row by row. */
export const Page = ({ rows }: { rows: readonly Row[] }): ReactElement => (
  <Box flexDirection="column">
    {rows.map((parts, i) => (
      <Text key={i} wrap="truncate">
        {parts.length === 0
          ? ' '
          : parts.map((p, k) =>
              p.color || p.bold ? (
                <Text
                  key={k}
                  {...(p.bold ? { bold: true } : {})}
                  {...(p.color ? { color: theme[p.color] } : {})}
                >
                  {p.text}
                </Text>
              ) : (
                p.text
              ),
            )}
      </Text>
    ))}
  </Box>
)
