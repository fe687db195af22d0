import { type Tempo, typed } from '../music/tempo.ts'
import { PAIN_TEXT } from '../plan/care.ts'
import type { Day } from '../plan/day.ts'
import type { Item, Take } from '../plan/item.ts'
import { clockText, dayLines } from '../screens/today/lines.ts'
import { parseDay } from '../store/day.ts'
import { painToday, readNotes } from '../store/notes.ts'
import { type Context, must, type Outcome } from './context.ts'
import { clockNow, madeToday, planOf } from './day-plan.ts'
import { todayOf } from './known.ts'
import { wholeNumber } from './options.ts'

export type TodayTyped = { readonly minutes?: string; readonly date?: string }

const LEAST = 10
const MOST = 480

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

const EMPTY = 'Nothing to plan yet. A first passage: gradino piece add TITLE --in 41-44 --goal 120'

/** The plan of today or of a day to come. Clock times begin now, of another day at 0:00. */
export const todayCommand = async (ctx: Context, t: TodayTyped): Promise<Outcome> => {
  const made = await madeToday(ctx)
  const minutes =
    t.minutes === undefined ? made.minutes : must(wholeNumber(t.minutes, 'minutes', LEAST, MOST))
  const today = todayOf(ctx)
  const date = t.date === undefined ? today : must(parseDay(t.date, 'date', { from: today }))
  const planned = await planOf(ctx, { date, minutes, morning: false })
  const { notes } = planned
  // After pain no plan invites to go on; a day to come has one again.
  if (date === today && painToday((await readNotes(ctx.home)).notes, today))
    return { lines: [PAIN_TEXT, ...notes], json: { date, minutes, items: [], pain: PAIN_TEXT, notes } }
  if (planned.day === null) return { lines: [EMPTY, ...notes], json: { date, minutes, items: [], notes } }
  const { day, nearest, pieceOf } = planned
  const start = date === today ? clockNow(ctx) : 0
  const lines = dayLines(day, { nearest, start, pieceOf })
  return { lines: [...lines, ...notes], json: { ...dayJson(day, start), notes } }
}
