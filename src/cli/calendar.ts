import type { Context, Outcome } from '../app/context.ts'
import { titlesOf } from '../app/day-plan.ts'
import { instantOf, type Practiced, readNow, todayOf } from '../app/now.ts'
import { writeFiles } from '../app/write-files.ts'
import { calendarText, type DayEvent } from '../files/ical.ts'
import { DAY_MINUTES, dayAfter, daysBetween, type Instant } from '../music/day.ts'
import { playingDays } from '../music/day-words.ts'
import { wholeNumber } from '../music/fraction.ts'
import { problem } from '../music/result.ts'
import { goalText } from '../music/tempo.ts'
import { count } from '../music/words.ts'
import { dayOf } from '../plan/day.ts'
import type { Item } from '../plan/item.ts'
import type { Work } from '../plan/work.ts'
import { partsOf, type Subject, seamsOf, worksOf } from '../plan/works.ts'
import { isOpen } from '../repertoire/piece.ts'
import { dayTitle, itemText } from '../screens/today/line-words.ts'
import { must, Stop } from './command.ts'
import type { Typed } from './commands.ts'

/** Days are planned no farther ahead than this; a later date stands alone. */
const FARTHEST = 120

/** What a day asks for because a date is near; everything else is decided on the day itself. */
const AHEAD: readonly Item['kind'][] = ['run', 'slow', 'entries']

const datesFrom = (works: readonly Work[], day: string): readonly string[] =>
  works.flatMap(w => (w.readyBy !== null && w.readyBy >= day ? [w.readyBy] : [])).sort()

/** A day by the plan's title, with what can be said of it ahead. */
const dayEvent = (
  now: Instant,
  all: Practiced,
  parts: readonly Subject[],
  date: string,
  minutes: number,
): DayEvent => {
  const works = worksOf(all, parts, date, now)
  const seams = seamsOf(all, parts, date, now)
  const day = dayOf(works, seams, { date, minutes, played: [] })
  const titles = titlesOf(works, seams)
  return {
    id: `day-${date}`,
    day: date,
    title: dayTitle(day, datesFrom(works, date)[0] ?? null),
    lines: day.items.filter(i => AHEAD.includes(i.kind)).map(i => itemText(i, key => titles.get(key) ?? '')),
  }
}

/** What has to be ready on a date, a piece each. */
const dateEvents = (parts: readonly Subject[], today: string): readonly DayEvent[] => {
  const events = new Map<string, DayEvent>()
  for (const { piece, ladder, label, section, readyBy } of parts) {
    if (section || readyBy === null || readyBy < today) continue
    const id = `date-${piece.id}-${readyBy}`
    const lines = [
      ...(events.get(id)?.lines ?? []),
      `${label}: ${goalText(ladder.goal, ladder.top, isOpen(piece))}`,
    ]
    events.set(id, { id, day: readyBy, title: `Ready by today: ${piece.title}`, lines })
  }
  return [...events.values()]
}

/** The days until the last date, and the dates, as iCalendar. */
export const calendarCommand = async (ctx: Context, t: Typed<'calendar'>): Promise<Outcome> => {
  const { least, most, usual } = DAY_MINUTES
  const out = t.out ?? ''
  if (!out.toLowerCase().endsWith('.ics')) must(problem('--out', out, 'a file that ends in .ics'))
  const minutes = must(wholeNumber(t.minutes ?? String(usual), 'minutes', least, most))
  const today = todayOf(ctx)
  const { practiced: all, kept, damaged } = await readNow(ctx)
  const parts = partsOf(
    all,
    kept.map(k => k.piece),
  )
  const dates = dateEvents(parts, today)
  const last = dates
    .map(d => d.day)
    .sort()
    .at(-1)
  if (last === undefined)
    throw new Stop(1, 'No passage has a date ahead: gradino piece add TITLE ... --ready-by DATE sets one.')
  const length = Math.min(FARTHEST, daysBetween(today, last)) + 1
  const playing = playingDays(today, dayAfter(today, length), all.week)
  const days = [...new Set([...playing, ...dates.map(d => d.day)])]
    .filter(day => daysBetween(today, day) < length)
    .sort()
    .map(day => dayEvent(instantOf(ctx), all, parts, day, minutes))
  const text = calendarText('Practice', [...days, ...dates], ctx.clock.wall())
  await writeFiles([{ path: out, chunks: [text] }])
  const notes = [...damaged, ...all.notes]
  return {
    lines: [`${out}: ${count(days.length, 'day')} and ${count(dates.length, 'date')}.`, ...notes],
    json: { file: out, days: days.length, dates: dates.length, notes },
  }
}
