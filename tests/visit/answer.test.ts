import { describe, expect, test } from 'vitest'
import type { Event, LadderState } from '../../src/ladder/event.ts'
import { tempo } from '../../src/music/tempo.ts'
import {
  enough,
  lastRungDone,
  lastSignals,
  noteOf,
  signalsOf,
  stuckAt,
  tally,
} from '../../src/visit/answer.ts'
import { newSession, type Session, type Sounding } from '../../src/visit/session.ts'
import { leftOver, verdictBody } from '../../src/visit/steps.ts'
import { setup } from '../screens/practice/stage.ts'

/** Where a ladder of 60, 63, 66 stands: on its second rung, two in a row. */
const stands = (change: Partial<LadderState> = {}): LadderState => ({
  rungs: [60, 63, 66].map(t => tempo(t)),
  at: 1,
  row: 2,
  slips: 0,
  drops: 0,
  ceiling: null,
  goal: false,
  finding: false,
  ...change,
})
const downward = { rungs: [66, 63, 60].map(t => tempo(t)) }

describe('what is heard after a verdict', () => {
  test.each<[string, LadderState, LadderState, boolean, readonly string[]]>([
    ['the second in a row', stands({ row: 1 }), stands({ row: 2 }), true, ['row', 'row']],
    ['the first of a row', stands({ row: 0 }), stands({ row: 1 }), true, ['row']],
    ['the fifth of a row', stands({ row: 4 }), stands({ row: 5 }), true, Array(5).fill('row')],
    [
      'the ninth: no more than can be counted',
      stands({ row: 8 }),
      stands({ row: 9 }),
      true,
      Array(5).fill('row'),
    ],
    [
      'beyond the goal nothing is counted',
      stands({ goal: true }),
      stands({ row: 3, goal: true }),
      true,
      ['row'],
    ],
    ['a slip', stands(), stands({ row: 0, slips: 1 }), false, ['slip']],
    ['a rung up', stands(), stands({ at: 2, row: 0 }), true, ['up']],
    ['a rung down', stands(), stands({ at: 0, row: 0, drops: 1 }), false, ['down']],
    ['the goal', stands({ at: 2 }), stands({ at: 2, row: 0, goal: true }), true, ['up']],
    ['as far as it goes for now', stands({ at: 2 }), stands({ at: 2, row: 0 }), true, ['up']],
    [
      'while the start is looked for',
      stands({ finding: true }),
      stands({ row: 0, finding: true }),
      true,
      ['row'],
    ],
    ['the start is found', stands({ finding: true }), stands({ row: 0 }), true, ['row']],
    [
      'a ladder that leads down: slower is up',
      stands(downward),
      stands({ ...downward, at: 2, row: 0 }),
      true,
      ['up'],
    ],
    ['and faster is down', stands(downward), stands({ ...downward, at: 0, row: 0 }), false, ['down']],
  ])('%s', (_, before, after, clean, heard) => {
    expect(signalsOf(before, after, clean)).toEqual(heard)
  })
})

describe('what is said after a verdict', () => {
  const said = (
    before: LadderState,
    after: LadderState,
    clean: boolean,
    whole = true,
    stuck: string | null = null,
  ) => noteOf(before, after, clean, whole, stuck)

  test('clean, a slip, or cut short', () => {
    expect(said(stands(), stands({ row: 3 }), true)).toEqual({ kind: 'clean' })
    expect(said(stands(), stands({ row: 0, slips: 1 }), false)).toEqual({ kind: 'slip' })
    expect(said(stands(), stands({ row: 0, slips: 1 }), false, false)).toEqual({ kind: 'cut' })
  })

  test('up and down with the tempo, the goal, and a rung that is as far as it goes', () => {
    expect(said(stands(), stands({ at: 2, row: 0 }), true)).toEqual({ kind: 'up', tempo: tempo(66) })
    expect(said(stands(), stands({ at: 0, row: 0, drops: 1 }), false)).toEqual({
      kind: 'down',
      tempo: tempo(60),
    })
    expect(said(stands({ at: 2 }), stands({ at: 2, row: 0, goal: true }), true)).toEqual({ kind: 'goal' })
    expect(said(stands({ at: 2, goal: true }), stands({ at: 2, row: 1, goal: true }), true)).toEqual({
      kind: 'clean',
    })
    expect(said(stands({ at: 2 }), stands({ at: 2, row: 0 }), true)).toEqual({
      kind: 'stays',
      tempo: tempo(66),
    })
  })

  test('from the third drop on that something else may help, and only with a drop', () => {
    const down = (drops: number) =>
      said(stands({ drops: drops - 1 }), stands({ at: 0, row: 0, drops }), false)
    expect([down(2).kind, down(3).kind, down(4).kind]).toEqual(['down', 'suggest', 'suggest'])
    expect(said(stands({ drops: 3 }), stands({ row: 3, drops: 3 }), true).kind).toBe('clean')
  })

  test('where the music was stopped for the third time its measure comes first, but not after a whole one', () => {
    const fallen = stands({ at: 0, row: 0, drops: 3 })
    expect(said(stands({ drops: 2 }), fallen, false, false, '43')).toEqual({ kind: 'place', measure: '43' })
    expect(said(stands({ drops: 2 }), fallen, false, true, '43')).toEqual({ kind: 'suggest' })
  })
})

