import { markBelow, shareOf } from '../ladder/start.ts'
import { frac, toNumber } from '../music/fraction.ts'
import { slower, type Tempo } from '../music/tempo.ts'
import type { Block, Take } from './item.ts'
import { daysLeft, gapOf, type Work } from './work.ts'

/** What the last days before a date ask for, and the days after it. */

const halfUp = (seconds: number): number => Math.max(0.5, Math.ceil(seconds / 30 - 1e-9) / 2)

/** At most so many single takes or spots in one go. */
export const MOST_TAKES = 5
const SLOW = 0.7
const SLOW_TIMES = 2
/** On the day itself at these shares of the tempo that was reached. */
const ENTRIES = [0.85, 0.9] as const

/** Whole beats a minute are easier to set; very slow tempos keep their decimals. */
const whole = (t: Tempo): Tempo =>
  toNumber(t.bpm) < 20 ? t : { unit: t.unit, bpm: frac(Math.round(toNumber(t.bpm))) }

/** What was reached, the goal at most. */
const reached = (w: Work): Tempo | null => w.ceiling && slower(w.ceiling, w.goal)

export const takeAt = (w: Work, share: number): Take => {
  const tempo = reached(w)
  return { key: w.key, label: w.label, tempo: tempo && (share === 1 ? tempo : markBelow(tempo, share)) }
}

const byPiece = (works: readonly Work[]): readonly (readonly Work[])[] => {
  const out = new Map<string, Work[]>()
  for (const w of works) out.set(w.piece, [...(out.get(w.piece) ?? []), w])
  return [...out.values()]
}

/** Once from the entry. */
const run = (works: readonly Work[], cold: boolean, tempo: (w: Work) => Tempo | null): Block => ({
  task: {
    k: 'run',
    piece: works[0]?.piece ?? '',
    cold,
    takes: works.map(w => ({ key: w.key, label: w.label, tempo: tempo(w) })),
  },
  minutes: halfUp(works.reduce((sum, w) => sum + w.secondsPerRepetition, 0)),
})

/** The same at the upper end, where the goal is a range. */
const upperRun = (works: readonly Work[]): readonly Block[] => {
  const ranges = works.filter(w => w.top)
  return ranges.length > 0 ? [run(ranges, false, w => w.top ?? w.goal)] : []
}

/** The day before the last evening: once through, cold, at the tempo that is expected; of a range at both its ends. */
export const mockRuns = (works: readonly Work[], date: string): readonly Block[] =>
  byPiece(works.filter(w => daysLeft(w, date) === 2)).flatMap(all => [
    run(all, true, w => w.goal),
    ...upperRun(all),
  ])

/** The last evening: one run from the entry (of a range that was reached at both its ends), two slow repetitions at its worst spot, stop. */
export const lastEvening = (works: readonly Work[], date: string): readonly Block[] =>
  byPiece(works.filter(w => daysLeft(w, date) === 1)).flatMap(all => {
    const worst = [...all].sort((a, b) => gapOf(b) - gapOf(a))[0] as Work
    return [
      run(all, false, reached),
      ...upperRun(all.filter(w => gapOf(w) === 0)),
      {
        task: { k: 'slow' as const, take: takeAt(worst, SLOW), times: SLOW_TIMES },
        minutes: halfUp((SLOW_TIMES * worst.secondsPerRepetition) / SLOW),
      },
    ]
  })

/** The day itself: entries and exposed spots, what matters most first. */
export const dayItself = (works: readonly Work[], date: string): readonly Block[] =>
  byPiece(works.filter(w => daysLeft(w, date) === 0)).map(all => {
    const spots = [...all].sort((a, b) => b.priority - a.priority || gapOf(b) - gapOf(a)).slice(0, MOST_TAKES)
    const between = (w: Work, share: number): Tempo => whole(shareOf(reached(w) ?? w.next ?? w.goal, share))
    return {
      task: {
        k: 'entries' as const,
        piece: all[0]?.piece ?? '',
        spots: spots.map(w => ({
          key: w.key,
          label: w.label,
          from: between(w, ENTRIES[0]),
          to: between(w, ENTRIES[1]),
        })),
      },
      minutes: halfUp(spots.reduce((sum, w) => sum + w.secondsPerRepetition, 0)),
    }
  })

/** A piece whose date is past: how was it? */
export type Question = { readonly piece: string; readonly readyBy: string; readonly keys: readonly string[] }

export const afterDate = (works: readonly Work[], date: string): readonly Question[] =>
  byPiece(works.filter(w => (daysLeft(w, date) ?? 0) < 0)).map(all => ({
    piece: all[0]?.piece ?? '',
    readyBy:
      all
        .map(w => w.readyBy ?? '')
        .sort()
        .at(-1) ?? '',
    keys: all.map(w => w.key),
  }))
