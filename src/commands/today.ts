import { type Tempo, typed } from '../music/tempo.ts'
import { daysBetween } from '../plan/calendar.ts'
import { type Day, dayOf } from '../plan/day.ts'
import type { Item, Take } from '../plan/item.ts'
import type { Work } from '../plan/work.ts'
import { clockText, dayLines } from '../screens/today/lines.ts'
import { parseDay } from '../store/day.ts'
import { repertoire } from '../store/repertoire.ts'
import { type Context, must, type Outcome } from './context.ts'
import { daysOf } from './diary-days.ts'
import { known, todayOf } from './known.ts'
import { wholeNumber } from './options.ts'
import { partsOf, seamsOf, worksOf } from './works.ts'

export type TodayTyped = { readonly minutes?: string; readonly date?: string }

const MINUTES = '40'
const LEAST = 10
const MOST = 480

/** Minutes after midnight of the place, whole. */
const clockNow = (ctx: Context): number => {
  const local = ctx.clock.wall() / 60_000 + ctx.clock.offset()
  return Math.ceil(local) % (24 * 60)
}

const tempoJson = (t: Tempo | null): string | null => t && typed(t)
const takeJson = (t: Take) => ({ ...t, tempo: tempoJson(t.tempo) })

const taskJson = (i: Item) => {
  switch (i.k) {
    case 'section':
      return {
        ...i,
        from: tempoJson(i.from),
        ceiling: tempoJson(i.ceiling),
        goal: typed(i.goal),
        top: tempoJson(i.top),
      }
    case 'seam':
      return { ...i, from: tempoJson(i.from) }
    case 'cold':
    case 'slow':
      return { ...i, take: takeJson(i.take) }
    case 'through':
    case 'run':
      return { ...i, takes: i.takes.map(takeJson) }
    case 'entries':
      return { ...i, spots: i.spots.map(s => ({ ...s, from: typed(s.from), to: typed(s.to) })) }
    default:
      return i
  }
}

const dayJson = (d: Day, start: number) => ({
  ...d,
  start: clockText(start),
  items: d.items.map(i => ({ ...taskJson(i), clock: clockText(start + i.at) })),
  load: d.load && {
    ...d.load,
    offers: d.load.offers && {
      ...d.load.offers,
      lower: d.load.offers.lower.map(l => ({ ...l, tempo: Math.round(l.tempo.bpm.n / l.tempo.bpm.d) })),
    },
  },
})

const nearestOf = (works: readonly Work[], date: string): string | null =>
  works
    .flatMap(w => (w.readyBy !== null && daysBetween(date, w.readyBy) >= 0 ? [w.readyBy] : []))
    .sort()[0] ?? null

const EMPTY = 'Nothing to plan yet. A first passage: gradino piece add TITLE --in 41-44 --goal 120'

/** The plan of today or of a day to come. Clock times begin now, of another day at 0:00. */
export const todayCommand = async (ctx: Context, t: TodayTyped): Promise<Outcome> => {
  const minutes = must(wholeNumber(t.minutes ?? MINUTES, 'minutes', LEAST, MOST))
  const today = todayOf(ctx)
  const date = t.date === undefined ? today : must(parseDay(t.date, 'date', { from: today }))
  const [all, { pieces: kept, notes: damaged }] = await Promise.all([known(ctx), repertoire(ctx.home).list()])
  const notes = [...damaged, ...all.notes]
  const pieces = kept.map(k => k.piece)
  const parts = partsOf(all, pieces)
  if (parts.length === 0) return { lines: [EMPTY, ...notes], json: { date, minutes, items: [], notes } }
  const works = worksOf(ctx, all, parts, date)
  const played = daysOf(all.visits)
    .filter(d => d.date < date)
    .map(d => ({ day: d.date, minutes: d.seconds / 60 }))
  const day = dayOf(works, seamsOf(ctx, all, parts, date), { date, minutes, played })
  const start = date === today ? clockNow(ctx) : 0
  const titles = new Map(parts.map(p => [p.key, p.piece.title]))
  const several = new Set(works.map(w => w.piece)).size > 1
  const lines = dayLines(day, {
    nearest: nearestOf(works, date),
    start,
    pieceOf: key => (several ? (titles.get(key) ?? '') : ''),
  })
  return { lines: [...lines, ...notes], json: { ...dayJson(day, start), notes } }
}