/** Verdicts of a visit in order; a place = stopped there. */
const visit = (...places: readonly (string | null)[]): readonly Event[] =>
  places.map((place, i) => ({
    kind: 'verdict' as const,
    rep: i + 1,
    tempo: tempo(104),
    whole: place === null,
    clean: place === null,
    ...(place === null ? {} : { place }),
    id: `s-${i + 2}`,
    session: 's',
    n: i + 2,
    visit: 's-1',
    time: '2026-03-09T10:00:00.000Z',
    offset: 60,
  }))

describe('a measure in which the music stops again and again', () => {
  test.each<[readonly (string | null)[], string | null]>([
    [[], null],
    [[null, null, null], null],
    [['43.2', '43.3'], null],
    [['43.2', '43.3', '43'], '43'],
    [['43.2', null, '43.3', '44', '43'], '43'],
    [['43', '43', '43', '44'], null],
    [['43', '43', '43', '43'], null],
    [['43', '43', '43', '43', '43', '43'], '43'],
    [['43+3/16', '43+1/4', '43+1/2'], '43'],
    [['44', '43', '43'], null],
  ])('%j: %s', (places, measure) => {
    expect(stuckAt(visit(...places))).toBe(measure)
  })
})

test('the last rung is done at its own tempo, and never while the start is looked for', () => {
  const done = (change: Partial<LadderState>): boolean => lastRungDone({ ladder: stands(change) })
  expect(done({ ceiling: tempo(66) })).toBe(true)
  expect(done({ ceiling: tempo(63) })).toBe(false)
  expect(done({ ceiling: null })).toBe(false)
  expect(done({ ceiling: tempo(66), finding: true })).toBe(false)
})

describe('a visit', () => {
  const session = (events: readonly Event[], ends?: { clean: number; tries: number }): Session => ({
    ...newSession(setup(ends ? { ends } : {})),
    events,
  })

  test('that ends by itself does so after its clean ones or its tries, and any other never', () => {
    const events = visit(null, '43', null)
    expect(enough(session(events))).toBe(false)
    expect(enough(session(events, { clean: 3, tries: 4 }))).toBe(false)
    expect(enough(session(events, { clean: 2, tries: 4 }))).toBe(true)
    expect(enough(session(events, { clean: 3, tries: 3 }))).toBe(true)
  })

  test('counts what was clean, what was judged, and what was judged on this rung', () => {
    const [a, b, c] = visit(null, '43', null) as [Event, Event, Event]
    expect(tally(session([a, b, { ...c, tempo: tempo(100) } as Event]))).toEqual({
      clean: 2,
      verdicts: 3,
      here: 2,
    })
  })

  test('says nothing of a verdict before there is one', () => {
    expect(lastSignals(session([]))).toEqual([])
  })
})

const take = (change: Partial<Sounding> = {}): Sounding =>
  ({ rep: 7, tempo: tempo(104), entered: true, over: false, verdict: null, ...change }) as Sounding

describe('what is written of a repetition', () => {
  const air = (seconds: number, clean = true, whole = true) =>
    verdictBody(take({ air: seconds }), clean, whole)

  test('its breath only where it was whole and clean, to a hundredth of a second, and within reason', () => {
    expect(verdictBody(take(), true, true)).toEqual({
      kind: 'verdict',
      rep: 7,
      tempo: tempo(104),
      whole: true,
      clean: true,
    })
    expect(air(7.2727)).toMatchObject({ air: 7.27 })
    expect(air(7.2777)).toMatchObject({ air: 7.28 })
    for (const none of [air(7, false), air(7, true, false), air(0), air(0.004), air(100_000)])
      expect(none).not.toHaveProperty('air')
    expect(air(0.01)).toMatchObject({ air: 0.01 })
  })

  test('its place only where it has one', () => {
    expect(verdictBody(take(), false, false, '43.2')).toMatchObject({
      place: '43.2',
      whole: false,
      clean: false,
    })
    expect(verdictBody(take(), false, true)).not.toHaveProperty('place')
  })

  test('when everything stops: what sounds was interrupted, what is over was not answered, what is judged is written already', () => {
    const verdict = { id: 's-2', clean: true, whole: true }
    const why = (last: Sounding | null, current: Sounding | null) =>
      leftOver({ last, current }).map(b => (b.kind === 'unjudged' ? b.why : b.kind))
    expect(why(null, null)).toEqual([])
    expect(why(null, take())).toEqual(['interrupted'])
    expect(why(null, take({ over: true }))).toEqual(['silent'])
    expect(why(take({ over: true }), take())).toEqual(['silent', 'interrupted'])
    expect(why(take({ verdict }), take({ entered: false }))).toEqual([])
    expect(why(null, take({ verdict, over: true }))).toEqual([])
  })
})
