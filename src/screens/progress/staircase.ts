import { daysBetween } from '../../music/day.ts'

/** Tempos in beats of the goal's note value. */
export type Stairs = {
  /** Days of practice with the ceiling after each, in order; not empty. */
  readonly days: readonly { readonly day: string; readonly ceiling: number }[]
  /** Rungs from the lowest ceiling up, ascending; the last one is the goal. */
  readonly rungs: readonly number[]
  readonly today: string
  readonly readyBy: string | null
  /** So many rungs are drawn at most; else twelve. */
  readonly rows?: number
  /** Days from today until the goal, at the earliest and at the latest (null = open); null = no outlook. */
  readonly ahead: { readonly low: number; readonly high: number | null } | null
}

const COLUMNS = 64
const LABEL = 8
const ROWS = 12
const WIDEST_DAY = 6
/** An open end, and a date far away, are drawn as far as this. */
const FAR = 21

/** What is drawn: climbed steps, steps that may come, the landing. Told apart by their shapes, not by color. */
const CLIMBED = { tread: '_', riser: '|' }
const AHEAD = { tread: '.', riser: ':' }
const LANDING = '-'

type Point = { readonly column: number; readonly row: number }

/** Of many rungs every second, third ... from the goal down, and always the lowest. */
const shown = (rungs: readonly number[], most: number, ceiling: number): readonly number[] => {
  const by = Math.ceil(rungs.length / most)
  const row = (i: number): boolean => i === 0 || (rungs.length - 1 - i) % by === 0
  // What was reached stands on its own line, in the place of the one below it: no step is read as lower than it was.
  const here = rungs.findLastIndex(r => r <= ceiling + 1e-9)
  const below = rungs.findLastIndex((_, i) => i <= here && row(i))
  return rungs.filter((_, i) => i === here || (row(i) && (i !== below || i === 0)))
}

const short = (bpm: number): string => String(Math.round(bpm * 10) / 10)

const rowOf = (rows: readonly number[], bpm: number): number =>
  Math.max(
    0,
    rows.findLastIndex(r => r <= bpm + 1e-9),
  )

/** Labels at their columns; of two that would touch, the later one in the list is left out. */
const axis = (labels: readonly { readonly column: number; readonly text: string }[]): string => {
  const line = Array.from({ length: COLUMNS }, () => ' ')
  for (const { column, text } of labels) {
    const from = Math.max(0, Math.min(column, COLUMNS - text.length))
    const room = line.slice(Math.max(0, from - 2), from + text.length + 2)
    if (room.every(c => c === ' ')) for (const [i, c] of [...text].entries()) line[from + i] = c
  }
  return line.join('').trimEnd()
}

/**
 * Ceilings as a staircase over real dates: the goal is its landing, what may come is dotted, once at its quickest and once
 * at its slowest. The highest line first; at most 80 columns, `short` dates below.
 */
export const staircase = (s: Stairs, dateText: (day: string) => string): readonly string[] => {
  const first = s.days[0]?.day ?? s.today
  const now = daysBetween(first, s.today)
  const dated = s.readyBy === null ? 0 : Math.min(FAR, daysBetween(s.today, s.readyBy))
  const last = now + Math.max(0, dated, s.ahead ? Math.min(FAR, s.ahead.high ?? FAR) : 0)
  const width = Math.min(WIDEST_DAY, COLUMNS / (last + 1))
  const columnOf = (day: number): number => Math.floor(day * width)
  const rows = shown(s.rungs, s.rows ?? ROWS, s.days.at(-1)?.ceiling ?? 0)
  const grid = rows.map(() => Array.from({ length: COLUMNS }, () => ' '))
  const top = rows.length - 1
  const put = (row: number, column: number, c: string): void => {
    const line = grid[row]
    if (line && column >= 0 && column < COLUMNS) line[column] = c
  }
  /** From each point level to the next one's column, and up there. */
  const flight = (points: readonly Point[], end: number, draw: typeof CLIMBED): void =>
    points.forEach((p, i) => {
      const to = points[i + 1]?.column ?? end
      for (let c = p.column; c < to; c++) put(p.row, c, draw.tread)
      for (let r = p.row; r < (points[i + 1]?.row ?? 0); r++) put(r, to, draw.riser)
    })

  const end = Math.max(columnOf(now + 1), columnOf(now) + 1)
  const climbed = s.days.map(d => ({
    column: columnOf(daysBetween(first, d.day)),
    row: rowOf(rows, d.ceiling),
  }))
  for (let c = 0; c < columnOf(last + 1); c += 2) put(top, c, LANDING)
  const here = climbed.at(-1)?.row ?? 0
  /** A rung at a time, evenly over so many days. */
  const dotted = (days: number): readonly Point[] => {
    const up = Array.from({ length: top - here }, (_, i) => ({
      column: columnOf(now + 1 + ((i + 1) * (days - 1)) / (top - here)),
      row: here + i + 1,
    }))
    return [{ column: end, row: here }, ...up].filter(p => p.column < COLUMNS)
  }
  if (s.ahead && here < top) {
    const { low, high } = s.ahead
    // A climb with an open end is still on its way at the edge.
    flight(dotted(high ?? 2 * (last - now) + 2), columnOf(last + 1), AHEAD)
    flight(dotted(low), columnOf(now + 1 + low), AHEAD)
  }
  flight(climbed, end, CLIMBED)

  const label = (row: number): string => short(rows[row] as number).padStart(LABEL - 2)
  const lines = grid.map((line, row) => `${label(row)}  ${line.join('')}`.trimEnd())
  lines[top] = `${(lines[top] as string).padEnd(LABEL + columnOf(last + 1))} goal`
  const dates = [
    { column: columnOf(now), text: 'today' },
    ...(s.readyBy !== null && daysBetween(s.today, s.readyBy) > 0 && dated < FAR
      ? [{ column: columnOf(now + dated), text: dateText(s.readyBy) }]
      : []),
    { column: 0, text: dateText(first) },
  ]
  return [...lines.reverse(), `${' '.repeat(LABEL)}${axis(dates)}`]
}
