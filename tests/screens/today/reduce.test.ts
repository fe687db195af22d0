import { describe, expect, test } from 'vitest'
import { type DayLine, linesOf, timesOf } from '../../../src/plan/order.ts'
import { closingOf } from '../../../src/screens/today/asked.ts'
import { pedalAction, pressOf } from '../../../src/screens/today/key-table.ts'
import {
  type Action,
  isOver,
  lineAt,
  menuOf,
  newState,
  reduce,
  type State,
  type Told,
} from '../../../src/screens/today/reduce.ts'
import { setDay } from '../../plan/set-day.ts'
import { TWO } from '../controls.ts'

const items = setDay()
const plain: Told = {
  title: 'Wednesday',
  remarks: [],
  pain: null,
  evening: false,
  questions: [],
  ways: [],
  asksWay: false,
  asksDays: false,
  closing: [],
}
const EVENING = 18 * 60
const lines = linesOf(items, { order: [], skipped: [], over: [] }, [])
const open = (told: Partial<Told> = {}, of: readonly DayLine[] = lines): State =>
  newState({ ...plain, ...told }, of, 45, EVENING, [])

/** Keys and pedals one after another; what is to be done beside it comes out too. */
const press = (s: State, ...keys: string[]) => {
  const effects = []
  for (const id of keys) {
    const on = pressOf(id, s.view, TWO)
    const action =
      on &&
      (on.kind === 'key' ? on.does : pedalAction(on.pedal, s, on.pedal === 'right' ? 'take' : 'next', 2))
    if (!action) continue
    const step = reduce(s, action)
    s = step.state
    effects.push(...step.effects)
  }
  return { s, effects }
}
const here = (s: State) => lineAt(s)?.name
const done = (name: string, of: readonly DayLine[]): readonly DayLine[] =>
  of.map(l => (l.name === name ? { ...l, state: 'done', begun: EVENING } : l))
const QUESTION = { piece: 'Lantern Study', readyBy: '2031-03-10', keys: ['K'] }

describe('the day on screen', () => {
  test('opens with the cursor on the next thing; one press begins it', () => {
    expect(here(open())).toBe('fundamentals #1')
    expect(here(open({}, done('fundamentals #1', lines)))).toBe('section D #1')
    expect(press(open(), 'PageDown').effects).toEqual([{ kind: 'go', to: { kind: 'play', line: lines[0] } }])
    expect(press(open(), 'Enter').effects).toEqual(press(open(), 'PageDown').effects)
  })

  test('what is over leads on to what comes next', () => {
    const back = reduce(open(), {
      kind: 'known',
      told: plain,
      lines: done('fundamentals #1', lines),
      minutes: 45,
      note: [],
    }).state
    expect(here(back)).toBe('section D #1')
    expect(press(back, 'PageDown').effects[0]).toMatchObject({ to: { line: { name: 'section D #1' } } })
  })

  test('what was left before it was played is proposed again', () => {
    const back = reduce(press(open(), 'PageUp').s, {
      kind: 'known',
      told: plain,
      lines,
      minutes: 45,
      note: [],
    })
    expect(here(back.state)).toBe('section D #1')
  })

  test('the left pedal reaches every line, round and round', () => {
    let s = open()
    const seen = lines.map(() => {
      const name = here(s)
      s = press(s, 'PageUp').s
      return name
    })
    expect(seen).toEqual(lines.map(l => l.name))
    expect(here(s)).toBe('fundamentals #1')
  })
})

describe('skipping', () => {
  test('one key; the next line is under the cursor, and the clock times follow', () => {
    const { s, effects } = press(open(), 's')
    expect(effects).toEqual([{ kind: 'keep' }])
    expect(s.lines[0]?.state).toBe('skipped')
    expect(here(s)).toBe('section D #1')
    expect(timesOf(s.lines, s.now)[1]).toBe(EVENING)
  })

  test('the same key takes it in again', () => {
    const { s } = press(open(), 's', 'Up', 's')
    expect(s.lines[0]?.state).toBe('open')
    expect(timesOf(s.lines, s.now)[1]).toBe(EVENING + 9)
  })

  test('what is done can not be skipped', () => {
    const s = open({}, done('fundamentals #1', lines))
    expect(press(s, 'Up', 's').effects).toEqual([])
  })
})

describe('moving', () => {
  test('l later, e earlier; the cursor stays with the line, the times follow', () => {
    const { s, effects } = press(open(), 'l')
    expect(effects).toEqual([{ kind: 'keep' }])
    expect(here(s)).toBe('fundamentals #1')
    expect(s.lines.slice(0, 2).map(l => l.name)).toEqual(['section D #1', 'fundamentals #1'])
    expect(timesOf(s.lines, s.now).slice(0, 2)).toEqual([EVENING, EVENING + 3])
    expect(press(s, 'e').s.lines.map(l => l.name)).toEqual(lines.map(l => l.name))
  })
})

