import { stripVTControlCharacters } from 'node:util'
import { render } from 'ink'
import type { Shown } from '../../screens/practice/shown.ts'
import { PracticeView } from '../../screens/practice/view.tsx'
import { inkStreams } from '../../terminal/ink-streams.ts'

/** The practice screen as rows of text, without colors. */
export const still = (shown: Shown): string => {
  let drawn = ''
  const streams = inkStreams(
    () => shown.size,
    text => {
      drawn = text
    },
  )
  const ink = render(<PracticeView {...shown} />, streams.options)
  const rows = stripVTControlCharacters(drawn).split('\n')
  // Only now: at its end Ink may draw once more, something else (where CI is set).
  ink.unmount()
  return `${rows.map(row => row.trimEnd()).join('\n')}\n`
}
