import { add, type Frac, frac, mulNear, toNumber } from '../music/fraction.ts'
import { ok, printable, problem, type Result, wrong } from '../music/result.ts'
import { ratioOf, type Tempo, tidy } from '../music/tempo.ts'
import { nearest, sameName } from '../repertoire/find-piece.ts'
import { checkPiece, type Passage, PIECE_VERSION, type Piece } from '../repertoire/piece.ts'
import { playedMeasures, playedRemarks } from './as-played.ts'
import { openGoal } from './offer.ts'
import { lastNamed, measureNamed, measuresAndMarks } from './places.ts'
import { proposePassages } from './proposals.ts'
import { readPart } from './read-part.ts'
import { readScore } from './read-score.ts'
import type { Measure, Movement, Part, Score, ScorePart } from './score.ts'
import { passageOf, type Stretch, type Wish } from './score-passage.ts'
import { markAt, tempoAt } from './tempo-line.ts'
import { whichPart } from './words.ts'

/** What is wanted of a score: the whole part, its hardest passages, both where nothing is said, or only some measures. */
export type Wanted = {
  readonly part?: string | undefined
  /** Its number, or any part of its name; else all of them. */
  readonly movement?: string | undefined
  /** `open`: the rehearsal will say, whatever is printed. */
  readonly goal?: Tempo | 'open' | undefined
  readonly hard?: boolean | undefined
  readonly whole?: boolean | undefined
  readonly from?: string | undefined
  readonly to?: string | undefined
  /** The movement becomes a piece of its own, so that nothing in it is called by the movement. */
  readonly apart?: boolean | undefined
  /** Without the fermatas of other parts. */
  readonly ownHolds?: boolean | undefined
  /** With repeats and jumps carried out. */
  readonly asPlayed?: boolean | undefined
}

export type ImportedPart = {
  readonly title: string
  readonly part: string
  readonly passages: readonly Passage[]
  /** Absent where the goal was typed. */
  readonly sure?: NonNullable<Piece['sure']>
  /** What the reader left out, or decided: one sentence each. */
  readonly remarks: readonly string[]
}

const MOST_LISTED = 24

const listed = (parts: readonly ScorePart[]): string => {
  const named = parts.map(p => (p.id === p.name ? p.id : `${p.id} (${p.name})`))
  const more = parts.length - MOST_LISTED
  return named.slice(0, MOST_LISTED).join(', ') + (more > 0 ? ` and ${more} more` : '')
}

/** By id, or by the nearest name; an only part needs no name. */
const choosePart = (score: Score, name: string | undefined): Result<ScorePart> => {
  const { parts } = score
  const near = name === undefined ? parts : nearest(parts, name, p => p.name)
  const found = parts.find(p => p.id === name) ?? (near.length === 1 ? near[0] : undefined)
  if (found) return ok(found)
  const choice = `one of ${listed(near.length > 1 ? near : parts)}`
  return name === undefined
    ? wrong(whichPart(parts.length, choice, movementsOf(score)))
    : problem('part', name, choice)
}

/** The movements, where there are several: what an import of a file shows. */
const movementsOf = ({ movements }: Score): string =>
  movements.length < 2
    ? ''
    : `; its movements (--movement) are ${movements.map((m, i) => `${i + 1} (${m.name})`).join(', ')}`

const numberOf = (score: Score, m: Movement): string => String(score.movements.indexOf(m) + 1)

/** By number or by any part of its name. */
const chooseMovements = (score: Score, w: Wanted): Result<readonly Movement[]> => {
  const { movements } = score
  const choice = `--movement with ${movements.map(m => `${numberOf(score, m)}${m.name === '' ? '' : ` (${m.name})`}`).join(', ')}`
  if (w.movement === undefined)
    return (w.from ?? w.to) !== undefined && movements.length > 1
      ? problem('movement', '', choice)
      : ok(movements)
  const wanted = w.movement.trim()
  const called = wanted === '' ? [] : nearest(movements, wanted, m => m.name)
  const found = movements.find(m => numberOf(score, m) === wanted) ?? (called.length === 1 ? called[0] : null)
  return found ? ok([found]) : problem('movement', w.movement, choice)
}

