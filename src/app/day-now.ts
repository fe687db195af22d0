import type { Visit } from '../ladder/history.ts'
import { sameMusic } from '../ladder/key.ts'
import { atCeiling, passageAdvice } from '../ladder/row-advice.ts'
import { DEFAULT_RULES, parseUp } from '../ladder/rules.ts'
import { takesOf } from '../ladder/standing.ts'
import { localDay } from '../music/day.ts'
import { cautionsOf, firstOfDay } from '../plan/cautions.ts'
import type { Question } from '../plan/dates.ts'
import type { Item } from '../plan/item.ts'
import { chosen, type LoadChoice } from '../plan/load.ts'
import type { DayLine } from '../plan/order.ts'
import { underWay } from '../plan/rest-of-day.ts'
import { keyOfWhole, wayOf } from '../plan/work.ts'
import { dayTitle, remarkLines } from '../screens/today/line-words.ts'
import type { Told } from '../screens/today/reduce.ts'
import { closingOf, waysOf } from '../screens/today/ways.ts'
import { chosenWords, rowWords } from '../screens/today/words.ts'
import type { DayFile } from '../store/day-file.ts'
import { USUAL } from '../store/settings.ts'
import { placeText } from '../visit/subject.ts'
import type { Context } from './context.ts'
import { clockNow, madeToday, type Planned, planOf } from './day-plan.ts'
import { instantOf, type Now } from './now.ts'

/** Today as it stands now. */
export type DayNow = {
  /** What it was made from. */
  readonly from: Now
  readonly planned: Planned
  readonly file: DayFile
  readonly told: Told
  readonly lines: readonly DayLine[]
  readonly cautions: readonly string[]
  /** What stands on this day for the only time; kept once it was shown. */
  readonly advice: string | null
}

const shareOf = (c: LoadChoice): number => (c.kind === 'lower' ? Math.floor(c.share * 100) : 100)

/** What was played of the plan today, each once. */
const playedOf = (items: readonly Item[], today: readonly Visit[]) => {
  const all = items.flatMap(i =>
    i.kind === 'section' || i.kind === 'seam' ? [{ key: i.key, label: i.label }] : [],
  )
  return all.filter(
    (x, i) =>
      all.findIndex(y => y.key === x.key) === i && today.some(v => v.played > 0 && sameMusic(v.key, x.key)),
  )
}

export const askedId = (p: Planned, q: Question): string =>
  `${p.parts.find(x => q.keys.includes(x.ladder.key))?.piece.id ?? q.piece} ${q.readyBy}`

/** What is kept of an advice that was shown, and whether it still stands: on the day on which it was shown only. */
const adviceOf = (
  now: Now,
  file: DayFile,
  p: Planned,
): { readonly passage: string; readonly n: number; readonly id: string } | null => {
  const { clean } = now.settings.now()
  const read = clean === USUAL ? null : parseUp(clean)
  const usual = read?.ok ? read.value : DEFAULT_RULES.up
  const passages = [...new Set(p.parts.map(x => x.passage))].map(passage => {
    const keys = new Set(p.parts.filter(x => x.passage === passage).map(x => x.ladder.key))
    const ladder = p.parts.find(x => x.passage === passage)?.ladder
    const own = p.works.filter(w => keys.has(w.key) || keys.has(keyOfWhole(w)))
    return {
      passage: passage.id,
      // Its own rule, else the usual one.
      up: ladder?.rules.up ?? usual,
      takes: own.flatMap(w => atCeiling(takesOf(p.all, w.key), w.ceiling, wayOf(w))),
    }
  })
  const what = (passage: string, n: number): string => `advice ${n}-in-a-row ${passage}`
  const found = passageAdvice(passages, (passage, n) =>
    file.asked.some(a => a.startsWith(`${what(passage, n)} `) && a !== `${what(passage, n)} ${file.date}`),
  )
  if (!found) return null
  const part = p.parts.find(x => x.passage.id === found.passage)
  return {
    passage: part ? [part.piece.title, placeText(part.passage)].join(', ') : '',
    n: found.n,
    id: `${what(found.passage, found.n)} ${file.date}`,
  }
}

/** Its lines by now: what is over, and what is left, planned anew. */
const linesNow = (ctx: Context, from: Now, file: DayFile, p: Planned, today: readonly Visit[]) => {
  const later = planOf(ctx, from, { date: file.date, minutes: file.minutes, morning: false, made: file })
  const { works, seams } = later.day === null ? p : later
  return underWay(p.day.items, p.asked, {
    works: chosen(works, p.choice),
    seams,
    made: file,
    today,
    now: ctx.clock.wall(),
    clock: clockNow(ctx),
  })
}

/** Null where there is nothing to plan. `minutes` = other ones than those of today. */
export const dayNow = (ctx: Context, from: Now, minutes?: number): DayNow | null => {
  const made = madeToday(ctx, from)
  const file = minutes === undefined ? made : { ...made, minutes }
  const planned = planOf(ctx, from, { date: file.date, minutes: file.minutes, morning: true, made: file })
  if (planned.day === null) return null
  const { day } = planned
  const here = planned.all.visits.filter(v => localDay(v.time, v.offset) === file.date)
  const { pain, lines: cautions } = cautionsOf(planned.all.visits, from.notes, instantOf(ctx))
  const advice = pain ? null : adviceOf(from, file, planned)
  return {
    from,
    planned,
    file,
    advice: advice?.id ?? null,
    cautions: [...cautions, ...planned.notes],
    lines: linesNow(ctx, from, file, planned, here),
    told: {
      title: dayTitle(day, planned.nearest),
      remarks: [
        ...(pain
          ? []
          : firstOfDay(from.notes, file.date, key => here.some(v => v.played > 0 && sameMusic(v.key, key)))),
        ...(advice ? [rowWords(advice.passage, advice.n)] : []),
        ...(planned.choice ? [chosenWords(planned.choice.kind, shareOf(planned.choice))] : []),
        ...remarkLines({ ...day, questions: [], load: planned.choice ? null : day.load }, planned.pieceOf),
      ],
      ways: pain
        ? []
        : waysOf(planned.load, o => [planned.pieceOf(o.key), o.label].filter(Boolean).join(', ')),
      closing: closingOf(playedOf(day.items, here)),
      // Not between two lines of a day.
      asksDays:
        planned.nearest !== null && from.settings.now().days === undefined && here.every(v => v.played === 0),
      asksWay: !planned.choice && !(file.choice?.kind === 'later' && file.choice.on === file.date),
      pain: pain ? cautions.join(' ') : null,
      evening: day.items.some(i => i.kind === 'slow'),
      questions: pain ? [] : day.questions.filter(q => !file.asked.includes(askedId(planned, q))),
    },
  }
}
