/**
 * Large figures and letters, drawn for this program like engraved numbers: the path of a broad pen held level, so that what
 * goes down is thick and what goes across is thin. One table of paths serves every size.
 */
type Point = readonly [x: number, y: number]
/** A path through points, or an arc of an ellipse from one angle to another (degrees, 0 = right, 90 = down). */
type Path =
  | readonly Point[]
  | { readonly c: Point; readonly r: Point; readonly from: number; readonly to: number }
/** A hairline is drawn with the pen's edge: thin whichever way it goes. */
type Stroke = { readonly path: Path; readonly hair: boolean }

/** `wide`: width for a height of one. Paths lie in a square of one, 0,0 at the top left. */
type Glyph = { readonly wide: number; readonly strokes: readonly Stroke[] }

const FIGURE = 0.58
const glyph = (wide: number, ...strokes: readonly Stroke[]): Glyph => ({ wide, strokes })
const arc = (x: number, y: number, rx: number, ry: number, from: number, to: number): Stroke => ({
  path: { c: [x, y], r: [rx, ry], from, to },
  hair: false,
})
const line = (...xy: readonly number[]): Stroke => ({
  path: xy.flatMap((x, i): readonly Point[] => (i % 2 === 0 ? [[x, xy[i + 1] ?? 0]] : [])),
  hair: false,
})
const hair = (...xy: readonly number[]): Stroke => ({ ...line(...xy), hair: true })

const STEM = line(0.05, 0, 0.05, 1)

const GLYPHS: Readonly<Record<string, Glyph>> = {
  '0': glyph(FIGURE, arc(0.5, 0.5, 0.5, 0.5, 0, 360)),
  '1': glyph(FIGURE, line(0.1, 0.22, 0.5, 0), line(0.5, 0, 0.5, 1), line(0.05, 1, 0.95, 1)),
  '2': glyph(FIGURE, arc(0.5, 0.28, 0.5, 0.28, 190, 380), line(0.96, 0.38, 0, 1), line(0, 1, 1, 1)),
  '3': glyph(FIGURE, arc(0.45, 0.25, 0.45, 0.25, 200, 450), arc(0.45, 0.74, 0.55, 0.26, 270, 520)),
  '4': glyph(FIGURE, hair(0.72, 0, 0, 0.7), line(0, 0.7, 1, 0.7), line(0.75, 0, 0.75, 1)),
  '5': glyph(FIGURE, line(0.95, 0, 0.1, 0), line(0.1, 0, 0.1, 0.42), arc(0.42, 0.69, 0.58, 0.31, 235, 510)),
  '6': glyph(FIGURE, arc(0.5, 0.69, 0.5, 0.31, 0, 360), arc(0.72, 0.6, 0.72, 0.6, 180, 285)),
  '7': glyph(FIGURE, line(0, 0, 1, 0), line(1, 0, 0.35, 1)),
  '8': glyph(FIGURE, arc(0.5, 0.24, 0.44, 0.24, 0, 360), arc(0.5, 0.74, 0.5, 0.26, 0, 360)),
  '9': glyph(FIGURE, arc(0.5, 0.31, 0.5, 0.31, 0, 360), arc(0.28, 0.4, 0.72, 0.6, 0, 105)),
  '.': glyph(0.14, line(0.5, 1, 0.5, 1)),
  '?': glyph(
    0.5,
    arc(0.5, 0.27, 0.5, 0.27, 190, 405),
    line(0.85, 0.46, 0.5, 0.62, 0.5, 0.7),
    line(0.5, 1, 0.5, 1),
  ),
  A: glyph(0.72, hair(0, 1, 0.5, 0), line(0.42, 0, 1, 1), line(0.2, 0.66, 0.8, 0.66)),
  C: glyph(0.62, arc(0.55, 0.5, 0.55, 0.5, 45, 315)),
  D: glyph(0.66, STEM, line(0.05, 0, 0.4, 0), line(0.05, 1, 0.4, 1), arc(0.4, 0.5, 0.6, 0.5, 270, 450)),
  E: glyph(0.52, STEM, line(0.05, 0, 1, 0), line(0.05, 0.48, 0.8, 0.48), line(0.05, 1, 1, 1)),
  G: glyph(0.66, arc(0.52, 0.5, 0.52, 0.5, 20, 315), line(0.6, 0.56, 1, 0.56), line(0.98, 0.56, 0.98, 0.9)),
  H: glyph(0.64, line(0, 0, 0, 1), line(1, 0, 1, 1), line(0, 0.5, 1, 0.5)),
  I: glyph(0.2, line(0.5, 0, 0.5, 1)),
  L: glyph(0.5, STEM, line(0.05, 1, 1, 1)),
  N: glyph(0.68, hair(0, 1, 0, 0), line(0, 0, 1, 1), hair(1, 1, 1, 0)),
  O: glyph(0.68, arc(0.5, 0.5, 0.5, 0.5, 0, 360)),
  P: glyph(
    0.56,
    STEM,
    line(0.05, 0, 0.5, 0),
    line(0.05, 0.56, 0.5, 0.56),
    arc(0.5, 0.28, 0.5, 0.28, 270, 450),
  ),
  R: glyph(
    0.62,
    STEM,
    line(0.05, 0, 0.5, 0),
    line(0.05, 0.52, 0.5, 0.52),
    arc(0.5, 0.26, 0.45, 0.26, 270, 450),
    line(0.45, 0.52, 1, 1),
  ),
  S: glyph(0.54, arc(0.5, 0.25, 0.5, 0.25, 90, 330), arc(0.5, 0.75, 0.5, 0.25, 270, 510)),
  T: glyph(0.62, line(0, 0, 1, 0), line(0.5, 0, 0.5, 1)),
  U: glyph(0.64, line(0, 0, 0, 0.6), arc(0.5, 0.6, 0.5, 0.4, 0, 180), line(1, 0.6, 1, 0)),
  W: glyph(0.9, line(0, 0, 0.22, 1), hair(0.3, 1, 0.52, 0.1), line(0.48, 0.1, 0.7, 1), hair(0.78, 1, 1, 0)),
  X: glyph(0.66, line(0, 0, 1, 1), hair(1, 0, 0, 1)),
  Y: glyph(0.66, line(0, 0, 0.5, 0.55), hair(1, 0, 0.5, 0.55), line(0.5, 0.55, 0.5, 1)),
}

