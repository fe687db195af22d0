import { deepStrictEqual, ok } from 'node:assert'
import fc from 'fast-check'
import type { Body, Event, LadderState } from '../../src/ladder/event.ts'
import type { Tempo } from '../../src/music/tempo.ts'
import { anyMove, anyRepetition, anyVisit, eventsOf, hostile, openings, scripted } from './generators.ts'
import { type Action, at, bpm, type Ladder, numbered, play, tempoNow } from './live.ts'
import { recount, settled } from './recount.ts'

/** A law of the ladder, asked of any fold: the house's own, or one with a planted fault. */
export type Law = { readonly says: string; readonly of: (ladder: Ladder) => fc.IProperty<unknown> }

const folded = (ladder: Ladder, events: readonly Event[]): LadderState => ladder.fold(events) as LadderState
const reached = (s: LadderState | null): number => (s?.ceiling ? bpm(s.ceiling) : 0)

/** Puts a line into a visit; later numbers move up, lost lines stay lost. */
const insert = (events: readonly Event[], i: number, body: Body, id: string): readonly Event[] => {
  const first = events[0] as Event
  const n = events[i]?.n ?? (events.at(-1) as Event).n + 1
  const line = { ...numbered(body, first.session, n, first.id), id }
  return [...events.slice(0, i), line, ...events.slice(i).map(e => ({ ...e, n: e.n + 1 }))]
}
const append = (events: readonly Event[], body: Body, id: string) => insert(events, events.length, body, id)

const isRepetition = (e: Event): e is Event & { kind: 'verdict' | 'unjudged' } =>
  e.kind === 'verdict' || e.kind === 'unjudged'

/** Verdicts that stand: not taken back, and the first word on their repetition. */
const judgedAt = (events: readonly Event[]): readonly number[] => {
  const tale = settled(events)
  return tale.flatMap((e, i) => {
    const before = tale.slice(0, i).some(o => isRepetition(o) && isRepetition(e) && o.rep === e.rep)
    return e.kind === 'verdict' && !before ? [i] : []
  })
}

/** Ten thousand orders of a list: places times a number, counted round a prime. */
const someOrder = fc.integer({ min: 1, max: 10_006 })
const shuffled = <T>(all: readonly T[], order: number): readonly T[] =>
  all
    .map((x, i) => [((i + 1) * order) % 10_007, x] as const)
    .sort(([a], [b]) => a - b)
    .map(([, x]) => x)

const place = fc.nat({ max: 59 })
const between = (i: number, from: number, to: number): number => from + (i % (to - from + 1))

/** One of up to four sessions on one of two sections. */
const sitting = fc.record({
  session: fc.constantFrom('a', 'b', 'c', 'd'),
  key: fc.constantFrom('weir-street/1', 'weir-street/2'),
  visit: scripted(),
})

/** Nothing clean: what was is not, and no correction makes it so. */
const nothingClean = (script: readonly Action[]): readonly Action[] =>
  script.filter(a => a !== 'X').map(a => (a === 'C' ? 'N' : a))

