import { easier } from '../ladder/direction.ts'
import { FIND_FROM, markBelow, shareOf } from '../ladder/start.ts'
import { frac, toNumber } from '../music/fraction.ts'
import { compareTempo, ratioOf, scaleTempo, type Tempo } from '../music/tempo.ts'
import { SHARES } from '../visit/takes.ts'
import { halfUp, sum } from './halves.ts'
import type { PlannedTake, Unplaced } from './item.ts'
import { isAway } from './slots.ts'
import { daysLeft, finished, gapOf, keyOfWhole, type Whole, type Work, wayOf } from './work.ts'

/** What the last days before a date ask for, and the days after it. */

/** Whole and half minutes for so many seconds of music. */
export const minutesFor = (seconds: number): number => Math.max(0.5, halfUp(seconds / 60))

/** At most so many spots in one go. */
const MOST_TAKES = 5
const SLOW_TIMES = 2
/** On the day itself at these shares of the tempo that was reached. */
const ENTRIES = [0.85, 0.9] as const

/** Whole beats a minute are easier to set; very slow tempos keep their decimals. */
const whole = (t: Tempo): Tempo =>
  toNumber(t.bpm) < 20 ? t : { unit: t.unit, bpm: frac(Math.round(toNumber(t.bpm))) }

/** What was reached, the goal at most. */
const reached = (w: Work): Tempo | null => w.ceiling && easier(w.ceiling, w.goal, wayOf(w))

/** A slow goal is not made easier by playing it slower. */
const slowTempo = (w: Work): Tempo | null => {
  const tempo = reached(w)
  return tempo && (w.down ? tempo : markBelow(tempo, SHARES.slow))
}

/** A passage from its first note to its last, with all that is practiced of it. */
type Passage = Whole & { readonly parts: readonly Work[] }

const groups = (
  works: readonly Work[],
  by: (w: Work) => string,
): readonly (readonly [string, readonly Work[]])[] => {
  const out = new Map<string, Work[]>()
  for (const w of works) out.set(by(w), [...(out.get(by(w)) ?? []), w])
  return [...out]
}
const byPiece = (works: readonly Work[]) => groups(works, w => w.piece)

/** The passages that these belong to, each once and whole. */
const passagesOf = (works: readonly Work[]): readonly Passage[] =>
  groups(works, keyOfWhole).map(([, parts]) => {
    const w = parts[0] as Work
    const alone = {
      key: w.key,
      label: w.label,
      goal: w.goal,
      top: w.top ?? null,
      seconds: w.secondsPerRepetition,
    }
    return { ...(w.whole ?? alone), parts }
  })

/** What a part allows for the whole, in the whole's own tempo; what has no ceiling counts from where it begins. */
const allows = (p: Passage, w: Work): Tempo => {
  const from = easier(w.ceiling ?? w.next ?? markBelow(w.goal, FIND_FROM), w.goal, wayOf(w))
  return w.key === p.key ? from : scaleTempo(from, ratioOf(p.goal, w.goal))
}

/** The whole passage at a tempo that has a chance: the lowest ceiling inside it, the goal at most; `share` of that. */
const wholeAt = (p: Passage, share = 1): PlannedTake => {
  const inside = p.parts.filter(w => w.key !== p.key)
  const down = p.parts.some(w => w.down)
  const lowest = (inside.length > 0 ? inside : p.parts)
    .map(w => allows(p, w))
    .reduce((a, b) => easier(a, b, down ? 'down' : 'up'))
  const asIs = down || (share === 1 && (inside.length === 0 || compareTempo(lowest, p.goal) >= 0))
  return { key: p.key, label: p.label, tempo: asIs ? lowest : markBelow(lowest, share) }
}

const seconds = (all: readonly Passage[]): number => sum(all.map(p => p.seconds))

/** Once from the entrance. */
const run = (
  all: readonly Passage[],
  piece: string,
  cold: boolean,
  takes: readonly PlannedTake[] = all.map(p => wholeAt(p)),
): Unplaced => ({
  task: { kind: 'run', piece, cold, takes },
  minutes: minutesFor(seconds(all)),
})

