import type { Context } from '../app/context.ts'
import { beforeOf, type Known, takesOf, todayOf } from '../app/known.ts'
import { formSeconds } from '../click/tempo-map.ts'
import { sectionKey } from '../ladder/key.ts'
import { type ColdTake, nextEnd, secure } from '../ladder/ready.ts'
import { DEFAULT_RULES } from '../ladder/rules.ts'
import { rungs } from '../ladder/rungs.ts'
import { FIND_FROM, joinOpening, markBelow, opening } from '../ladder/start.ts'
import { daysBetween } from '../music/calendar.ts'
import { localDay } from '../music/day.ts'
import { toNumber } from '../music/fraction.ts'
import { measureLength } from '../music/meter.ts'
import { compareTempo, quarters, type Tempo } from '../music/tempo.ts'
import type { PassageForm } from '../repertoire/passage-form.ts'
import type { Passage, Piece, Section } from '../repertoire/piece.ts'
import { joinedKey } from '../visit/join-target.ts'
import { type Block, blocksOf, joinMusic } from '../visit/joining.ts'
import { passageMusic, placeText } from '../visit/subject.ts'
import { type LoggedDay, lnGain, logOf, planningCeiling } from './log.ts'
import { minutesToPass } from './pass.ts'
import { namesOf, nameText } from './practiced-names.ts'
import { finished, type Seam, type Work } from './work.ts'

/** A section, or a passage as a whole, with all that is known of it in even rhythm. */
export type Part = {
  readonly key: string
  readonly piece: Piece
  readonly passage: Passage
  readonly section: Section | null
  /** In the player's words, without the piece. */
  readonly label: string
  readonly music: PassageForm
  readonly readyBy: string | null
  readonly log: readonly LoggedDay[]
  readonly takes: readonly ColdTake[]
  /** Several sections that are played as one: there it goes up two notches at a time. */
  readonly joined?: true
}

const NOTCH = { k: 'notch' } as const

/** Every passage and, before it, its sections, in the order in which the pieces have them. */
export const partsOf = (all: Known, pieces: readonly Piece[]): readonly Part[] => {
  const name = namesOf(pieces)
  const part = (piece: Piece, passage: Passage, section: Section | null): Part => {
    const key = sectionKey(section?.id ?? passage.id)
    return {
      key,
      piece,
      passage,
      section,
      label: nameText({ ...name(key), piece: '' }),
      music: passageMusic(passage, section),
      readyBy: passage.readyBy ?? piece.readyBy ?? null,
      log: logOf(all.of(key)?.visits ?? [], localDay),
      takes: takesOf(all, key),
    }
  }
  return pieces.flatMap(piece =>
    piece.passages.flatMap(p => [...(p.sections ?? []), null].map(s => part(piece, p, s))),
  )
}

/** The ceiling that was ever reached. */
export const ceilingOf = (p: Part): Tempo | null => p.log.at(-1)?.ceiling ?? null

/** How many rungs lie above the ceiling, the goal included; null without a ceiling. */
export const rungsAbove = (p: Part): number | null => {
  const ceiling = ceilingOf(p)
  if (!ceiling || compareTempo(ceiling, p.music.goal) >= 0) return ceiling && 0
  const all = rungs(ceiling, p.music.goal, NOTCH)
  return all.ok ? all.value.length - 1 : null
}

/** Rest after a repetition and the least count-in, seconds. */
const REST = 3
const COUNT_IN = 1.5

const secondsAt = (p: Part, t: Tempo): number => {
  const { form } = p.music
  const measure = form.meters[0] ? toNumber(measureLength(form.meters[0].meter)) : 1
  return formSeconds(form, t) + Math.max(COUNT_IN, (measure * 4 * 60) / toNumber(quarters(t))) + REST
}

/** A solo is heard; a doubled part is carried by others. */
const PRIORITY = { solo: 2, exposed: 1.5, tutti: 0.5 } as const

/** So many days after today. */
const before = (ctx: Context, all: Known, key: string, ahead: number) => {
  const known = beforeOf(ctx, all.of(key))
  return known && { ...known, days: known.days + ahead }
}

const lastPlayed = (days: readonly { readonly day: string }[], date: string): number | null => {
  const last = days.at(-1)?.day
  return last === undefined ? null : Math.max(0, daysBetween(last, date))
}

/** As the plan calls sections of a passage, several as one: with the measure to look for on the page. */
const sectionsLabel = (p: Passage, own: readonly Section[], where: string): string => {
  const passage = p.name === p.measures ? placeText(p) : p.name
  return `${passage}, section ${own.map(s => s.name).join('+')}, ${where}`
}

const measureOf = (s: Section | undefined): string =>
  /^\d/.test(s?.from ?? '') ? `m. ${s?.from}` : (s?.from ?? '')