export const LAWS: readonly Law[] = [
  {
    says: 'counted again from the plain events, every rise, fall and ceiling is what the rules say',
    of: ladder => fc.property(anyVisit(), visit => recount(ladder, eventsOf(ladder, visit))),
  },
  {
    says: 'a second verdict on a repetition changes nothing',
    of: ladder =>
      fc.property(anyVisit(), place, place, anyRepetition, (visit, which, where, second) => {
        const events = eventsOf(ladder, visit)
        const judged = judgedAt(events)
        const first = judged[which % judged.length]
        if (first === undefined || second.kind !== 'verdict') return
        const { rep } = events[first] as Event & { kind: 'verdict' }
        const more = insert(events, between(where, first + 1, events.length), { ...second, rep }, 'second')
        deepStrictEqual(ladder.fold(more), ladder.fold(events))
      }),
  },
  {
    says: 'a tempo by hand keeps the ceiling; on another rung row and slips are empty; nothing lies above the top',
    of: ladder =>
      fc.property(anyVisit(), place, anyMove, (visit, cut, to) => {
        const all = eventsOf(ladder, visit)
        const events = all.slice(0, between(cut, 1, all.length))
        const before = folded(ladder, events)
        const after = folded(ladder, append(events, { kind: 'move', to: at(to) }, 'by-hand'))
        const tooFast = to > bpm(before.rungs.at(-1) as Tempo)
        if (tooFast || to === bpm(tempoNow(before))) return deepStrictEqual(after, before)
        const [rungs, now] = [new Set([...before.rungs.map(bpm), to]), after.rungs.map(bpm)]
        deepStrictEqual(
          now,
          [...rungs].sort((a, b) => a - b),
        )
        deepStrictEqual(after, { ...before, rungs: after.rungs, at: now.indexOf(to), row: 0, slips: 0 })
      }),
  },
  {
    says: 'without taking back a ceiling never falls, and a file cut anywhere shows none that was not reached',
    of: ladder =>
      fc.property(anyVisit({ takeBack: false }), place, (visit, cut) => {
        const events = eventsOf(ladder, visit)
        const part = ladder.fold(events.slice(0, between(cut, 0, events.length)))
        ok(reached(part) <= reached(folded(ladder, events)))
      }),
  },
  {
    // But for a tempo by hand in mid-repetition: without its line, the verdict that follows belongs to the old rung.
    says: 'any one lost line shows no ceiling that was not reached',
    of: ladder =>
      fc.property(scripted({ takeBack: false }), place, (visit, lost) => {
        const events = eventsOf(ladder, visit)
        const i = between(lost, 0, events.length - 1)
        const [line, next] = [events[i] as Event, events[i + 1]]
        if (line.kind === 'move' && next?.kind === 'verdict' && bpm(next.tempo) !== bpm(line.to)) return
        const rest = ladder.fold(events.filter(e => e !== line))
        ok(reached(rest) <= reached(folded(ladder, events)))
      }),
  },
  {
    says: 'a ceiling is one of the rungs, and without moves one climbs no further than one rung above it',
    of: ladder =>
      fc.property(anyVisit({ moves: false, find: false }), place, (visit, cut) => {
        const events = eventsOf(ladder, visit)
        const first = folded(ladder, events.slice(0, 1)).at
        const s = folded(ladder, events.slice(0, between(cut, 1, events.length)))
        const ceiling = s.rungs.findIndex(t => bpm(t) === reached(s))
        ok((s.ceiling === null) === (ceiling === -1))
        ok(s.at <= Math.max(first, ceiling + 1))
      }),
  },
  {
    says: 'what is taken back was never there',
    of: ladder =>
      fc.property(anyVisit(), anyRepetition, (visit, body) => {
        const events = eventsOf(ladder, visit)
        const takenBack = append(append(events, body, 'e'), { kind: 'takeBack', of: 'e' }, 'u')
        deepStrictEqual(ladder.fold(takenBack), ladder.fold(events))
        deepStrictEqual(ladder.fold(settled(events)), ladder.fold(events))
      }),
  },
  {
    says: 'taken back and judged again is as if judged so at once',
    of: ladder =>
      fc.property(anyVisit(), anyRepetition, (visit, body) => {
        const once = append(eventsOf(ladder, visit), body, 'e')
        const again = append(append(once, { kind: 'takeBack', of: 'e' }, 'u'), body, 'e2')
        deepStrictEqual(ladder.fold(again), ladder.fold(once))
      }),
  },
  {
    says: 'taking back twice is once, may come before what it takes back, and reaches repetitions only',
    of: ladder =>
      fc.property(anyVisit(), place, place, place, (visit, what, where, other) => {
        const events = eventsOf(ladder, visit)
        const of = (events[between(what, 0, events.length - 1)] as Event).id
        const takeBack: Body = { kind: 'takeBack', of }
        const once = append(events, takeBack, 'u')
        deepStrictEqual(ladder.fold(append(once, takeBack, 'u2')), ladder.fold(once))
        deepStrictEqual(
          ladder.fold(insert(events, between(where, 1, events.length), takeBack, 'u')),
          ladder.fold(once),
        )
        const beyond = [...events.filter(e => !isRepetition(e)).map(e => e.id), 'u', 'nobody']
        const vain = append(once, { kind: 'takeBack', of: beyond[other % beyond.length] as string }, 'u3')
        deepStrictEqual(ladder.fold(vain), ladder.fold(once))
      }),
  },
  {
    says: 'lines in any order, some twice, read from a file, end where the screen ended',
    of: ladder =>
      fc.property(scripted(), place, someOrder, ({ opening, script }, copied, order) => {
        const run = play(ladder, opening, script)
        const file = shuffled([...run.written, ...run.events.slice(0, copied)], order).map(e =>
          JSON.stringify(e),
        )
        const read = file.map(line => JSON.parse(line) as Event)
        deepStrictEqual(ladder.fold(read), run.states.at(-1))
      }),
  },
  {
    says: 'nothing clean, nothing reached',
    of: ladder =>
      fc.property(scripted({ moves: false }), hostile({ moves: false }), ({ opening, script }, raw) => {
        const never = raw.map(e => (e.kind === 'verdict' ? { ...e, clean: false } : e))
        for (const events of [play(ladder, opening, nothingClean(script)).events, never]) {
          const s = folded(ladder, events)
          deepStrictEqual([s.ceiling, s.goal, s.row], [null, false, 0])
          ok(s.at <= folded(ladder, events.slice(0, 1)).at)
        }
      }),
  },
  {
    says: 'all clean, the goal takes N for each rung below it and its own number there, no more and no fewer',
    of: ladder =>
      fc.property(openings({ find: false }), opening => {
        const { up, top } = opening.rules
        const needed = (opening.rungs.length - 1 - opening.at) * up.n + top
        const run = play(ladder, opening, Array<Action>(needed).fill('C'))
        const goals = run.states.map(s => s.goal)
        deepStrictEqual(goals, [...Array<boolean>(needed).fill(false), true])
        deepStrictEqual(reached(run.states.at(-1) ?? null), opening.rungs.at(-1))
      }),
  },
  {
    says: 'the ceilings of many sessions, interleaved, doubled, clocks askew, are the greatest of each key’s visits',
    of: ladder =>
      fc.property(
        fc.array(sitting, { maxLength: 4, size: 'max' }),
        place,
        someOrder,
        (sittings, copied, order) => {
          const next = new Map<string, number>()
          const truth = new Map<string, number>()
          const all: Event[] = []
          for (const { session, key, visit } of sittings) {
            const run = play(ladder, visit.opening, visit.script, { session, key, n: next.get(session) ?? 1 })
            next.set(session, (run.events.at(-1) as Event).n + 1)
            all.push(...run.written, ...run.events.slice(0, copied))
            const ceiling = reached(run.states.at(-1) ?? null)
            if (ceiling > 0) truth.set(key, Math.max(truth.get(key) ?? 0, ceiling))
          }
          const visits = new Map<string, Event[]>()
          for (const e of shuffled(all, order)) visits.set(e.visit, [...(visits.get(e.visit) ?? []), e])
          const found = [...ladder.ceilings([...visits.values()])].map(([key, t]) => [key, bpm(t)] as const)
          deepStrictEqual(new Map(found), truth)
        },
      ),
  },
]
