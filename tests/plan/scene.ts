import { tempo } from '../../src/music/tempo.ts'
import type { Seam, Work } from '../../src/plan/work.ts'

export const TODAY = '2031-03-12'
export const LATER = '2031-03-18'

/** A section of the Weir Street Overture, six practice days before its date, four bars of quick notes. */
export const work = (key: string, ceiling: number | null, goal: number, other: Partial<Work> = {}): Work => ({
  key,
  label: `section ${key}`,
  piece: 'Weir Street Overture',
  goal: tempo(goal),
  ceiling: ceiling === null ? null : tempo(ceiling),
  next: ceiling === null ? null : tempo(Math.round(ceiling * 0.97)),
  oneAbove: ceiling === null || ceiling >= goal ? null : tempo(Math.min(goal, ceiling + 4)),
  readyBy: LATER,
  priority: 1,
  minutesSoFar: 0,
  lnGainSoFar: 0,
  lastPlayedDaysAgo: 1,
  secondsPerRepetition: 14,
  ...other,
})

export const seam = (a: string, b: string, other: Partial<Seam> = {}): Seam => ({
  key: `join ${a}+${b}`,
  label: `${a} into ${b}`,
  of: [a, b],
  next: tempo(90),
  lastPlayedDaysAgo: null,
  ...other,
})

/** Six sections of one piece, two days in: the example that is worked by hand. */
export const SIX: readonly Work[] = [
  work('A', 84, 120, { minutesSoFar: 20, lnGainSoFar: 0.1 }),
  work('B', 100, 120, { minutesSoFar: 12, lnGainSoFar: 0.12 }),
  work('C', 112, 120, { minutesSoFar: 10, lnGainSoFar: 0.06 }),
  work('D', 66, 96, { minutesSoFar: 20, lnGainSoFar: 0.05 }),
  work('E', 120, 120, { minutesSoFar: 15, lnGainSoFar: 0.2 }),
  work('F', 90, 132),
]
