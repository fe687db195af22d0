import { stripVTControlCharacters } from 'node:util'
import { render } from 'ink'
import type { ReactElement } from 'react'
import { inkStreams } from '../../src/terminal/ink-streams.ts'

/** The rows that the terminal gets for a view, drawn the way the program draws, without colors. */
export const drawn = (view: ReactElement, size: { rows: number; cols: number }): string[] => {
  let text = ''
  const { options } = inkStreams(
    () => size,
    t => {
      text = t
    },
  )
  render(view, options).unmount()
  return stripVTControlCharacters(text).split('\n')
}