describe('minutes', () => {
  test('five more, five less, for this day; between 10 and 480', () => {
    expect(press(open(), '+').effects).toEqual([{ kind: 'plan', minutes: 50 }])
    expect(press(open(), '-').effects).toEqual([{ kind: 'plan', minutes: 40 }])
    expect(press({ ...open(), minutes: 10 }, '-').effects).toEqual([])
    expect(press({ ...open(), minutes: 480 }, '+').effects).toEqual([])
  })

  test('several presses in a row: the plan of the last one counts', () => {
    const { s, effects } = press(open(), '-', '-', '-')
    expect(effects).toEqual([40, 35, 30].map(minutes => ({ kind: 'plan', minutes })))
    const first = reduce(s, { kind: 'known', told: plain, lines, minutes: 40, note: [] }).state
    expect(first).toMatchObject({ minutes: 30, busy: true })
    const last = reduce(first, { kind: 'known', told: plain, lines, minutes: 30, note: [] }).state
    expect(last).toMatchObject({ minutes: 30, busy: false })
  })

  test('while the plan is made anew nothing else is taken', () => {
    const { s } = press(open(), '+')
    expect(press(s, 'PageDown').effects).toEqual([])
    const known: Action = { kind: 'known', told: plain, lines, minutes: 50, note: [] }
    expect(press(reduce(s, known).state, 'PageDown').effects).toHaveLength(1)
  })
})

describe('the pieces', () => {
  test.each(['p', 'd'])('are one key away: %s', key =>
    expect(press(open(), key).effects).toEqual([{ kind: 'go', to: { kind: 'pieces' } }]),
  )
})

describe('pain that was noted today', () => {
  test('offers nothing: no press begins, skips or moves anything', () => {
    const s = open({ pain: 'Stop for today.' })
    expect(press(s, 'PageDown', 'Enter', 's', 'l', '+').effects).toEqual([])
    expect(press(s, 'p').effects).toHaveLength(1)
  })
})

test('when all is over nothing is proposed', () => {
  const all = lines.map((l): DayLine => ({ ...l, state: 'done' }))
  expect(isOver(open({}, all))).toBe(true)
  expect(isOver(open())).toBe(false)
})

test('after the last evening no press begins anything again', () => {
  const all = lines.map((l): DayLine => ({ ...l, state: 'done' }))
  expect(press(open({ evening: true }, all), 'PageDown', 'PageUp', 'Enter').effects).toEqual([])
  expect(press(open({}, all), 'PageUp', 'PageDown').effects).toHaveLength(1)
})

describe('after a date', () => {
  const asked = () => open({ questions: [QUESTION] })

  test('the question comes first; three fields, each may be left out, also with the pedal alone', () => {
    const { s, effects } = press(asked(), 'PageDown', 'PageDown', 'PageDown', 'PageDown')
    expect(effects).toEqual([
      { kind: 'answer', question: QUESTION, answers: { tempo: '', spots: '', next: '' } },
    ])
    expect(s.busy).toBe(true)
  })

  test('what is typed is answered, field by field; letters are text', () => {
    const keys = [
      'Enter',
      ...'126',
      'Enter',
      ...'pick-up',
      'Space',
      ...'late',
      'Enter',
      ...'2031-04-02',
      'Enter',
    ]
    expect(press(asked(), ...keys).effects).toEqual([
      {
        kind: 'answer',
        question: QUESTION,
        answers: { tempo: '126', spots: 'pick-up late', next: '2031-04-02' },
      },
    ])
  })

  test('Escape loses nothing, and neither does a refusal', () => {
    const { s } = press(asked(), 'Enter', ...'12x', 'Escape')
    expect(s.view).toBe('day')
    const back = press(s, 'Enter').s
    expect(back.forms['Lantern Study 2031-03-10']?.texts.tempo.text).toBe('12x')
    const sent = press(back, 'Enter', 'Enter', 'Enter').s
    const refused = reduce(sent, { kind: 'refused', text: 'tempo: no.' }).state
    expect(refused).toMatchObject({ view: 'after', busy: false, note: ['tempo: no.'] })
    expect(refused.forms['Lantern Study 2031-03-10']?.texts.tempo.text).toBe('12x')
  })

  test('once it is answered the next line is under the cursor', () => {
    const sent = press(asked(), 'PageDown', 'PageDown', 'PageDown', 'PageDown').s
    const after = reduce(sent, { kind: 'known', told: plain, lines, minutes: 45, note: ['Kept.'] }).state
    expect(after).toMatchObject({ view: 'day', busy: false })
    expect(here(after)).toBe('fundamentals #1')
  })
})

