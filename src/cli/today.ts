import type { Context, Outcome } from '../app/context.ts'
import { clockNow, dayNow, madeToday, planOf } from '../app/day-plan.ts'
import { readNow, todayOf } from '../app/now.ts'
import { DAY_MINUTES } from '../music/day.ts'
import { parseDay } from '../music/day-words.ts'
import { wholeNumber } from '../music/fraction.ts'
import type { Day } from '../plan/day.ts'
import type { Item } from '../plan/item.ts'
import { type DayLine, timesOf } from '../plan/order.ts'
import { PAIN_TEXT, whyText } from '../plan/words.ts'
import { painToday } from '../repertoire/note.ts'
import { clockText, dayLines } from '../screens/today/line-words.ts'
import { ifSaid } from './command.ts'
import type { Typed } from './commands.ts'

const taskJson = (i: Item) =>
  i.kind === 'section' ? { ...i, goalTop: i.goalTop ?? null, because: whyText(i.why) } : i

/** `at` = minutes from the start of the day's practice as it was planned, `clock` when it begins; null = not known. */
const dayJson = (d: Day, start: number, lines: readonly DayLine[] | null) => {
  const all = lines ?? d.items.map(item => ({ item, state: 'open' as const, begun: null, name: '' }))
  const times = timesOf(all, start)
  return {
    ...d,
    start: clockText(start),
    items: all.map(({ item, state }, i) => {
      const at = times[i] ?? null
      return { ...taskJson(item), clock: at === null ? null : clockText(at), state }
    }),
    load: d.load && {
      ...d.load,
      offers: d.load.offers && {
        ...d.load.offers,
        lower: d.load.offers.lower.map(l => ({ ...l, tempo: Math.round(l.tempo.bpm.n / l.tempo.bpm.d) })),
      },
    },
  }
}

const EMPTY = 'Nothing to plan yet. A first passage: gradino piece add TITLE --in 41-44 --goal 120'

/**
 * The plan of today as it stands, with what is over and what the player made of it; or of a day to come, whose lines have no
 * clock times: nobody knows yet when it begins (as data they count from 0:00).
 */
export const todayCommand = async (ctx: Context, t: Typed<'today'>): Promise<Outcome> => {
  const today = todayOf(ctx)
  const { least, most } = DAY_MINUTES
  const typed = ifSaid(t.minutes, s => wholeNumber(s, 'minutes', least, most))
  const date = ifSaid(t.date, s => parseDay(s, 'date', { from: today })) ?? today
  const from = await readNow(ctx)
  const minutes = typed ?? madeToday(ctx, from).minutes
  const now = date === today ? dayNow(ctx, from, minutes) : null
  const planned =
    now?.planned ?? planOf(ctx, from, { date, minutes, morning: false, made: madeToday(ctx, from) })
  const { notes } = planned
  // After pain no plan invites to go on; a day to come has one again.
  if (date === today && painToday(from.notes, today))
    return { lines: [PAIN_TEXT, ...notes], json: { date, minutes, items: [], pain: PAIN_TEXT, notes } }
  if (planned.day === null) return { lines: [EMPTY, ...notes], json: { date, minutes, items: [], notes } }
  const { nearest, pieceOf } = planned
  const day = now ? { ...planned.day, questions: now.told.questions } : planned.day
  const start = now ? clockNow(ctx) : 0
  const lines = now?.lines ?? null
  return {
    lines: [...dayLines(day, { nearest, start: now ? start : null, pieceOf }, lines), ...notes],
    json: { ...dayJson(day, start, lines), notes },
  }
}
