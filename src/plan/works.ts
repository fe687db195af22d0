import { SHORTEST_COUNT_IN } from '../click/clicks.ts'
import { formSeconds } from '../click/tempo-map.ts'
import { compareHard } from '../ladder/direction.ts'
import type { Histories } from '../ladder/history.ts'
import { type LoggedDay, lnGain, logOf, planningCeiling } from '../ladder/log.ts'
import { cleanColds, nextEnd } from '../ladder/ready.ts'
import { rungs } from '../ladder/rungs.ts'
import { type Ladder, openingOf, standing, takesOf } from '../ladder/standing.ts'
import { FIND_FROM, markBelow } from '../ladder/start.ts'
import { dayAt, daysBetween, type Instant } from '../music/day.ts'
import { measures } from '../music/form.ts'
import { toNumber } from '../music/fraction.ts'
import { measureLength } from '../music/meter.ts'
import { placeWords } from '../music/place.ts'
import { quarters, type Tempo } from '../music/tempo.ts'
import { ladderOf, musicOf } from '../repertoire/ladder-of.ts'
import type { PassageForm } from '../repertoire/passage-form.ts'
import { isOpen, type Passage, type Piece, type Section } from '../repertoire/piece.ts'
import { isRest, sectionsAndRest } from '../repertoire/the-rest.ts'
import { blocksOf, type Joinable } from '../visit/joining.ts'
import { REST } from '../visit/sounding.ts'
import { placeText } from '../visit/subject.ts'
import { minutesToPass } from './pass.ts'
import { namesOf, nameText } from './practiced-names.ts'
import { finished, type Seam, type Whole, type Work } from './work.ts'

/** A section, or a passage as a whole, with all that is known of it in even rhythm. */
export type Subject = {
  readonly ladder: Ladder
  readonly piece: Piece
  readonly passage: Passage
  readonly section: Section | null
  /** In the player's words, without the piece. */
  readonly label: string
  readonly music: PassageForm
  readonly readyBy: string | null
  readonly log: readonly LoggedDay[]
}

/** Every passage and, before it, its sections, in the order in which the pieces have them. */
export const partsOf = (all: Histories, pieces: readonly Piece[]): readonly Subject[] => {
  const name = namesOf(pieces)
  const part = (piece: Piece, passage: Passage, section: Section | null): Subject => {
    const own = section ? [section] : []
    const ladder = ladderOf(passage, own, all.usual)
    return {
      ladder,
      piece,
      passage,
      section,
      label: nameText({ ...name(ladder.key), piece: '' }),
      music: musicOf(passage, own),
      readyBy: passage.readyBy ?? piece.readyBy ?? null,
      log: logOf(all.of(ladder.key)?.visits ?? [], ladder.direction),
    }
  }
  return pieces.flatMap(piece =>
    piece.passages.flatMap(p => [...sectionsAndRest(p), null].map(s => part(piece, p, s))),
  )
}

/** The ceiling that was ever reached. */
const ceilingOf = (p: Subject): Tempo | null => p.log.at(-1)?.ceiling ?? null

/** How many rungs lie beyond the ceiling, the goal included; null without a ceiling. */
export const rungsAbove = (p: Subject): number | null => {
  const ceiling = ceilingOf(p)
  const { step, direction } = p.ladder
  if (!ceiling || compareHard(ceiling, p.music.goal, direction) >= 0) return ceiling && 0
  const all = rungs(ceiling, p.music.goal, step, direction)
  return all.ok ? all.value.length - 1 : null
}

/** Seconds of rest after a repetition, half of them clean. */
const RESTS = (REST.clean + REST.slip) / 2

const secondsAt = (p: Subject, t: Tempo): number => {
  const { form } = p.music
  const measure = form.meters[0] ? toNumber(measureLength(form.meters[0].meter)) : 1
  return (
    formSeconds(form, t) + Math.max(SHORTEST_COUNT_IN, (measure * 4 * 60) / toNumber(quarters(t))) + RESTS
  )
}

/** What the player says a passage matters, as a weight. A choice. */
const PRIORITY = { must: 2, 'as usual': 1, 'can wait': 0.5 } as const

const lastPlayed = (days: readonly { readonly day: string }[], date: string): number | null => {
  const last = days.at(-1)?.day
  return last === undefined ? null : Math.max(0, daysBetween(last, date))
}

/** As the plan calls sections of a passage, several as one: with the measure to look for on the page. */
const sectionsLabel = (p: Passage, own: readonly Section[], where: string): string => {
  const passage = p.name === p.measures ? placeText(p) : p.name
  const [one, ...more] = own
  return one && more.length === 0 && isRest(one)
    ? `${passage}, ${one.name}`
    : `${passage}, section ${own.map(s => s.name).join('+')}, ${where}`
}

const measureOf = (s: Section | undefined): string => placeWords(s?.from ?? '')

const planLabel = (p: Subject, own: readonly Section[] = p.section ? [p.section] : []): string =>
  own.length === 0 ? p.label : sectionsLabel(p.passage, own, `from ${measureOf(own[0])}`)

/** Longer than this, or a whole part as it was read, is no ladder until it is cut, or has a start, or was climbed. */
const LONG = 32
const isLong = (p: Subject, ceiling: Tempo | null): boolean =>
  (p.passage.whole === true || measures(p.music.form).length > LONG) &&
  ceiling === null &&
  p.ladder.start === null