const planLabel = (p: Part, own: readonly Section[] = p.section ? [p.section] : []): string =>
  own.length === 0 ? p.label : sectionsLabel(p.passage, own, `from ${measureOf(own[0])}`)

const workOf = (ctx: Context, all: Known, p: Part, date: string): Work => {
  const { goal, start, top } = p.music
  const ceiling = planningCeiling(p.log, goal)
  const known = before(ctx, all, p.key, daysBetween(todayOf(ctx), date))
  const open = p.joined ? joinOpening([], start, goal, known) : opening(start, goal, NOTCH, known)
  const seconds = secondsAt(p, ceiling ?? start ?? markBelow(goal, FIND_FROM))
  return {
    key: p.key,
    label: p.joined ? p.label : planLabel(p),
    piece: p.piece.title,
    goal,
    ...(top ? { top, cold: nextEnd(p.takes, goal, top) } : {}),
    ceiling,
    secure: secure(p.takes),
    next: open.ok && !open.value.find ? (open.value.rungs[open.value.at] ?? null) : null,
    readyBy: p.readyBy,
    priority: p.passage.exposure ? PRIORITY[p.passage.exposure] : 1,
    minutesSoFar: p.log.reduce((sum, d) => sum + d.minutes, 0),
    lnGainSoFar: lnGain(p.log),
    lastPlayedDaysAgo: lastPlayed(
      [...p.log, ...p.takes].sort((a, b) => (a.day < b.day ? -1 : 1)),
      date,
    ),
    secondsPerRepetition: seconds,
    minutesToPass:
      open.ok && !open.value.find
        ? minutesToPass({ ...open.value, ceiling: ceilingOf(p), rules: DEFAULT_RULES, seconds })
        : null,
  }
}

/** What a block is for the plan: a section, the passage where it is all of it, else sections that are played as one. */
const partOfBlock = (all: Known, parts: readonly Part[], b: Block): Part | null => {
  const known = parts.find(p => p.key === b.key)
  if (known) return b.sections.length > 1 ? { ...known, joined: true } : known
  const [first] = b.sections
  const part = parts.find(p => p.section === first)
  return part
    ? {
        ...part,
        key: b.key,
        section: null,
        joined: true,
        label: planLabel(part, b.sections),
        music: joinMusic(part.passage, b.sections),
        log: logOf(all.of(b.key)?.visits ?? [], localDay),
        takes: takesOf(all, b.key),
      }
    : null
}

/** The passages that are cut, each with what its sections are practiced in today. */
const cutPassages = (ctx: Context, all: Known, parts: readonly Part[]) =>
  parts
    .filter(p => !p.section && (p.passage.sections?.length ?? 0) > 0)
    .map(whole => ({ whole, runs: blocksOf(all, whole.passage, todayOf(ctx)) }))

/**
 * What the plan of a day divides its minutes among: sections, or joins in their place while these hold, and a passage as
 * a whole once all of its sections are done.
 */
export const worksOf = (ctx: Context, all: Known, parts: readonly Part[], date: string): readonly Work[] => {
  const work = (p: Part): Work => workOf(ctx, all, p, date)
  const cut = new Map(cutPassages(ctx, all, parts).map(c => [c.whole.passage, c.runs]))
  return parts.flatMap(p => {
    const runs = p.section ? null : cut.get(p.passage)
    if (!runs) return p.section ? [] : [work(p)]
    const inside = runs.flatMap(run => run.flatMap(b => partOfBlock(all, parts, b) ?? [])).map(work)
    return inside.every(w => finished(w)) && inside.every(w => w.key !== p.key)
      ? [...inside, work(p)]
      : inside
  })
}

/** Neighbors, joined: what their visit is known by, and where it would begin. */
export const seamsOf = (ctx: Context, all: Known, parts: readonly Part[], date: string): readonly Seam[] => {
  const ahead = daysBetween(todayOf(ctx), date)
  return cutPassages(ctx, all, parts).flatMap(({ whole, runs }) =>
    runs.flatMap(run =>
      run.flatMap((b, i) => {
        const a = run[i - 1]
        if (!a) return []
        const sections = [...a.sections, ...b.sections]
        const key = joinedKey(whole.passage, sections)
        const { start, goal } = joinMusic(whole.passage, sections)
        const open = joinOpening([a, b], start, goal, before(ctx, all, key, ahead))
        return [
          {
            key,
            label: sectionsLabel(whole.passage, sections, `at ${measureOf(b.sections[0])}`),
            of: [a.key, b.key] as const,
            next: open.ok ? (open.value.rungs[open.value.at] ?? null) : null,
            lastPlayedDaysAgo: lastPlayed(logOf(all.of(key)?.visits ?? [], localDay), date),
          },
        ]
      }),
    ),
  )
}
