import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { PRACTICE_KEYS } from '../../../src/screens/practice/key-table.ts'
import { choicesOf, type Offers, offerOf } from '../../../src/screens/practice/offers.ts'
import { openOf, reduce, type State } from '../../../src/screens/practice/reduce.ts'
import { offerHint } from '../../../src/screens/practice/words.ts'
import { pressed } from '../../../src/terminal/key-table.ts'
import { newSession, type Session } from '../../../src/visit/session.ts'
import { ONE, TWO } from '../controls.ts'
import { setup } from './stage.ts'

const NONE: Offers = { cold: false, yes: false, join: 'not yet' }
const session = (change: Partial<Session> = {}): Session => ({
  ...newSession(setup()),
  phase: 'hold',
  note: { kind: 'hold' },
  ...change,
})
const state = (s: Session, change: Partial<State> = {}): State => ({
  session: s,
  typing: '',
  how: { quit: false, left: false },
  ended: null,
  choice: { at: 0, since: 0 },
  passed: [],
  said: { index: -1, text: '' },
  wrongs: null,
  ...change,
})
const foot = (s: State, pedal: 'right' | 'left' | 'both', offers: Offers) =>
  reduce(s, { kind: 'foot', pedal, at: 5000, offers })

/** A key as the foot sends it, through the table of keys. */
const key = (s: State, id: string, at: number, offers: Offers) => {
  const controls = s.session.setup.pedals === 1 ? ONE : TWO
  const press = pressed(PRACTICE_KEYS, openOf(s), id, controls)
  if (press?.kind !== 'pedal') throw new Error(`${id} is no pedal`)
  return reduce(s, { kind: 'foot', pedal: press.pedal, at, offers })
}
const byOne = (s: State): State => ({
  ...s,
  session: { ...s.session, setup: { ...s.session.setup, pedals: 1 } },
})

const dropped = session({ ladder: { ...session().ladder, drops: 3 } })
const OFFERED: readonly (readonly [string, State, Offers, object])[] = [
  ['a section or a breath', state(session()), { ...NONE, yes: true }, { kind: 'yes' }],
  ['a seam', state(session()), { ...NONE, join: null }, { kind: 'join' }],
  ['a round of rhythms, after three drops', state(dropped), NONE, { kind: 'next' }],
]

describe('two pedals where something is offered', () => {
  test.each(OFFERED)('right takes %s', (_, s, offers, effect) => {
    expect(foot(s, 'right', offers).effects).toMatchObject([effect])
  })

  test.each(OFFERED)('left goes on without %s, which does not come back to the foot', (_, s, offers) => {
    const left = foot(s, 'left', offers)
    expect(left.effects).toMatchObject([{ kind: 'visit', action: { kind: 'pedal', frame: null } }])
    expect(offerOf(left.state, offers)).toBeNull()
  })

  test('three stops more, and it is offered anew', () => {
    const offers = { ...NONE, yes: true }
    const left = foot(state(session()), 'left', offers).state
    const again = session({ note: { kind: 'place', measure: '42' } })
    const seen = reduce(left, { kind: 'session', session: again, at: 9000 }).state
    expect(offerOf(seen, offers)).not.toBeNull()
  })

  test('at the end of a visit right takes the seam, left closes', () => {
    const ended = state(session({ phase: 'done' }), { ended: { lines: ['.'], joins: true } })
    expect(foot(ended, 'right', NONE)).toMatchObject({
      state: { how: { next: { kind: 'join' } } },
      effects: [{ kind: 'leave' }],
    })
    const closed = foot(ended, 'left', NONE)
    expect(closed.effects).toEqual([{ kind: 'leave' }])
    expect(closed.state.how.next).toBeUndefined()
  })

  test('no offer stands while something sounds, before the first note, or while something else is asked', () => {
    const all = { cold: true, yes: true, join: null }
    for (const change of [
      { phase: 'going' },
      { phase: 'ready' },
      { phase: 'done' },
      { asks: 'time' },
      { asks: 'goal' },
    ] as const)
      expect(offerOf(state(session(change)), all), JSON.stringify(change)).toBeNull()
    const one = session()
    expect(offerOf(state({ ...one, setup: { ...one.setup, pedals: 1 } }), all)).toBeNull()
  })

  test('whatever the feet do where something is offered, no verdict is given', () => {
    fc.assert(
      fc.property(
        fc.array(fc.constantFrom('right', 'left', 'both'), { minLength: 1, maxLength: 12 }),
        fc.boolean(),
        fc.boolean(),
        (feet, yes, joins) => {
          const offers = { cold: false, yes, join: joins ? null : 'not yet' }
          let s = state(dropped)
          for (const pedal of feet) {
            if (!offerOf(s, offers)) return
            const step = foot(s, pedal, offers)
            for (const e of step.effects)
              if (e.kind === 'visit')
                // Nothing sounds: this only goes on.
                expect([s.session.phase, e.action]).toMatchObject(['hold', { kind: 'pedal', frame: null }])
            s = step.state
          }
        },
      ),
    )
  })

  test('the hint says which pedal takes it', () => {
    const keys = { right: 'Page Down', left: 'Page Up' }
    expect(offerHint('what is offered', false, keys)).toBe(
      'right (Page Down): what is offered   left (Page Up): go on',
    )
    expect(offerHint('the seam', true, keys)).toBe('right (Page Down): the seam   left (Page Up): close')
  })
})

