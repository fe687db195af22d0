export type Size = { readonly rows: number; readonly cols: number }

/** `full` from 80x24 on (a few rows less will do), `small` down to 40x12, below that one sentence. */
export const kindOf = (size: Size): 'full' | 'small' | 'none' =>
  size.cols < 40 || size.rows < 12 ? 'none' : size.cols < 80 || size.rows < 20 ? 'small' : 'full'

/** Columns that are composed; they stand in the middle of a wider window. */
export const widthOf = (size: Size): number => (size.cols >= 120 ? 112 : Math.min(80, size.cols))

/** Which of `count` things are shown when `room` fit: the chosen one is among them, the rest around it. */
export const windowOf = (count: number, chosen: number, room: number): { from: number; to: number } => {
  const shown = Math.max(1, Math.min(count, room))
  const from = Math.max(0, Math.min(count - shown, chosen - Math.floor((shown - 1) / 2)))
  return { from, to: from + shown }
}

/** A text in rows of at most `width` characters, cut between words; a longer word is cut inside. */
export const inRows = (text: string, width: number): readonly string[] => {
  const rows: string[] = []
  for (const word of text.split(/\s+/).filter(Boolean)) {
    const last = rows.at(-1)
    if (last !== undefined && last.length + 1 + word.length <= width)
      rows[rows.length - 1] = `${last} ${word}`
    else for (let i = 0; i < word.length; i += width) rows.push(word.slice(i, i + width))
  }
  return rows
}

/** Dots that lead the eye to the numbers, as on a printed program: under each other whatever stands before them. */
export const leader = (from: number, to: number): string =>
  Array.from({ length: Math.max(0, to - from) }, (_, i) => (i > 0 && (from + i) % 2 === 0 ? '.' : ' ')).join(
    '',
  )

/** Rows of an entry of the list, its distance to the next one included. */
const ENTRY = 3
/** Rows above the first entry; and below the last: what is not shown, two rows of keys. */
const HEAD = 5
const FOOT = 3

/** Entries between what stands above and below them; `more` = rows of note and cautions. */
export const entriesThatFit = (size: Size, more: number): number =>
  Math.max(1, Math.floor((size.rows - HEAD - FOOT - more + 1) / ENTRY))
