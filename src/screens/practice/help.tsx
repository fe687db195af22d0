import { Box, Text } from 'ink'
import type { ReactElement } from 'react'
import { keyLabel } from '../../terminal/learn.ts'
import type { KeyNames } from './words.ts'

/** What every key does, and the usual cautions. */
export const helpLines = (keys: KeyNames, pedals: 1 | 2): readonly string[] => [
  'The pedals',
  ...(pedals === 2
    ? [
        `  ${keyLabel(keys.right)}: clean. From the last measure on; before that it is too early.`,
        `  ${keyLabel(keys.left)}: not clean. Before the last measure it stops the repetition.`,
        '  After a verdict, in the rest and the count-in: the same pedal waits, the',
        '  other one changes the verdict. Both at once: stop, nothing is counted.',
      ]
    : [
        `  ${keyLabel(keys.right)}: before the last beat: stop, not clean. From the last beat on: clean.`,
        '  In the rest and the count-in: takes the last verdict back and waits.',
      ]),
  pedals === 2
    ? '  While it waits, a pedal goes on; at a held note right goes on, left stops.'
    : '  While it waits, and at a held note, the pedal goes on.',
  '',
  'The keys',
  '  t w f    take back the latest verdict; wait, and go on; finish',
  '  [ ] + -  one rung down, one rung up; louder, softer',
  '  digits   any tempo up to the goal, then Enter',
  '  c        before the first repetition of a day: a cold take, once',
  '  l        listen to the goal once: its click, nothing is counted',
  '  g b s    apart from the ladder: a try at the goal, one beat at the goal,',
  '           a repetition without a sound',
  '  C G      where the goal is a range: the same at its other, upper end',
  '  j        the seam with a neighbor, then both as one, when both are ready',
  '  y        yes: the section or the breath that is offered',
  '  r        a round of altered rhythms at this rung, then even again',
  '  1 to 4   after a slip: what went wrong',
  '  k        only the pedals: other keys do nothing until open is typed',
  '',
  'Rest five minutes in each half hour. Stop when it hurts, and see a physician or',
  'therapist who treats musicians. In headphones keep the click quiet.',
  '',
  'Any key goes back.',
]

export const HelpView = ({ lines }: { lines: readonly string[] }): ReactElement => (
  <Box flexDirection="column" marginLeft={1} marginTop={1}>
    {lines.map((line, i) => (
      <Text key={i} wrap="truncate">
        {line === '' ? ' ' : line}
      </Text>
    ))}
  </Box>
)
