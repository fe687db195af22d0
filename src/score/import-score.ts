import { add, type Frac, mulNear } from '../music/fraction.ts'
import { ok, printable, problem, type Result } from '../music/result.ts'
import { ratioOf, type Tempo, tidy } from '../music/tempo.ts'
import { sameName } from '../repertoire/find-piece.ts'
import { checkPiece, type Passage, type Piece } from '../repertoire/piece.ts'
import { playedMeasures, playedRemarks } from './as-played.ts'
import { proposePassages } from './proposals.ts'
import { measureNamed, readPart } from './read-part.ts'
import { readScore } from './read-score.ts'
import type { Part, Score, ScorePart } from './score.ts'
import { passageOf, type Stretch } from './score-passage.ts'
import { markAt, tempoAt } from './tempo-line.ts'

/** What is wanted of a score: the whole part, with `hard` its hardest passages too, or only some measures. */
export type Wanted = {
  readonly part?: string | undefined
  readonly goal?: Tempo | undefined
  readonly hard?: boolean | undefined
  readonly from?: string | undefined
  readonly to?: string | undefined
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

/** By id, else by name without regard to capitals; an only part needs no name. */
const choosePart = (score: Score, name: string | undefined): Result<Part> => {
  const { parts } = score
  const called = name === undefined ? parts : parts.filter(p => sameName(p.name, name))
  const found = parts.find(p => p.id === name) ?? (called.length === 1 ? called[0] : undefined)
  if (found) return readPart(score, found.id)
  const choice = `one of ${listed(called.length > 1 ? called : parts)}`
  return problem('part', name ?? '', name === undefined ? `--part with ${choice}` : choice)
}

/** Whole measures, by their numbers as printed. */
const measuresOf = (part: Part, from: string | undefined, to: string | undefined): Result<Stretch> => {
  const last = part.measures.length - 1
  const [a, b] = [part.measures[0]?.number ?? '', part.measures[last]?.number ?? '']
  const first = from === undefined ? 0 : measureNamed(part, from)
  const end = to === undefined ? last : measureNamed(part, to)
  const [begins, ends] = [part.measures[first ?? -1], part.measures[end ?? -1]]
  if (!begins) return problem('--from', from ?? '', `a measure from ${a} to ${b}`)
  if (!ends || ends.index < begins.index)
    return problem('--to', to ?? b, `a measure from ${begins.number} to ${b}`)
  return ok({
    from: { measure: begins.index, at: begins.at },
    to: { measure: ends.index, at: add(ends.at, ends.length) },
  })
}

const NO_TEMPO = problem('goal tempo', '', 'a goal with --goal, as --goal 96: the part prints no tempo there')

/** The tempo to aim at elsewhere when a goal was typed for one place: in the ratio of what is written. */
const scaled = (part: Part, from: Frac, goal: Tempo | undefined, at: Frac): Tempo | undefined => {
  const [first, here] = [tempoAt(part.tempos, from), tempoAt(part.tempos, at)]
  if (!goal || !first || !here) return goal
  return tidy({ unit: here.unit, bpm: mulNear(here.bpm, ratioOf(goal, first)) })
}

/** A name that no other has: "12-15", else "12-15 (2)". */
export const freeName = (name: string, others: readonly { readonly name: string }[]): string => {
  let free = name
  for (let i = 2; others.some(o => sameName(o.name, free)); i++) free = `${name} (${i})`
  return free
}

const stretchOf = (part: Part, w: Wanted): Result<Stretch> =>
  w.asPlayed ? playedMeasures(part, w.from, w.to) : measuresOf(part, w.from, w.to)

type Made = { readonly passages: readonly Passage[]; readonly stretches: readonly Stretch[] }

const passagesOf = (part: Part, w: Wanted, newId: () => string): Result<Made> => {
  const stretch = stretchOf(part, w)
  if (!stretch.ok) return stretch
  const start = stretch.value.from.at
  const whole = w.from === undefined && w.to === undefined
  const prints = part.tempos.some(t => t.tempo)
  const wishes = [
    { stretch: stretch.value, wish: whole ? { name: 'whole part' } : {} },
    ...(w.hard ? proposePassages(part, prints ? null : (w.goal ?? null)) : []).map(
      ({ from, to, why, sections }) => ({
        stretch: { from, to },
        wish: { note: why, sections },
      }),
    ),
  ]
  const out: Passage[] = []
  for (const { stretch, wish } of wishes) {
    const goal = scaled(part, start, w.goal, stretch.from.at)
    if (!goal && !tempoAt(part.tempos, stretch.from.at)) return NO_TEMPO
    const made = passageOf(part, stretch, { ...wish, goal, newId })
    if (!made.ok) return made
    out.push({ ...made.value, name: freeName(made.value.name, out) })
  }
  return ok({ passages: out, stretches: wishes.map(s => s.stretch) })
}

/** As sure as the mark at the start of the first passage is. */
const sureness = (part: Part, w: Wanted): Pick<ImportedPart, 'sure'> => {
  if (w.goal) return {}
  const start = stretchOf(part, w)
  const mark = start.ok ? markAt(part.tempos, start.value.from.at) : undefined
  return { sure: mark?.printed && mark.from !== 'sound' ? 'printed' : 'guess' }
}

const LONGEST_TITLE = 120

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
  try {
    const score = readScore(bytes, name)
    if (!score.ok) return score
    const part = choosePart(score.value, w.part)
    if (!part.ok) return part
    const made = passagesOf(part.value, w, newId)
    if (!made.ok) return made
    const title = printable(score.value.title).slice(0, LONGEST_TITLE).trim() || name
    const checked = checkPiece({ v: 1, id: 'none', title, passages: made.value.passages })
    if (!checked.ok) return checked
    const said = playedRemarks(
      part.value,
      w.asPlayed === true,
      made.value.stretches.map((s, i) => ({ ...s, name: made.value.passages[i]?.name ?? '' })),
    )
    return ok({
      title: checked.value.title,
      part: part.value.name,
      passages: checked.value.passages,
      ...sureness(part.value, w),
      remarks: [...score.value.warnings, ...part.value.warnings, ...said],
    })
  } catch (error) {
    if (!(error instanceof RangeError)) throw error
    return problem(name, 'lengths too fine to add up', 'measures whose lengths add up exactly')
  }
}