/** Whole measures, by their numbers or rehearsal marks as printed. */
const measuresOf = (part: Part, from: string | undefined, to: string | undefined): Result<Stretch> => {
  const last = part.measures.length - 1
  const range = measuresAndMarks(part)
  const first = from === undefined ? 0 : measureNamed(part, from)
  const end = to === undefined ? last : lastNamed(part, to)
  const [begins, ends] = [part.measures[first ?? -1], part.measures[end ?? -1]]
  if (!begins) return problem('--from', from ?? '', range)
  if (!ends || ends.index < begins.index)
    return problem('--to', to ?? '', `${range}, after measure ${begins.number}`)
  return ok({
    from: { measure: begins.index, at: begins.at },
    to: { measure: ends.index, at: add(ends.at, ends.length) },
  })
}

/** The tempo to aim at elsewhere when a goal was typed for one place: in the ratio of what is written. */
const scaled = (part: Part, from: Frac, goal: Wanted['goal'], at: Frac): Tempo | undefined => {
  if (goal === 'open') return undefined
  const [first, here] = [tempoAt(part.tempos, from), tempoAt(part.tempos, at)]
  if (!goal || !first || !here) return goal
  // In whole numbers: a goal that was scaled is no more exact than that.
  const bpm = Math.max(1, Math.round(toNumber(mulNear(here.bpm, ratioOf(goal, first)))))
  return tidy({ unit: here.unit, bpm: frac(bpm) })
}

/** A name that no other has: "12-15", else "12-15 (2)". */
export const freeName = (name: string, others: readonly { readonly name: string }[]): string => {
  let free = name
  for (let i = 2; others.some(o => sameName(o.name, free)); i++) free = `${name} (${i})`
  return free
}

const stretchOf = (part: Part, w: Wanted): Result<Stretch> =>
  w.asPlayed ? playedMeasures(part, w.from, w.to) : measuresOf(part, w.from, w.to)

/** A movement of the part, with its number and name where the score has several. */
type Chosen = { readonly part: Part; readonly number: string; readonly name: string; readonly of: number }
type Made = { readonly passages: readonly Passage[]; readonly said: readonly string[] }

/** What a passage holds at most; and from how many measures on a whole part is no ladder until it is cut. */
const MOST_MEASURES = 999
const MOST_OF_A_LADDER = 32
/** Few are of use: so many, spread over the movements. */
const MOST_PROPOSED = 8

/** So many measures are named where the same comes again. */
const MOST_AGAIN = 4

const fewNumbers = (numbers: readonly string[]): string => {
  const more = numbers.length - MOST_AGAIN
  return numbers.slice(0, MOST_AGAIN).join(', ') + (more > 0 ? ` and ${more} more` : '')
}

type Wished = { readonly stretch: Stretch; readonly wish: Pick<Wish, 'name' | 'hard' | 'whole'> }

/** As few stretches of about the same length as passages can hold. */
const stripsOf = (part: Part, stretch: Stretch): readonly Stretch[] => {
  const { from, to } = stretch
  const order = stretch.played ?? part.measures.slice(from.measure, to.measure + 1).map(m => m.index)
  const count = Math.ceil(order.length / MOST_MEASURES)
  if (count < 2) return [stretch]
  const each = Math.ceil(order.length / count)
  return Array.from({ length: count }, (_, i): Stretch => {
    const some = order.slice(i * each, (i + 1) * each)
    if (stretch.played) return { ...stretch, played: some }
    const [first, last] = [some[0], some.at(-1)].map(i => part.measures[i as number]) as [Measure, Measure]
    return {
      from: { measure: first.index, at: first.at },
      to: { measure: last.index, at: add(last.at, last.length) },
    }
  })
}

const wishesOf = ({ part, name, of }: Chosen, stretch: Stretch, w: Wanted): readonly Wished[] => {
  const some = (w.from ?? w.to) !== undefined
  const long = part.measures.length > MOST_OF_A_LADDER
  const prints = part.tempos.some(t => t.tempo)
  const hard = !some && (w.hard || (!w.whole && !w.asPlayed && long))
  const proposals = hard
    ? proposePassages(part, prints || w.goal === 'open' ? null : (w.goal ?? null)).slice(
        0,
        Math.max(1, Math.floor(MOST_PROPOSED / of)),
      )
    : []
  const whole = some || !w.hard || proposals.length === 0
  const strips = some ? [stretch] : stripsOf(part, stretch)
  const named: Wished['wish'] = some ? {} : { name: name || 'whole part', ...(long ? { whole: true } : {}) }
  return [
    ...(whole && (strips.length === 1 || proposals.length === 0)
      ? strips.map(strip => ({
          stretch: strip,
          wish: strips.length === 1 ? named : { whole: true as const },
        }))
      : []),
    ...proposals.map(({ name, from, to, why, again }) => ({
      stretch: { from, to },
      wish: { name, hard: again.length > 0 ? `${why}; the same again in m. ${fewNumbers(again)}` : why },
    })),
  ]
}