/** Rows of the figures that a window of 80x24 has. */
const GLYPH_ROWS = 7

/** Half rows and columns of the pen; a cell is twice as high as wide, so both are the same length. */
const pen = (height: number): { readonly thick: number; readonly thin: number } => ({
  thick: Math.max(2, Math.round(height * 0.2)),
  thin: Math.max(1, Math.round(height * 0.09)),
})
const SPACE = 0.3
const gapOf = (height: number): number => Math.max(1, Math.round(height * 0.14))

const pointsOf = (s: Path): readonly Point[] =>
  'c' in s
    ? Array.from({ length: 33 }, (_, i): Point => {
        const a = ((s.from + ((s.to - s.from) * i) / 32) * Math.PI) / 180
        return [s.c[0] + s.r[0] * Math.cos(a), s.c[1] + s.r[1] * Math.sin(a)]
      })
    : s

/** Columns of one character at a height in half rows. */
const widthOf = (c: string, height: number): number => {
  const g = GLYPHS[c]
  const wide = g?.wide ?? SPACE
  // Two thick strokes and the light between them.
  const least = wide > 0.53 ? 2 * pen(height).thick + 1 : pen(height).thick
  return Math.max(least, Math.ceil(wide * height))
}

/** The half rows that the pen covers, each as its columns. */
const inked = (c: string, height: number): readonly (readonly boolean[])[] => {
  const { thick, thin } = pen(height)
  const width = widthOf(c, height)
  const cells = Array.from({ length: height }, () => Array<boolean>(width).fill(false))
  const touch = ([x, y]: Point, wide: number): void => {
    const [left, top] = [Math.round(x), Math.round(y)]
    for (let j = top; j < top + thin; j++)
      for (let i = left; i < left + wide; i++) {
        const row = cells[j]
        if (row && i >= 0 && i < width) row[i] = true
      }
  }
  for (const s of GLYPHS[c]?.strokes ?? []) {
    const wide = s.hair ? thin : thick
    const points = pointsOf(s.path).map(([x, y]): Point => [x * (width - wide), y * (height - thin)])
    points.forEach((p, k) => {
      const q = points[k + 1] ?? p
      const steps = Math.max(1, Math.ceil(2 * Math.hypot(q[0] - p[0], q[1] - p[1])))
      for (let n = 0; n <= steps; n++)
        touch([p[0] + ((q[0] - p[0]) * n) / steps, p[1] + ((q[1] - p[1]) * n) / steps], wide)
    })
  }
  return cells
}

const HALVES = [' ', '▄', '▀', '█'] as const
const known = new Map<string, readonly string[]>()

const drawn = (c: string, rows: number): readonly string[] => {
  const found = known.get(`${c}${rows}`)
  if (found) return found
  const cells = inked(c, rows * 2)
  const made = Array.from({ length: rows }, (_, row) =>
    (cells[0] ?? [])
      .map((_, i) => HALVES[(cells[row * 2]?.[i] ? 2 : 0) + (cells[row * 2 + 1]?.[i] ? 1 : 0)])
      .join(''),
  )
  known.set(`${c}${rows}`, made)
  return made
}

/** A number or a sign ("112", "63.5", "CLEAN") as rows of text; what the table does not have is left out. */
export const bigText = (text: string, rows: number = GLYPH_ROWS): readonly string[] => {
  const gap = ' '.repeat(gapOf(rows * 2))
  const all = [...text].filter(c => c === ' ' || c in GLYPHS).map(c => drawn(c, rows))
  return Array.from({ length: rows }, (_, row) => all.map(g => g[row]).join(gap))
}

/** The same in as many rows as fit into so many columns, at least three; null = not even those do. */
export const fitted = (text: string, rows: number, columns: number): readonly string[] | null => {
  for (let n = rows; n >= LEAST_ROWS; n--) {
    const made = bigText(text, n)
    if ([...(made[0] ?? '')].length <= columns) return made
  }
  return null
}
const LEAST_ROWS = 3