describe('one pedal where something is offered', () => {
  const STANDS = 2500
  const ENDED: readonly (readonly [string, State, Offers, object])[] = [
    [
      'a seam at the end',
      state(session({ phase: 'done' }), { ended: { lines: ['.'], joins: true } }),
      NONE,
      { kind: 'leave' },
    ],
  ]
  /** From choice to choice, each press within two seconds of the one before, until the wanted one stands; then one press more. */
  const walked = (s: State, offers: Offers, text: RegExp) => {
    const all = choicesOf(s, offers)
    const at = all.findIndex(c => text.test(c.text))
    expect(at, JSON.stringify(all)).toBeGreaterThan(0)
    let now = { ...s, choice: { at: 0, since: 0 } }
    let t = 0
    for (let n = 0; n < at; n++) {
      t += 900
      const step = key(now, ONE.right, t, offers)
      expect(step.effects).toEqual([])
      now = step.state
    }
    return key(now, ONE.right, t + STANDS, offers)
  }
  const WANTED = [/offered/, /seam/, /rhythms/, /seam/]

  test.each([...OFFERED, ...ENDED].map((row, i) => [...row, WANTED[i] as RegExp] as const))(
    'presses lead to %s, and one more takes it',
    (_, s, offers, effect, wanted) => {
      expect(walked(byOne(s), offers, wanted).effects).toMatchObject([effect])
    },
  )

  test.each(OFFERED)('one press goes on without %s', (_, s, offers) => {
    for (const waited of [STANDS, 60_000]) {
      const step = key({ ...byOne(s), choice: { at: 0, since: 0 } }, ONE.right, waited, offers)
      expect(step.effects).toMatchObject([{ kind: 'visit', action: { kind: 'pedal', frame: null } }])
    }
  })

  test('at the end one press closes, and nothing is joined', () => {
    const [[, s, offers] = []] = ENDED
    const step = key(
      { ...byOne(s as State), choice: { at: 0, since: 0 } },
      ONE.right,
      STANDS,
      offers as Offers,
    )
    expect(step.effects).toEqual([{ kind: 'leave' }])
    expect(step.state.how.next).toBeUndefined()
  })

  test('a second pedal is no pedal', () => {
    expect(() => key(byOne(state(session())), 'F9', 0, NONE)).toThrow('no pedal')
  })
})

test.each(OFFERED)('two pedals, by their keys: right takes %s, left leaves it', (_, s, offers, effect) => {
  expect(key(s, TWO.right, 5000, offers).effects).toMatchObject([effect])
  expect(key(s, TWO.left, 5000, offers).effects).toMatchObject([{ kind: 'visit', action: { kind: 'pedal' } }])
})
