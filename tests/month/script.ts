import type { Known } from './player.ts'
import type { Zone } from './time.ts'

/** The script of the month: what happens on which day. Everything in it is invented. */

/** The day that he breaks off. */
export const PAIN = '2031-03-21'
const FIRST = '2031-03-10'
const LENGTH = 30

/** Summer time begins in Europe on 30 March at 1:00 UTC; then a week in New York. Minutes east of UTC. */
export const ZONES: readonly Zone[] = [
  { from: '2031-01-01T00:00:00Z', offset: 60 },
  { from: '2031-03-30T01:00:00Z', offset: 120 },
  { from: '2031-04-01T10:00:00Z', offset: -240 },
  { from: '2031-04-04T20:00:00Z', offset: 120 },
]

export const OVERTURE = 'Weir Street Overture'
export const WALTZ = 'Lantern Waltz'
export const DATES = { overture: '2031-03-26', waltz: '2031-04-06', again: '2031-04-12' } as const

export const overture = (): Known => ({
  title: OVERTURE,
  passage: 'run at the weir',
  measure: 4,
  beats: { '1': 8, '2': 8, '3': 8, '4': 8 },
  goal: 138,
})
export const waltz = (): Known => ({
  title: WALTZ,
  passage: 'first dance',
  measure: 3,
  beats: { '1': 12, '2': 12, '3': 12, '4': 12 },
  goal: 168,
})

/** At a local time, so many minutes, at one of the two machines. */
export type Visit = { readonly at: string; readonly minutes: number; readonly on: 'desk' | 'lap' }

export type What =
  | 'overture'
  | 'killed'
  | 'waltz'
  | 'keep'
  | 'pain'
  | 'rehearsal'
  | 'anew'
  | 'next date'
  | 'sync'
  | 'half a sync'

export type ScriptDay = {
  readonly day: string
  /** Before the first visit. */
  readonly first: readonly What[]
  readonly visits: readonly Visit[]
  /** In the evening. */
  readonly last: readonly What[]
}

const dayAfter = (day: string, n: number): string =>
  new Date(Date.parse(day) + n * 86_400_000).toISOString().slice(0, 10)

const desk = (at: string, minutes: number): Visit => ({ at, minutes, on: 'desk' })
const lap = (at: string, minutes: number): Visit => ({ at, minutes, on: 'lap' })

/** By days from the first one; a day that is not here is as any other. */
const OTHER: Readonly<Record<number, Partial<Omit<ScriptDay, 'day'>>>> = {
  0: { first: ['overture'] },
  3: { last: ['killed'] },
  4: { visits: [] },
  5: { first: ['waltz'], visits: [desk('10:00', 30), desk('17:00', 20)] },
  6: { visits: [desk('11:00', 30), desk('18:30', 20)] },
  8: { first: ['sync'], visits: [lap('18:00', 30)] },
  9: {
    first: ['sync', 'keep'],
    visits: [desk('08:00', 20), lap('20:00', 25)],
    last: ['half a sync', 'sync'],
  },
  10: { visits: [] },
  11: { last: ['pain'] },
  12: { last: ['rehearsal'] },
  14: { first: ['anew'] },
  18: { visits: [] },
  // In the night in which the clocks go forward, while he plays.
  19: { visits: [desk('17:00', 25), desk('25:45', 20)] },
  20: { first: ['next date'], visits: [desk('15:00', 30)] },
  22: { first: ['sync'], visits: [lap('21:00', 25)] },
  23: { visits: [lap('07:30', 20), lap('22:30', 20)] },
  24: { visits: [lap('18:00', 25)] },
  25: { visits: [] },
  26: { first: ['sync'] },
  29: { last: ['sync'] },
}

export const MONTH: readonly ScriptDay[] = Array.from({ length: LENGTH }, (_, i) => ({
  day: dayAfter(FIRST, i),
  first: [],
  visits: [desk('18:00', 30)],
  last: [],
  ...OTHER[i],
}))