const workOf = (all: Histories, p: Subject, date: string, now: Instant, whole?: Whole): Work => {
  const { goal, start, top, direction } = p.ladder
  const stands = standing(p.ladder, all, now, daysBetween(dayAt(now), date))
  const { opening, finding, takes, rules } = stands
  const ceiling = planningCeiling(p.log, goal, direction)
  const long = isLong(p, ceiling)
  const lastPlayedDaysAgo = lastPlayed(
    [...p.log, ...takes, ...(long ? takesOf(all, p.ladder.key, 'entry') : [])].sort((a, b) =>
      a.day.localeCompare(b.day),
    ),
    date,
  )
  const seconds = secondsAt(p, ceiling ?? start ?? markBelow(goal, FIND_FROM))
  return {
    key: p.ladder.key,
    label: planLabel(p),
    piece: p.piece.title,
    goal,
    ...(isOpen(p.piece) ? { open: true } : {}),
    ...(top ? { top, cold: nextEnd(takes, goal, top) } : {}),
    ceiling,
    secure: stands.secure,
    ready: stands.ready,
    cleanColds: cleanColds(takes, goal, top ?? null, direction),
    coldDaysAgo: lastPlayed(takes, date),
    ...(direction === 'down' ? { down: true } : {}),
    ...(whole ? { whole } : {}),
    ...(long ? { long } : {}),
    ...(long && p.passage.whole && lastPlayedDaysAgo === null ? { asRead: true } : {}),
    oneAbove:
      opening.ok && ceiling
        ? (opening.value.rungs.find(t => compareHard(t, ceiling, direction) > 0) ?? null)
        : null,
    next: finding ? null : stands.next,
    readyBy: p.readyBy,
    ...(all.week ? { week: all.week } : {}),
    priority: PRIORITY[p.passage.matters ?? 'as usual'],
    minutesSoFar: p.log.reduce((sum, d) => sum + d.minutes, 0),
    lnGainSoFar: lnGain(p.log),
    lastPlayedDaysAgo,
    secondsPerRepetition: seconds,
    minutesToPass:
      opening.ok && !finding
        ? minutesToPass({ ...opening.value, ceiling: stands.ceiling, rules, seconds })
        : null,
  }
}

const wholeOf = (p: Subject): Whole => ({
  key: p.ladder.key,
  label: p.label,
  goal: p.ladder.goal,
  top: p.ladder.top ?? null,
  seconds: secondsAt(p, p.ladder.goal),
})

/** What a block is for the plan: a section, the passage where it is all of it, else sections that are played as one. */
const partOfBlock = (all: Histories, parts: readonly Subject[], b: Joinable): Subject | null => {
  const known = parts.find(p => p.ladder.key === b.key)
  const part = known ?? parts.find(p => p.section === b.sections[0])
  if (!part || known) return part ?? null
  const { passage } = part
  return {
    ...part,
    ladder: ladderOf(passage, b.sections, all.usual),
    section: null,
    label: planLabel(part, b.sections),
    music: musicOf(passage, b.sections),
    log: logOf(all.of(b.key)?.visits ?? []),
  }
}

/** The passages that are cut, each with what its sections are practiced in today. */
const cutPassages = (all: Histories, parts: readonly Subject[], now: Instant) =>
  parts
    .filter(p => !p.section && (p.passage.sections?.length ?? 0) > 0)
    .map(whole => ({ whole, runs: blocksOf(all, whole.passage, dayAt(now)) }))

/**
 * What the plan of a day divides its minutes among: sections, or joins in their place while these hold, and a passage as
 * a whole once all of its sections are done.
 */
export const worksOf = (
  all: Histories,
  parts: readonly Subject[],
  date: string,
  now: Instant,
): readonly Work[] => {
  const work = (p: Subject, of?: Whole): Work => workOf(all, p, date, now, of)
  const cut = new Map(cutPassages(all, parts, now).map(c => [c.whole.passage, c.runs]))
  return parts.flatMap(p => {
    const runs = p.section ? null : cut.get(p.passage)
    if (!runs) return p.section ? [] : [work(p)]
    const inside = runs
      .flatMap(run => run.flatMap(b => partOfBlock(all, parts, b) ?? []))
      .map(x => work(x, x.ladder.key === p.ladder.key ? undefined : wholeOf(p)))
    return inside.every(w => finished(w)) && inside.every(w => w.key !== p.ladder.key)
      ? [...inside, work(p)]
      : inside
  })
}

/** Neighbors, joined: what their visit is known by, and where it would begin. */
export const seamsOf = (
  all: Histories,
  parts: readonly Subject[],
  date: string,
  now: Instant,
): readonly Seam[] => {
  const ahead = daysBetween(dayAt(now), date)
  return cutPassages(all, parts, now).flatMap(({ whole, runs }) =>
    runs.flatMap(run =>
      run.flatMap((b, i) => {
        const a = run[i - 1]
        if (!a) return []
        const sections = [...a.sections, ...b.sections]
        const ladder = ladderOf(whole.passage, sections, all.usual)
        const open = openingOf(ladder, all, now, ahead)
        return [
          {
            key: ladder.key,
            label: sectionsLabel(whole.passage, sections, `at ${measureOf(b.sections[0])}`),
            of: [a.key, b.key] as const,
            next: open.ok ? (open.value.rungs[open.value.at] ?? null) : null,
            lastPlayedDaysAgo: lastPlayed(logOf(all.of(ladder.key)?.visits ?? []), date),
          },
        ]
      }),
    ),
  )
}
