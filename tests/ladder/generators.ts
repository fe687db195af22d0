import fc from 'fast-check'
import type { Body, Event } from '../../src/ladder/event.ts'
import type { Rules } from '../../src/ladder/rules.ts'
import { type Action, at, type Ladder, numbered, type Opening, openingBody, play } from './live.ts'

/**
 * Two sources of visits, and both are needed: a script is what a player can do in front of the screen; hostile events
 * are what a file can hold. Without `size: 'max'`, few rungs and mostly clean ones, the visits are so short that
 * nothing ever happens in them.
 */
export type Allowed = { readonly takeBack?: false; readonly moves?: false; readonly find?: false }

const TEMPOS = [60, 63, 66, 69, 72] as const
/** Tempos by hand and in foreign verdicts: rungs, between them, above the top. */
const ANY_TEMPO = [60, 61.5, 63, 64, 66, 68, 69, 72, 80] as const

const up: fc.Arbitrary<Rules['up']> = fc.oneof(
  {
    weight: 3,
    arbitrary: fc.record({ kind: fc.constant('row' as const), n: fc.integer({ min: 1, max: 4 }) }),
  },
  {
    weight: 2,
    arbitrary: fc.record({ kind: fc.constant('total' as const), n: fc.integer({ min: 1, max: 5 }) }),
  },
  {
    weight: 2,
    arbitrary: fc
      .tuple(fc.integer({ min: 1, max: 4 }), fc.integer({ min: 0, max: 2 }))
      .map(([n, more]) => ({ kind: 'most' as const, n, of: n + more })),
  },
)

export const openings = ({ find }: Allowed = {}): fc.Arbitrary<Opening> =>
  fc
    .record({
      up,
      slips: fc.constantFrom(2, 2, 2, 1, 3, 0),
      top: fc.constantFrom(2, 3, 5),
      find: find === false ? fc.constant(false) : fc.constantFrom(false, false, false, false, true),
      capped: find === false ? fc.constant(false) : fc.constantFrom(...Array<boolean>(7).fill(false), true),
      count: fc.integer({ min: 1, max: TEMPOS.length }),
      at: fc.integer({ min: 0, max: TEMPOS.length - 1 }),
    })
    .map(o => ({
      rungs: TEMPOS.slice(0, o.count),
      at: o.at % o.count,
      rules: {
        up: o.up,
        slips: o.slips,
        top: o.top,
        ...(o.find ? { find: true as const } : {}),
        ...(o.capped ? { capped: true as const } : {}),
      },
    }))

const moves: fc.Arbitrary<Action> = fc.oneof(
  { weight: 2, arbitrary: fc.record({ to: fc.constantFrom(...ANY_TEMPO) }) },
  {
    weight: 1,
    arbitrary: fc.record({
      to: fc.constantFrom(...ANY_TEMPO),
      late: fc.constantFrom('C' as const, 'N' as const),
    }),
  },
)

const just = (weight: number, ...all: readonly Action[]) => ({ weight, arbitrary: fc.constantFrom(...all) })

const scripts = ({ takeBack, moves: byHand }: Allowed = {}): fc.Arbitrary<readonly Action[]> =>
  fc.array(
    fc.oneof(
      just(14, 'C'),
      just(5, 'N'),
      just(2, 'M'),
      just(2, 'S', 'I', 'V'),
      just(1, 'R'),
      ...(takeBack === false ? [] : [just(4, 'U', 'X')]),
      ...(byHand === false ? [] : [{ weight: 2, arbitrary: moves }]),
    ),
    { maxLength: 60, size: 'max' },
  )

const tempos = fc.oneof(
  { weight: 9, arbitrary: fc.constantFrom(60, 60, 63, 63, 66) },
  { weight: 1, arbitrary: fc.constantFrom(...ANY_TEMPO) },
)
const rep = fc.oneof(
  { weight: 4, arbitrary: fc.integer({ min: 0, max: 200 }) },
  { weight: 1, arbitrary: fc.integer({ min: 0, max: 9 }) },
)
const mostly = (yes: number) => fc.integer({ min: 1, max: 10 }).map(x => x <= yes)

const bodies = ({ takeBack, moves: byHand }: Allowed): fc.Arbitrary<Body> =>
  fc.oneof(
    {
      weight: 12,
      arbitrary: fc
        .tuple(rep, tempos, mostly(8), mostly(8))
        .map(([rep, t, whole, clean]): Body => ({ kind: 'verdict', rep, tempo: at(t), whole, clean })),
    },
    {
      weight: 2,
      arbitrary: fc
        .tuple(rep, tempos, fc.constantFrom('silent' as const, 'unclear' as const, 'interrupted' as const))
        .map(([rep, t, why]): Body => ({ kind: 'unjudged', rep, tempo: at(t), why })),
    },
    ...(byHand === false
      ? []
      : [
          {
            weight: 1,
            arbitrary: fc.constantFrom(...ANY_TEMPO).map((to): Body => ({ kind: 'move', to: at(to) })),
          },
        ]),
    ...(takeBack === false
      ? []
      : [
          {
            weight: 2,
            arbitrary: fc.nat({ max: 70 }).map((i): Body => ({ kind: 'takeBack', of: `h-${i}` })),
          },
        ]),
  )

/** Raw events of one visit in order: any repetition number, tempo and verdict; undos of anything; lost lines. */
export const hostile = (allowed: Allowed = {}): fc.Arbitrary<readonly Event[]> =>
  fc
    .tuple(openings(allowed), fc.array(fc.tuple(bodies(allowed), mostly(9)), { maxLength: 60, size: 'max' }))
    .map(([opening, all]) => {
      let n = 1
      const rest = all.map(([body, kept]) => {
        n += kept ? 1 : 2
        return numbered(body, 'h', n, 'h-1')
      })
      // Low on the ladder, where most of the tempos are.
      const low = { ...opening, at: Math.min(opening.at, 1) }
      return [numbered(openingBody(low), 'h', 1, 'h-1'), ...rest]
    })

/** A visit from either source; a failing one prints as the script that a player could follow. */
export type Source =
  | { readonly opening: Opening; readonly script: readonly Action[] }
  | { readonly raw: readonly Event[] }

export const scripted = (allowed: Allowed = {}) =>
  fc.record({ opening: openings(allowed), script: scripts(allowed) })

export const anyVisit = (allowed: Allowed = {}): fc.Arbitrary<Source> =>
  fc.oneof(
    scripted(allowed),
    hostile(allowed).map(raw => ({ raw })),
  )

export const eventsOf = (ladder: Ladder, from: Source): readonly Event[] =>
  'raw' in from ? from.raw : play(ladder, from.opening, from.script).events

/** Any verdict or unanswered repetition, for a line that is added to a visit. */
export const anyRepetition: fc.Arbitrary<Body> = bodies({ takeBack: false, moves: false })
export const anyMove: fc.Arbitrary<number> = fc.constantFrom(...ANY_TEMPO)
