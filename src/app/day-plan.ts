import { historiesOf, type Visit } from '../ladder/history.ts'
import { sameMusic } from '../ladder/key.ts'
import { atCeiling, passageAdvice } from '../ladder/ready.ts'
import { DEFAULT_RULES, parseUp } from '../ladder/rules.ts'
import { takesOf } from '../ladder/standing.ts'
import { DAY_MINUTES, daysBetween, localDay } from '../music/day.ts'
import { cautionsOf, firstOfDay } from '../plan/cautions.ts'
import type { Question } from '../plan/dates.ts'
import { type Asked, type Day, dayOf } from '../plan/day.ts'
import { daysOf } from '../plan/diary-days.ts'
import type { Item } from '../plan/item.ts'
import { chosen, type Load, type LoadChoice } from '../plan/load.ts'
import type { DayLine } from '../plan/order.ts'
import { underWay } from '../plan/rest-of-day.ts'
import { keyOfWhole, type Seam, type Work, wayOf } from '../plan/work.ts'
import { partsOf, type Subject, seamsOf, worksOf } from '../plan/works.ts'
import { isOpen, type Piece } from '../repertoire/piece.ts'
import { closingOf, waysOf } from '../screens/today/asked.ts'
import { dayTitle, remarkLines } from '../screens/today/line-words.ts'
import type { Told } from '../screens/today/reduce.ts'
import { chosenWords, rowWords } from '../screens/today/words.ts'
import type { DayFile } from '../store/day-file.ts'
import { USUAL } from '../store/settings.ts'
import { type Offer, offersOf } from '../visit/joining.ts'
import { placeText } from '../visit/subject.ts'
import type { Context } from './context.ts'
import { instantOf, type Now, type Practiced, todayOf } from './now.ts'
import { noTempoYet } from './words.ts'

/** Minutes after midnight of the place, whole. */
export const clockNow = (ctx: Context): number => {
  const local = ctx.clock.wall() / 60_000 + ctx.clock.offset()
  return Math.ceil(local) % (24 * 60)
}

/** Which piece a key belongs to. */
export const titlesOf = (works: readonly Work[], seams: readonly Seam[]): ReadonlyMap<string, string> => {
  const titles = new Map(works.map(w => [w.key, w.piece]))
  for (const s of seams) titles.set(s.key, titles.get(s.of[0]) ?? '')
  return titles
}

/** Everything that was played, but nothing of a day or after it. */
const before = (all: Practiced, day: string): Practiced => {
  const visits = all.visits.filter(v => localDay(v.time, v.offset) < day)
  return { ...all, ...historiesOf(visits) }
}

export type Planned = {
  readonly all: Practiced
  readonly parts: readonly Subject[]
  readonly works: readonly Work[]
  readonly seams: readonly Seam[]
  /** The neighbors of the seams. */
  readonly offers: readonly Offer[]
  readonly day: Day
  /** What the day was made from. */
  readonly asked: Asked
  /** Whether the goals as they are can be reached, and what the player chose where they can't. */
  readonly load: Load | null
  readonly choice: LoadChoice | null
  /** The nearest date ahead. */
  readonly nearest: string | null
  /** Which piece a key belongs to; empty where there is only one. */
  readonly pieceOf: (key: string) => string
  readonly notes: readonly string[]
}

/**
 * The plan of a day from the repertoire and the journal; null where there is nothing to plan. `morning`: as the journal
 * was before that day, so that the plan of a day that is under way stays what it was.
 */
export const planOf = (
  ctx: Context,
  now: Now,
  o: {
    readonly date: string
    readonly minutes: number
    readonly morning: boolean
    readonly made: Pick<DayFile, 'wanted' | 'choice'>
  },
): Planned | { readonly day: null; readonly notes: readonly string[] } => {
  const { date, minutes } = o
  const { practiced: read, kept, damaged } = now
  const all = o.morning ? before(read, date) : read
  const notes = [...damaged, ...all.notes]
  const parts = partsOf(
    all,
    kept.map(k => k.piece),
  )
  if (parts.length === 0) return { day: null, notes }
  const wanted = new Set(parts.filter(p => o.made.wanted.includes(p.passage.id)).map(p => p.ladder.key))
  const works = worksOf(all, parts, date, instantOf(ctx)).map(w =>
    wanted.has(w.key) ? { ...w, today: true } : w,
  )
  notes.push(...kept.flatMap(k => asks(k.piece)))
  if (works.length === 0) return { day: null, notes }
  const seams = seamsOf(all, parts, date, instantOf(ctx))
  const played = daysOf(all.visits)
    .filter(d => d.date < date)
    .map(d => ({ day: d.date, minutes: d.seconds / 60 }))
  const nearest = works
    .flatMap(w => (w.readyBy !== null && daysBetween(date, w.readyBy) >= 0 ? [w.readyBy] : []))
    .sort()[0]
  const titles = titlesOf(works, seams)
  const light = now.settings.now().lastEvening === 'light'
  const asked = { date, minutes, played, light }
  const choice = o.made.choice?.kind === 'later' ? null : o.made.choice
  const several = new Set(works.map(w => w.piece)).size > 1
  return {
    all: read,
    parts,
    works,
    seams,
    offers: kept.flatMap(({ piece }) => piece.passages.flatMap(p => offersOf(all, piece, p, todayOf(ctx)))),
    day: dayOf(chosen(works, choice), seams, asked),
    asked,
    load: dayOf(works, seams, asked).load,
    choice,
    nearest: nearest ?? null,
    pieceOf: key => (several ? (titles.get(key) ?? '') : ''),
    notes,
  }
}

/** What a piece that was read from a score still needs from the player. */
const asks = (piece: Piece): readonly string[] => [
  ...(isOpen(piece) ? [noTempoYet(piece.title)] : []),
  ...(piece.passages.every(p => p.whole && !p.sections?.length) && piece.passages.length > 0
    ? [
        `${piece.title} is a whole part. Cut it: gradino piece split "${piece.title}/${piece.passages[0]?.name}"`,
      ]
    : []),
]

/** What the player made of today, with the minutes there are: those of today, else the usual ones. */
export const madeToday = (ctx: Context, { day, settings }: Now): DayFile => {
  const date = todayOf(ctx)
  if (day?.date === date) return day
  return {
    date,
    minutes: settings.now().minutes ?? DAY_MINUTES.usual,
    order: [],
    skipped: [],
    over: [],
    asked: day?.asked ?? [],
    wanted: [],
    choice: day?.choice ?? null,
  }
}

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
