import { Box, Text } from 'ink'
import type { ReactElement, ReactNode } from 'react'
import { theme } from '../../terminal/theme.ts'

/** Columns of the repeat sign, each number and the date; what is left is the music's. */
export const BAR = 3
export const DATE = 13
const NUMBERS = { next: 10, ceiling: 8, goal: 12 } as const
const MARGIN = 1
export const musicWidth = (width: number): number =>
  width - BAR - DATE - NUMBERS.next - NUMBERS.ceiling - NUMBERS.goal - MARGIN

export const Cell = (p: { width: number; right?: boolean; children: ReactNode }): ReactElement => (
  <Box
    width={p.width}
    flexShrink={0}
    {...(p.right ? { justifyContent: 'flex-end' as const, paddingLeft: 1 } : {})}
  >
    <Text wrap="truncate">{p.children}</Text>
  </Box>
)

export const Numbers = (p: { next: ReactNode; ceiling: ReactNode; goal: ReactNode }): ReactElement => (
  <>
    <Cell width={NUMBERS.next} right>
      {p.next}
    </Cell>
    <Cell width={NUMBERS.ceiling} right>
      {p.ceiling}
    </Cell>
    <Cell width={NUMBERS.goal} right>
      {p.goal}
    </Cell>
  </>
)

const soft = (text: string): ReactElement => <Text color={theme.soft}>{text}</Text>

/** What stands above the columns; `what` = over the first one, `when` = over the last; null = there is none. */
export const Heading = (p: { what: string; when: string | null; music: number }): ReactElement => (
  <Box flexShrink={0}>
    <Box width={BAR} flexShrink={0} />
    <Cell width={p.music}>{soft(p.what)}</Cell>
    <Numbers next={soft('next from')} ceiling={soft('ceiling')} goal={soft('goal')} />
    {p.when === null ? null : (
      <Cell width={DATE} right>
        {soft(p.when)}
      </Cell>
    )}
  </Box>
)