const passagesOf = (
  chosen: Chosen,
  w: Wanted,
  others: readonly Passage[],
  newId: () => string,
): Result<Made> => {
  const { part, number, name } = chosen
  const stretch = stretchOf(part, w)
  if (!stretch.ok) return stretch
  const start = stretch.value.from.at
  const wishes = wishesOf(chosen, stretch.value, w)
  const out: Passage[] = []
  for (const { stretch, wish } of wishes) {
    const goal = scaled(part, start, w.goal, stretch.from.at)
    const made = passageOf(part, stretch, { ...wish, goal, fallback: openGoal(part), newId })
    if (!made.ok) return made
    const called = name !== '' && wish.name !== name ? `${number}. ${made.value.name}` : made.value.name
    out.push({ ...made.value, name: freeName(called, [...others, ...out]) })
  }
  const said = playedRemarks(
    part,
    w.asPlayed === true,
    wishes.map((s, i) => ({ ...s.stretch, name: (out[i] as Passage).name })),
  )
  const strips = out.filter(p => p.whole)
  const tooLong =
    part.measures.length > MOST_MEASURES && strips.length !== 1
      ? [
          `${part.measures.length} measures are more than one passage holds: ${strips.length > 1 ? `they come as ${strips.map(p => p.name).join(' and ')}, and ` : ''}--from and --to take any of them`,
        ]
      : []
  const of = name === '' ? '' : `${name}, `
  return ok({ passages: out, said: [...tooLong, ...part.warnings, ...said].map(text => of + text) })
}

/** As sure as the mark at the start of the first passage is. */
const sureness = (part: Part, w: Wanted): Pick<ImportedPart, 'sure'> => {
  if (w.goal) return w.goal === 'open' ? { sure: 'open' } : {}
  const start = stretchOf(part, w)
  const mark = start.ok ? markAt(part.tempos, start.value.from.at) : undefined
  if (!mark) return { sure: 'open' }
  return { sure: mark?.printed && mark.from !== 'sound' ? 'printed' : 'guess' }
}

const LONGEST_TITLE = 120

/** A score that was read, as passages: `name` is what sentences call it. Never throws. */
export const importFrom = (
  score: Score,
  name: string,
  w: Wanted,
  newId: () => string,
): Result<ImportedPart> => {
  try {
    const found = choosePart(score, w.part)
    const movements = chooseMovements(score, w)
    if (!found.ok) return found
    if (!movements.ok) return movements
    const passages: Passage[] = []
    const said: string[] = []
    let sure: Pick<ImportedPart, 'sure'> | null = null
    for (const m of movements.value) {
      const part = readPart(score, found.value.id, { ...m, ownHolds: w.ownHolds ?? false })
      if (!part.ok) return part
      const called = w.apart ? '' : m.name
      const one = { part: part.value, number: numberOf(score, m), name: called, of: movements.value.length }
      const made = passagesOf(one, w, passages, newId)
      if (!made.ok) return made
      passages.push(...made.value.passages)
      said.push(...made.value.said)
      sure ??= sureness(part.value, w)
    }
    const title = printable(score.title).slice(0, LONGEST_TITLE).trim() || name
    const checked = checkPiece({ v: PIECE_VERSION, id: 'none', title, passages })
    if (!checked.ok) return checked
    return ok({
      title: checked.value.title,
      part: found.value.name,
      passages: checked.value.passages,
      ...sure,
      remarks: [...score.warnings, ...said],
    })
  } catch (error) {
    if (!(error instanceof RangeError)) throw error
    return problem(name, 'lengths too fine to add up', 'measures whose lengths add up exactly')
  }
}

/**
 * Passages from the bytes of a MusicXML file, plain or compressed; `name` is what sentences call it. Never throws: what
 * cannot be used gives the one problem that says what, where and what is accepted.
 */
export const importScore = (
  bytes: Uint8Array,
  name: string,
  w: Wanted,
  newId: () => string,
): Result<ImportedPart> => {
  const score = readScore(bytes, name)
  return score.ok ? importFrom(score.value, name, w, newId) : score
}
