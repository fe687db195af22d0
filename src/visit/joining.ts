import { chained, JOIN_READY, pairs, stretchOf } from '../ladder/chain.ts'
import type { Histories } from '../ladder/history.ts'
import { sectionKey } from '../ladder/key.ts'
import { logOf } from '../ladder/log.ts'
import type { Climb } from '../ladder/rules.ts'
import { joinsOf } from '../ladder/standing.ts'
import { daysBetween } from '../music/day.ts'
import { measures } from '../music/form.ts'
import { compare, less } from '../music/fraction.ts'
import { attempt, type Result } from '../music/result.ts'
import { type Tempo, tempoRatio } from '../music/tempo.ts'
import { ladderOf, musicOf, sectionRuns, spanOf } from '../repertoire/ladder-of.ts'
import type { Passage, Piece, Section } from '../repertoire/piece.ts'
import type { Target } from './subject.ts'
import { passageTarget, type RhythmNamed } from './target.ts'

/** A section, or several that are played as one. */
export type Joinable = {
  readonly key: string
  readonly sections: readonly Section[]
  /** "1+2" */
  readonly name: string
  readonly goal: Tempo
  readonly ceiling: Tempo | null
}

/** Two neighbors that are ready to be joined. */
export type Offer = {
  readonly piece: Piece
  readonly passage: Passage
  readonly of: readonly [Joinable, Joinable]
}

/** The sections rest for so many days after the join was last played. */
const RESTS = 7

const joinName = (sections: readonly Section[]): string => sections.map(s => s.name).join('+')

const blockOf = (all: Histories, p: Passage, sections: readonly Section[]): Joinable => {
  const { key, goal } = ladderOf(p, sections)
  return { key, sections, name: joinName(sections), goal, ceiling: all.of(key)?.ceiling ?? null }
}

/** At 85 % of the goal. */
const isReadyToJoin = (b: Pick<Joinable, 'ceiling' | 'goal'>): boolean =>
  b.ceiling !== null && tempoRatio(b.ceiling, b.goal) >= JOIN_READY

/**
 * Whether a join stands for its sections: it has a ceiling, was played within a week, and a rung of it was completed on
 * the last day of practice (today only where that is so; the day is not over).
 */
const holds = (all: Histories, key: string, today: string): boolean => {
  const log = logOf(all.of(key)?.visits ?? [])
  const judged = log.filter(d => d.day !== today || d.best !== null)
  const last = log.at(-1)
  return last !== undefined && judged.at(-1)?.best != null && daysBetween(last.day, today) <= RESTS
}

/** The sections of a passage in runs of neighbors, each run as what it is practiced in today: joins, and single sections. */
export const blocksOf = (all: Histories, p: Passage, today: string): readonly (readonly Joinable[])[] => {
  return sectionRuns(p).map(sections => {
    const ids = sections.map(s => s.id)
    const every = { from: 0, to: ids.length }
    const played = joinsOf(all).flatMap(join => stretchOf(join, ids) ?? [])
    const asWhole = sections.length > 1 && spanOf(p, sections).whole && !!all.of(sectionKey(p.id))?.ceiling
    const ready = sections.map(s => isReadyToJoin(blockOf(all, p, [s])))
    const joined = [...played, ...(asWhole ? [every] : [])].filter(
      ({ from, to }) =>
        to - from > 1 &&
        ready.slice(from, to).every(Boolean) &&
        holds(all, ladderOf(p, sections.slice(from, to)).key, today),
    )
    return chained(ids.length, joined).map(({ from, to }) => blockOf(all, p, sections.slice(from, to)))
  })
}

/** Neighbors that are ready to be joined, in the order of the music. */
export const offersOf = (all: Histories, piece: Piece, passage: Passage, today: string): readonly Offer[] =>
  blocksOf(all, passage, today)
    .flatMap(blocks => pairs(blocks, isReadyToJoin))
    .map(of => ({ piece, passage, of }))

/** The same with what a visit that is not over has reached. */
export const withReached = (all: Histories, key: string, reached: Tempo | null): Histories => ({
  ...all,
  of: k => {
    const h = all.of(k)
    if (k !== key || !reached || (h?.ceiling && tempoRatio(h.ceiling, reached) >= 1)) return h
    return { last: null, visits: [], ...h, ceiling: reached }
  },
})

const sectionsOf = (o: Offer): readonly Section[] => o.of.flatMap(b => b.sections)

/** The pair to which something that is practiced belongs, as long as it is not their join itself; of a whole passage the first. */
export const offerFor = (all: Histories, t: Target, today: string): Offer | null => {
  const { origin } = t
  if (!origin || t.rhythm !== null || t.direction === 'down') return null
  const mine = new Set(origin.sections.map(s => s.id))
  return (
    offersOf(all, origin.piece, origin.passage, today).find(
      o => mine.size === 0 || (offerKey(o) !== t.key && o.of.some(b => b.sections.some(x => mine.has(x.id)))),
    ) ?? null
  )
}

/** By what both are known once they are played as one. */
export const offerKey = (o: Offer): string => ladderOf(o.passage, sectionsOf(o)).key

/** "1+2 and 3 are ready to be joined" */
export const offerText = (o: Offer): string => `${o.of[0].name} and ${o.of[1].name} are ready to be joined`

/** What `gradino practice` takes: "Weir Street Overture/run at the weir/1+2". */
export const offerName = (o: Offer): string => `${o.piece.title}/${o.passage.name}/${joinName(sectionsOf(o))}`

/** The same with what leads there on the command line, where no key does. */
export const offerLine = (o: Offer, typed: boolean): string =>
  typed ? `${offerText(o)}: gradino practice "${offerName(o)}"` : offerText(o)

/** By how much the seam reaches to both sides: a measure, where both sides are longer than one, else a beat. */
const seamBy = (o: Offer): 'beat' | 'measure' => {
  const whole = musicOf(o.passage)
  const long = o.of.every(b => {
    const { from, to } = spanOf(o.passage, b.sections)
    return measures(whole.form).filter(m => compare(m.from, from) >= 0 && less(m.from, to)).length > 1
  })
  return long ? 'measure' : 'beat'
}

/** The two as one, and the stretch where they meet. */
export const joiningOf = (
  o: Offer,
  rhythmNamed: RhythmNamed,
  usual: Climb = {},
): Result<{ readonly seam: Target; readonly join: Target }> =>
  attempt(need => {
    const stretch = { piece: o.piece, passage: o.passage, sections: sectionsOf(o) }
    return {
      seam: need(passageTarget({ ...stretch, seam: seamBy(o) }, { usual }, rhythmNamed)),
      join: need(passageTarget(stretch, { usual }, rhythmNamed)),
    }
  })
