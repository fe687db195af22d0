export type Size = { readonly rows: number; readonly cols: number }

/**
 * How much a window holds: `full` from 80x24 on, `large` (everything twice as big) from 120x36 on, `small` down to 40x12,
 * below that one sentence.
 */
export type Room = 'none' | 'small' | 'full' | 'large'

export const roomOf = ({ rows, cols }: Size): Room => {
  if (cols < 40 || rows < 12) return 'none'
  if (cols < 80 || rows < 24) return 'small'
  return cols < 120 || rows < 36 ? 'full' : 'large'
}

export const TOO_SMALL = 'The window is too small to play by: at least 40 columns and 12 rows.'

/** What fills a window of each kind, in columns; it stands in the middle of a wider one. */
export const columnsOf = (size: Size): number =>
  ({ none: size.cols, small: size.cols, full: 80, large: 120 })[roomOf(size)]
