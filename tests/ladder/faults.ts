import type { Event } from '../../src/ladder/event.ts'
import { ceilings, fold, type Inner, inOrder, STEPS, type Steps } from '../../src/ladder/fold.ts'
import type { Rules } from '../../src/ladder/rules.ts'
import { compareTempo, sameTempo, type Tempo } from '../../src/music/tempo.ts'
import { type Ladder, numbered, tempoNow } from './live.ts'

/** A ladder that is wrong in one thing, made of the true one. */
export type Fault = readonly [says: string, ladder: Ladder]

type Verdict = Event & { kind: 'verdict' }
type Visit = readonly Event[]

/** Some of its steps go wrong. */
const stepping = (wrong: Partial<Steps>): Ladder => {
  const steps = { ...STEPS, ...wrong }
  return { fold: visit => fold(visit, steps), ceilings: visits => ceilings(visits, steps) }
}

/** After a verdict that counts it goes on from somewhere else. */
const after = (wrong: (now: Inner, before: Inner, e: Verdict) => Inner): Partial<Steps> => ({
  judged: (s, e) => {
    const now = STEPS.judged(s, e)
    return now === s ? s : wrong(now, s, e)
  },
})
const judging = (wrong: (now: Inner, before: Inner, e: Verdict) => Inner): Ladder => stepping(after(wrong))

/** Verdicts are judged by other rules than the visit was opened with. */
const ruledBy = (wrong: (rules: Rules, s: Inner) => Rules): Partial<Steps> => ({
  judged: (s, e) => {
    const ruled = { ...s, rules: wrong(s.rules, s) }
    const now = STEPS.judged(ruled, e)
    return now === ruled ? s : { ...now, rules: s.rules }
  },
})
const ruling = (wrong: (rules: Rules, s: Inner) => Rules): Ladder => stepping(ruledBy(wrong))

/** It takes what happened for something else. */
const reading = (wrong: (visit: Visit) => Visit): Ladder => ({
  fold: visit => fold(wrong(visit)),
  ceilings: visits => ceilings(visits.map(wrong)),
})

const isLast = (s: Inner): boolean => s.at === s.rungs.length - 1
const isGoal = (s: Inner): boolean => isLast(s) && !s.rules.capped
const within = (s: Inner, at: number): number => Math.max(0, Math.min(s.rungs.length - 1, at))
/** A rung was done: only an arrival leaves no row after a clean one. */
const completed = (now: Inner, before: Inner, e: Verdict): boolean =>
  e.clean && !before.finding && now.row === 0
const empty = { row: 0, slips: 0, total: 0, recent: [] } as const

const isRepetition = (e: Event): e is Event & { kind: 'verdict' | 'unjudged' } =>
  e.kind === 'verdict' || e.kind === 'unjudged'
/** The line stands there and says nothing. */
const mute = (e: Event): Event => ({ ...e, kind: 'takeBack', of: 'nobody' }) as Event
const takenBack = (visit: Visit): ReadonlySet<string> =>
  new Set(visit.flatMap(e => (e.kind === 'takeBack' ? [e.of] : [])))

/** The same lines, numbered anew in the order of their times. */
const byTheClock = (visit: Visit): Visit => {
  const numbers = visit.map(e => e.n).sort((a, b) => a - b)
  return [...visit]
    .sort((a, b) => (a.time < b.time ? -1 : 1))
    .map((e, i) => ({ ...e, n: numbers[i] as number }))
}

/** Each line that stands there again has a name of its own. */
const everyLineApart = (visit: Visit): Visit => {
  const seen = new Set<string>()
  return visit.map((e, i) => {
    if (seen.has(e.id)) return { ...e, id: `${e.id} again ${i}` }
    seen.add(e.id)
    return e
  })
}

/** Only the first line on a repetition is read, also where it was taken back. */
const firstWordOnly = (visit: Visit): Visit => {
  const heard = new Set<number>()
  return inOrder(visit).map(e => {
    if (!isRepetition(e)) return e
    const again = heard.has(e.rep)
    heard.add(e.rep)
    return again ? mute(e) : e
  })
}