/** Once through whole passages, and where a range was reached to its upper end once there. */
const runs = (piece: string, works: readonly Work[], cold: boolean): readonly Unplaced[] => {
  const all = passagesOf(works)
  const upper = all.filter(p => p.top !== null && p.parts.every(finished))
  const takes = upper.map(p => ({ key: p.key, label: p.label, tempo: p.top }))
  return [run(all, piece, cold), ...(upper.length > 0 ? [run(upper, piece, false, takes)] : [])]
}

/** Last time through: the passages that were played today, whole, at the mark below 90 % of what was reached, in so many minutes. */
export const wholesToPlay = (played: readonly Work[], date: string, minutes: number): readonly Unplaced[] => {
  // The last evening has a run of its own.
  const all = passagesOf([...new Set(played)].filter(w => daysLeft(w, date) > 1))
  const fit = all.filter(
    (p, i) =>
      i < MOST_TAKES && minutesFor(seconds(all.slice(0, i + 1))) <= minutes && p.parts.some(w => w.ceiling),
  )
  return fit.length === 0
    ? []
    : [
        {
          task: { kind: 'through', takes: fit.map(p => wholeAt(p, SHARES.through)) },
          minutes: minutesFor(seconds(fit)),
        },
      ]
}

/** The day before the last evening: once from the entrance, cold, as on the day. */
export const mockRuns = (works: readonly Work[], date: string): readonly Unplaced[] =>
  byPiece(works.filter(w => daysLeft(w, date) === 2)).flatMap(([piece, all]) => runs(piece, all, true))

/** The last evening ends with one run; a light one has nothing else but two slow repetitions at the worst spot. */
export const lastEvening = (works: readonly Work[], date: string, light: boolean): readonly Unplaced[] =>
  byPiece(works.filter(w => daysLeft(w, date) === 1)).flatMap(([piece, all]) => {
    const worst = [...all].sort((a, b) => gapOf(b) - gapOf(a))[0] as Work
    const slow: Unplaced = {
      task: {
        kind: 'slow',
        take: { key: worst.key, label: worst.label, tempo: slowTempo(worst) },
        times: SLOW_TIMES,
      },
      minutes: minutesFor((SLOW_TIMES * worst.secondsPerRepetition) / SHARES.slow),
    }
    return [...runs(piece, all, false), ...(light ? [slow] : [])]
  })

/**
 * What is too long for a ladder is played through each third day, until it is cut, where its minutes are `most` at most; a
 * whole part as a score has it only once the player began with it.
 */
export const longRuns = (works: readonly Work[], date: string, most: number): readonly Unplaced[] =>
  works
    .filter(w => w.long && !w.asRead && daysLeft(w, date) > 2 && isAway(w))
    .map(w => run(passagesOf([w]), w.piece, false))
    .filter(b => b.minutes <= most)

/** The day itself: entries and exposed spots, what matters most first. */
export const dayItself = (works: readonly Work[], date: string): readonly Unplaced[] =>
  byPiece(works.filter(w => daysLeft(w, date) === 0)).map(([piece, all]) => {
    const spots = [...all].sort((a, b) => b.priority - a.priority || gapOf(b) - gapOf(a)).slice(0, MOST_TAKES)
    const between = (w: Work, share: number): Tempo => whole(shareOf(reached(w) ?? w.next ?? w.goal, share))
    return {
      task: {
        kind: 'entries' as const,
        piece,
        spots: spots.map(w => ({
          key: w.key,
          label: w.label,
          from: between(w, ENTRIES[0]),
          to: between(w, ENTRIES[1]),
        })),
      },
      minutes: minutesFor(sum(spots.map(w => w.secondsPerRepetition))),
    }
  })

/** A piece whose date is past: how was it? */
export type Question = { readonly piece: string; readonly readyBy: string; readonly keys: readonly string[] }

export const afterDate = (works: readonly Work[], date: string): readonly Question[] =>
  byPiece(works.filter(w => daysLeft(w, date) < 0)).map(([piece, all]) => ({
    piece,
    readyBy: all
      .map(w => w.readyBy)
      .sort()
      .at(-1) as string,
    keys: all.map(w => w.key),
  }))
