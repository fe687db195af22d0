import { keyLabel } from '../../terminal/key-label.ts'
import { type Controls, keyHelp } from '../../terminal/key-table.ts'
import type { Size } from '../../terminal/screen-writer.ts'
import type { Sheet } from '../../terminal/sheet.ts'
import { pedalLines } from '../../visit/pedal-table.ts'
import { indented, MARGIN } from '../page.ts'
import { wrapped } from '../today/wrap.ts'
import { ALL_CAUTIONS } from '../words.ts'
import { BESIDE_KEYS, OFTEN_KEYS } from './key-table.ts'
import { ANY_KEY_BACK, nextPage, ONE_PEDAL_CHOOSES } from './words.ts'

/** A key and what it does; without a key a sentence. */
type Entry = readonly [key: string, does: string]
type Chapter = { readonly title: string; readonly entries: readonly Entry[] }

const pedalEntries = ({ right, left, pedals }: Controls): readonly Entry[] => [
  pedals === 2 ? ['right, left', `${keyLabel(right)}, ${keyLabel(left)}`] : ['the pedal', keyLabel(right)],
  ...pedalLines(pedals).map(({ when, does }): Entry => [when, does]),
  ...(pedals === 1 ? ONE_PEDAL_CHOOSES.map((line): Entry => ['', line]) : []),
]

const CAREFUL: readonly Entry[] = [['', ALL_CAUTIONS.join(' ')]]

const chapters = (c: Controls): readonly Chapter[] => [
  { title: 'The pedals', entries: pedalEntries(c) },
  { title: 'The keys', entries: keyHelp(OFTEN_KEYS, c.choice) },
  { title: 'Beside the ladder', entries: keyHelp(BESIDE_KEYS, c.choice) },
  { title: '', entries: CAREFUL },
]

/** What every key does, and the usual cautions, to be spoken: a sentence a line. */
export const helpLines = (c: Controls): readonly string[] =>
  chapters(c).flatMap(({ title, entries }) => [
    ...(title === '' ? [] : [`${title}.`]),
    ...entries.map(([key, does]) => (key === '' ? does : `${key}: ${does}.`)),
  ])

/** Columns of what stands before, at most two fifths of the window; what is longer runs on in its own row. */
const chapterRows = ({ title, entries }: Chapter, columns: number): readonly string[] => {
  const longest = Math.max(...entries.map(([key]) => key.length)) + 4
  const width = Math.min(longest, Math.max(16, Math.floor((columns * 2) / 5)))
  const row = ([key, does]: Entry): readonly string[] => {
    if (key === '') return wrapped(does, columns)
    return key.length + 4 > width
      ? wrapped(`  ${key}: ${does}`, columns, 4)
      : wrapped(`  ${key.padEnd(width - 2)}${does}`, columns, width)
  }
  return [...(title === '' ? [] : [title]), ...entries.flatMap(row)]
}

/** The same as rows of a window, page by page: a chapter is cut only where it is longer than a page. */
export const helpPages = (c: Controls, size: Size): readonly (readonly string[])[] => {
  const room = Math.max(1, size.rows - 3)
  const pages: string[][] = [[]]
  for (const chapter of chapters(c)) {
    const rows = chapterRows(chapter, size.cols - 2 * MARGIN)
    const page = pages.at(-1) as string[]
    const gap = page.length > 0 ? [''] : []
    if (page.length + gap.length + rows.length <= room) page.push(...gap, ...rows)
    else {
      if (page.length > 0) pages.push([])
      for (let i = 0; i < rows.length; i += room) {
        if (i > 0) pages.push([])
        pages.at(-1)?.push(...rows.slice(i, i + room))
      }
    }
  }
  return pages
}

export const helpSheet = (pages: readonly (readonly string[])[], at: number): Sheet => {
  const more = at >= pages.length - 1 ? ANY_KEY_BACK : nextPage(at + 1, pages.length)
  return indented(['', ...(pages[at] ?? []), '', more], {}, MARGIN)
}
