import { clip } from '../terminal/screen-writer.ts'

/** Keeps a number and its unit in one row (Unicode, no-break space); a row has a plain space there. */
export const TOGETHER = '\u00a0'
const apart = (row: string): string => row.replaceAll(TOGETHER, ' ')

/** Where a row may end: not between "m." and its number, not before "%", not where words are kept together. */
const BETWEEN = /(?<!\bm\.)[^\S\u00a0]+(?!%)/

/** A text in rows of at most `width` characters, cut between words; a longer word is cut inside. */
export const inRows = (text: string, width: number): readonly string[] => {
  const rows: string[] = []
  for (const word of text.split(BETWEEN).filter(Boolean)) {
    const last = rows.at(-1)
    if (last !== undefined && last.length + 1 + word.length <= width)
      rows[rows.length - 1] = `${last} ${word}`
    else for (let i = 0; i < word.length; i += width) rows.push(word.slice(i, i + width))
  }
  return rows.map(apart)
}

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
  return rows.map(apart)
}

/** One space at a time: more of them stay as they are. Not between "m." and its number, nor before "%". */
const ONE = /(?<!\bm\.) (?!%)/

/** A line for a page of so many columns, broken between words; what follows the first break is indented. */
export const wrapped = (text: string, columns: number, indent = 0): readonly string[] => {
  const [, lead = '', rest = ''] = /^( *)(.*)$/s.exec(text) ?? []
  const out: string[] = []
  let line = lead
  let empty = true
  for (const word of rest.split(ONE)) {
    if (!empty && line.length + 1 + word.length > columns) {
      out.push(line)
      line = ' '.repeat(indent)
      empty = true
    }
    line += empty ? word : ` ${word}`
    empty = false
  }
  return [...out, line]
}

const COMMAND = 'gradino '

/**
 * A line of a command in a window of so many columns, broken between words; a command to be copied stays whole, in a row of
 * its own. Absent = no window, nothing is broken.
 */
export const inWindow = (line: string, columns: number | undefined): readonly string[] => {
  if (columns === undefined || line.length <= columns) return [line]
  const indent = line.search(/\S/) + 2
  const at = line.indexOf(COMMAND)
  if (at < 0) return wrapped(line, columns, indent)
  const before = line.slice(0, at).trimEnd()
  return before === '' ? [line] : [...wrapped(before, columns, indent), ' '.repeat(indent) + line.slice(at)]
}

/** As many sentences as stand in so many rows; none is cut. */
export const wholeOnes = (
  all: readonly string[],
  rowsOf: (text: string) => readonly string[],
  most: number,
): readonly string[] => {
  const rows: string[] = []
  for (const text of all) {
    const more = rowsOf(text)
    if (rows.length + more.length <= most) rows.push(...more)
  }
  return rows
}

/** A name that is too long loses its middle: both ends tell passages apart. */
export const shortened = (text: string, room: number): string => {
  const all = [...text]
  if (all.length <= room) return text
  const end = Math.floor((room - 1) / 2)
  const [front, back] = [all.slice(0, room - 1 - end), all.slice(all.length - end)]
  return `${front.join('').trimEnd()}…${back.join('').trimStart()}`
}

/** Cells of a terminal that a text fills. */
export const cellsOf = (text: string): number => clip(text, Infinity).cells

/** A text that is wider than so many cells loses its end. */
export const cut = (text: string, width: number): string =>
  cellsOf(text) <= width ? text : `${clip(text, Math.max(0, width - 1)).text}…`

/** Dots that lead the eye to the numbers, as on a printed program: under each other whatever stands before them. */
export const leader = (from: number, to: number): string =>
  Array.from({ length: Math.max(0, to - from) }, (_, i) => (i > 0 && (from + i) % 2 === 0 ? '.' : ' ')).join(
    '',
  )

/** A row of hints as one sentence to be spoken: what stands apart on a screen is told apart by commas. */
export const inOneBreath = (row: string): string => row.trim().replaceAll(/ {2,}/g, ', ')