describe('where it is too much', () => {
  const ways = [
    { text: '70 minutes a day', does: { kind: 'minutes', minutes: 70 } },
    { text: 'Everything a little lower: 81 % of the goals', does: { kind: 'lower', share: 0.81 } },
    { text: 'Not now: ask again tomorrow', does: { kind: 'later' } },
  ] as const

  test('the day begins with the choice; a pedal goes through it and takes one', () => {
    const s = open({ ways, asksWay: true })
    expect(s.view).toBe('ways')
    const next = pedalAction('right', s, 'next', 1)
    const second = next ? reduce(s, next).state : s
    expect(second.pick).toBe(1)
    expect(reduce(second, { kind: 'begin' }).effects).toEqual([
      { kind: 'change', change: { kind: 'way', way: ways[1] } },
    ])
  })

  test('once chosen it is not asked again, and o opens it to be changed', () => {
    const s = open({ ways, asksWay: false })
    expect(s.view).toBe('day')
    expect(reduce(s, { kind: 'ways' }).state).toMatchObject({ view: 'ways', pick: 0 })
    expect(reduce(open(), { kind: 'ways' }).state).toMatchObject({ view: 'day' })
  })

  test('after pain nothing is chosen', () => {
    expect(open({ ways, asksWay: true, pain: 'Stop for today.' }).view).toBe('day')
  })
})

describe('on which days the player plays', () => {
  const ways = [{ text: '70 minutes a day', does: { kind: 'minutes', minutes: 70 } }] as const

  test('asked before the day where there is a date; silence takes nothing, a pedal takes one, Escape asks another time', () => {
    const s = open({ asksDays: true })
    expect(menuOf(s)?.map(w => w.text)).toEqual([
      'Every day',
      'Monday to Friday',
      'Monday to Saturday',
      'Other days: I type them later',
    ])
    const next = pedalAction('right', s, 'next', 1)
    const second = next ? reduce(s, next).state : s
    expect(reduce(second, { kind: 'begin' }).effects).toMatchObject([
      { kind: 'change', change: { way: { does: { kind: 'days', days: 'mon,tue,wed,thu,fri' } } } },
    ])
    expect(reduce(s, { kind: 'back' })).toMatchObject({ state: { view: 'day' }, effects: [] })
  })

  test('then comes the choice where it is too much', () => {
    const s = open({ ways, asksWay: true, asksDays: true })
    const told = { ...plain, ways, asksWay: true }
    expect(reduce(s, { kind: 'known', told, lines, minutes: 45, note: [] }).state.view).toBe('ways')
    expect(reduce(s, { kind: 'known', told: plain, lines, minutes: 45, note: [] }).state.view).toBe('day')
  })
})

describe('the close of a day', () => {
  const closing = closingOf([{ key: 'section run even', label: 'run, m. 41-44' }])
  const done = lines.map((l): DayLine => ({ ...l, state: 'done' }))
  const known = (s: State, told: Partial<Told> = {}) =>
    reduce(s, { kind: 'known', told: { ...plain, closing, ...told }, lines: done, minutes: 45, note: [] })
      .state

  test('after the last line it asks for pain, the first thing tomorrow and a question for the teacher', () => {
    const s = known(open({ closing }))
    expect(s.view).toBe('close')
    expect(menuOf(s)?.map(w => w.text)).toEqual([
      'Nothing more: stop here',
      'Something hurts',
      'First thing tomorrow: run, m. 41-44',
      'First thing tomorrow: type it',
      'Ask the teacher: run, m. 41-44',
      'Ask the teacher: type it',
    ])
  })

  test('a pedal takes one of them, or leaves', () => {
    const s = known(open({ closing }))
    const third = reduce(reduce(s, { kind: 'choose', by: 1, round: true }).state, {
      kind: 'choose',
      by: 1,
      round: true,
    }).state
    expect(reduce(third, { kind: 'begin' }).effects).toMatchObject([
      { kind: 'change', change: { way: { does: { note: { kind: 'tomorrow', key: 'section run even' } } } } },
    ])
    expect(reduce(s, { kind: 'begin' }).effects).toEqual([{ kind: 'go', to: { kind: 'leave' } }])
  })

  test('what is kept leaves it open; after pain there is only the advice to stop', () => {
    const s = known(open({ closing }))
    expect(known(s).view).toBe('close')
    expect(known(s, { pain: 'Stop for today.' }).view).toBe('day')
  })
})
