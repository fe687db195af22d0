/** Each quarter of a cell as a cell of its own. */
const QUARTERS: Readonly<Record<string, readonly [string, string]>> = {
  '█': ['██', '██'],
  '▀': ['██', '  '],
  '▄': ['  ', '██'],
  '▌': ['█ ', '█ '],
  '▐': [' █', ' █'],
  ' ': ['  ', '  '],
}

/** Block characters drawn twice as wide and twice as high; other characters become spaces. */
export const enlarged = (rows: readonly string[]): readonly string[] =>
  rows.flatMap(row => [0, 1].map(half => [...row].map(c => QUARTERS[c]?.[half as 0 | 1] ?? '  ').join('')))
