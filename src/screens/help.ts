import type { Controls } from '../terminal/key-table.ts'
import type { Sheet } from '../terminal/painted.tsx'
import type { Size } from '../terminal/screen-writer.ts'
import { keyLabel } from '../terminal/words.ts'
import { indented, MARGIN } from './page.ts'
import { inRows, wrapped } from './text-rows.ts'
import { ALL_CAUTIONS, ANY_KEY_BACK, nextPage, ONE_PEDAL_LISTS } from './words.ts'

/** A key and what it does; without a key a sentence. */
export type Entry = readonly [key: string, does: string]
export type Chapter = { readonly title: string; readonly entries: readonly Entry[] }

const CAREFUL: Chapter = { title: '', entries: [['', ALL_CAUTIONS.join(' ')]] }

/** What every key does, and the usual cautions, to be spoken: a sentence a line. */
export const helpLines = (chapters: readonly Chapter[]): readonly string[] =>
  [...chapters, CAREFUL].flatMap(({ title, entries }) => [
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
export const helpPages = (chapters: readonly Chapter[], size: Size): readonly (readonly string[])[] => {
  const room = Math.max(1, size.rows - 2 - belowPage(nextPage(99, 99), size).length)
  const pages: string[][] = [[]]
  for (const chapter of [...chapters, CAREFUL]) {
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

const belowPage = (text: string, { cols }: Size): readonly string[] => inRows(text, cols - 2 * MARGIN)

export const helpSheet = (pages: readonly (readonly string[])[], page: number, size: Size): Sheet => {
  const at = Math.min(page, pages.length - 1)
  const more = at >= pages.length - 1 ? ANY_KEY_BACK : nextPage(at + 1, pages.length)
  return indented(['', ...(pages[at] ?? []), '', ...belowPage(more, size)], {}, MARGIN)
}

/** What the pedals do where something is chosen from a list; `takes` = what the right one of two does to a line. */
export const listPedals = (c: Controls, takes: string): Chapter => ({
  title: 'The pedals',
  entries:
    c.pedals === 1
      ? [['', ONE_PEDAL_LISTS]]
      : [
          [keyLabel(c.right), takes],
          [keyLabel(c.left), 'the next line, and round again'],
        ],
})
