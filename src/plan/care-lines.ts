import type { Context } from '../app/context.ts'
import { type Known, todayOf } from '../app/known.ts'
import { localDay } from '../music/day.ts'
import { firstThing, painToday, readNotes } from '../store/notes.ts'
import { PAIN_TEXT, restOf, restText, stretchesOf } from './care.ts'

const sumBy = <T>(
  all: readonly T[],
  key: (t: T) => string,
  value: (t: T) => number,
): ReadonlyMap<string, number> => {
  const out = new Map<string, number>()
  for (const t of all) out.set(key(t), (out.get(key(t)) ?? 0) + value(t))
  return out
}

/** What is said at the end of a visit: a rest, a sudden jump, or, after a note of pain today, only to stop. */
export const careLines = async (
  ctx: Context,
  all: Known,
): Promise<{ readonly pain: boolean; readonly lines: readonly string[] }> => {
  const today = todayOf(ctx)
  if (painToday((await readNotes(ctx.home)).notes, today)) return { pain: true, lines: [PAIN_TEXT] }
  const days = sumBy(
    all.visits,
    v => localDay(v.time, v.offset),
    v => v.seconds / 60,
  )
  const logged = [...days].filter(([day]) => day !== today).map(([day, minutes]) => ({ day, minutes }))
  const here = all.visits.filter(v => localDay(v.time, v.offset) === today)
  return {
    pain: false,
    lines: restText(restOf(stretchesOf(here), ctx.clock.wall()), days.get(today) ?? 0, logged),
  }
}

/** What is said before the first press of a visit: pain that was noted today, or what was to come first. */
export const firstLines = async (ctx: Context, key: string): Promise<readonly string[]> => {
  const { notes } = await readNotes(ctx.home)
  const today = todayOf(ctx)
  if (painToday(notes, today)) return [PAIN_TEXT]
  return firstThing(notes, today)
    .filter(n => n.key === undefined || n.key === key)
    .map(n => `First: ${n.text}`)
}