const keyOf = (visit: Visit): string => visit.flatMap(e => (e.kind === 'visit' ? [e.key] : []))[0] ?? ''

export const FAULTS: readonly Fault[] = [
  [
    'a clean verdict counts on a repetition that was cut',
    stepping({ judged: (s, e) => STEPS.judged(s, e.clean ? { ...e, whole: true } : e) }),
  ],
  [
    'the ceiling is the next rung',
    judging((now, s, e) =>
      completed(now, s, e) && now.ceiling === tempoNow(s)
        ? { ...now, ceiling: s.rungs[within(s, s.at + 1)] as Tempo }
        : now,
    ),
  ],
  [
    'the ceiling falls to the rung just done',
    judging((now, s, e) => (completed(now, s, e) ? { ...now, ceiling: tempoNow(s) } : now)),
  ],
  ['always down two', judging((now, s) => (now.at < s.at ? { ...now, at: within(s, s.at - 2) } : now))],
  [
    'always down one',
    judging((now, s) => (now.drops > s.drops && s.at > 0 ? { ...now, at: s.at - 1 } : now)),
  ],
  [
    'a clean one does not end the sinking',
    judging((now, s) => ({ ...now, sinking: now.sinking || s.sinking })),
  ],
  [
    'a clean one does not end the slips',
    judging((now, s, e) => (e.clean && now.row > 0 ? { ...now, slips: s.slips } : now)),
  ],
  [
    'a slip does not empty the row',
    judging((now, s, e) => (!e.clean && now.at === s.at ? { ...now, row: s.row } : now)),
  ],
  ['one slip more is allowed', ruling(r => ({ ...r, slips: r.slips && r.slips + 1 }))],
  ['"never down" means at once', ruling(r => ({ ...r, slips: r.slips || 1 }))],
  [
    'a fall at the lowest rung clears what was counted',
    judging((now, s) => (now.drops > s.drops && s.at === 0 ? { ...now, ...empty } : now)),
  ],
  [
    'a fall at the lowest rung is no drop',
    judging((now, s) => (now.at === s.at ? { ...now, drops: s.drops } : now)),
  ],
  [
    'the top rung by the rule of the others',
    stepping({
      judged: (s, e) => {
        const now = (ruledBy(r => ({ ...r, capped: true })).judged ?? STEPS.judged)(s, e)
        return now !== s && completed(now, s, e) && isGoal(s) ? { ...now, goal: true } : now
      },
    }),
  ],
  ['the goal a repetition early', ruling(r => ({ ...r, top: r.top - 1 }))],
  ['the goal is where the ladder ends', ruling(({ capped: _, ...r }) => r)],
  [
    'the goal is the rung before the last',
    judging((now, s, e) =>
      completed(now, s, e) && s.at >= s.rungs.length - 2 ? { ...now, goal: true } : now,
    ),
  ],
  [
    'after the goal the row goes on',
    judging((now, s, e) => (completed(now, s, e) && isGoal(s) ? { ...now, row: s.row + 1 } : now)),
  ],
  [
    'four of five only when five were played',
    ruling((r, s) =>
      r.up.kind === 'most' && s.recent.length + 1 < (r.up.of ?? 0) ? { ...r, up: { ...r.up, n: 99 } } : r,
    ),
  ],
  ['four of all instead of the last five', ruling(r => ({ ...r, up: { ...r.up, of: 20 } }))],
  ['in all is in a row', ruling(r => (r.up.kind === 'total' ? { ...r, up: { kind: 'row', n: r.up.n } } : r))],
  [
    'arriving keeps what was counted in all',
    stepping({
      ...after((now, s, e) =>
        now.recent.length === 0 ? { ...now, total: s.total + (e.clean && !s.finding ? 1 : 0) } : now,
      ),
      move: (s, to) => ({ ...STEPS.move(s, to), total: s.total }),
    }),
  ],
  [
    'arriving keeps the last five',
    stepping({
      ...after((now, s, e) =>
        now.recent.length === 0 && !s.finding ? { ...now, recent: [...s.recent, e.clean] } : now,
      ),
      move: (s, to) => ({ ...STEPS.move(s, to), recent: s.recent }),
    }),
  ],
  ['taking back does nothing', reading(visit => visit.map(e => (e.kind === 'takeBack' ? mute(e) : e)))],
  [
    'taking back reaches moves too',
    reading(visit => visit.map(e => (e.kind === 'move' && takenBack(visit).has(e.id) ? mute(e) : e))),
  ],
  [
    'a second verdict counts',
    reading(visit => visit.map(e => (isRepetition(e) ? { ...e, rep: 1000 + e.n } : e))),
  ],
  ['a repetition taken back cannot be judged again', reading(firstWordOnly)],
  [
    'a verdict at another tempo counts',
    stepping({ judged: (s, e) => STEPS.judged(s, { ...e, tempo: tempoNow(s) }) }),
  ],
  [
    'unanswered is a slip',
    stepping({
      silent: s => {
        const slip = { kind: 'verdict', rep: 0, tempo: tempoNow(s), whole: true, clean: false } as const
        return STEPS.judged(s, numbered(slip, 's', 0, 's-1') as Verdict)
      },
    }),
  ],
  ['unanswered leaves the row', stepping({ silent: s => s })],
  [
    'interrupted empties the row',
    reading(visit => visit.map(e => (e.kind === 'unjudged' ? { ...e, why: 'silent' } : e))),
  ],
  ['a lost line is passed over', stepping({ lost: s => s })],
  [
    'a lost line leaves what was counted in all',
    stepping({ lost: s => ({ ...STEPS.lost(s), total: s.total }) }),
  ],
  ['a lost line leaves the last five', stepping({ lost: s => ({ ...STEPS.lost(s), recent: s.recent }) })],
  ['ordered by the clock', reading(visit => byTheClock(inOrder(visit)))],
  ['a repeated line counts twice', reading(everyLineApart)],
  [
    'a tempo by hand keeps the row',
    stepping({
      move: (s, to) => {
        const now = STEPS.move(s, to)
        return now.rungs === s.rungs ? { ...s, at: now.at } : now
      },
    }),
  ],
  [
    'a tempo by hand to the same rung empties the row',
    stepping({ move: (s, to) => (sameTempo(to, tempoNow(s)) ? { ...s, ...empty } : STEPS.move(s, to)) }),
  ],
  [
    'a tempo by hand above the top',
    stepping({
      move: (s, to) =>
        compareTempo(to, s.rungs.at(-1) as Tempo) > 0
          ? { ...s, ...empty, rungs: [...s.rungs, to], at: s.rungs.length }
          : STEPS.move(s, to),
    }),
  ],
  [
    'a new tempo by hand is no rung',
    stepping({
      move: (s, to) => {
        const now = STEPS.move(s, to)
        return now.rungs === s.rungs ? now : s
      },
    }),
  ],
  [
    'finding goes up two',
    judging((now, s, e) =>
      s.finding && now.finding && e.clean ? { ...now, at: Math.min(now.at, s.at + 2) } : now,
    ),
  ],
  [
    'finding goes down one',
    judging((now, s, e) => (s.finding && !e.clean ? { ...now, at: within(s, s.at - 1) } : now)),
  ],
  [
    'finding ends at the first clean one',
    judging((now, s, e) => (s.finding && e.clean ? { ...s, finding: false } : now)),
  ],
  [
    'finding never ends at the goal',
    judging((now, s) => (s.finding && !s.slipped ? { ...now, finding: true } : now)),
  ],
  [
    'ceilings are reached while finding',
    stepping({
      judged: (s, e) =>
        s.finding && e.clean
          ? { ...STEPS.judged({ ...s, finding: false }, e), finding: true }
          : STEPS.judged(s, e),
    }),
  ],
  [
    'of many visits the last gives the ceiling',
    { fold, ceilings: visits => new Map(visits.flatMap(visit => [...ceilings([visit])])) },
  ],
  [
    'all visits are one stream',
    {
      fold,
      ceilings: visits => {
        const reached = fold(visits.flat())?.ceiling
        return new Map(reached ? visits.map(visit => [keyOf(visit), reached]) : [])
      },
    },
  ],
]
