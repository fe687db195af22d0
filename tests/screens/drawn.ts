import { stripVTControlCharacters } from 'node:util'
import { render } from 'ink'
import type { ReactElement } from 'react'
import { inkStreams } from '../../src/terminal/ink-streams.ts'
import { type Sheet, sheetText } from '../../src/terminal/painted.tsx'

/** The rows that the terminal gets for a view, drawn the way the program draws, without colors. */
export const drawn = (view: ReactElement | Sheet, size: { rows: number; cols: number }): string[] => {
  let text = ''
  if ('props' in view) {
    const { options } = inkStreams(
      () => size,
      t => {
        text = t
      },
    )
    render(view, options).unmount()
  } else text = sheetText(view)
  return stripVTControlCharacters(text)
    .split('\n')
    .map(row => row.trimEnd())
}
