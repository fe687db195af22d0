import { describe, expect, test } from 'vitest'
import { frac } from '../../../src/music/fraction.ts'
import { meterText } from '../../../src/music/meter.ts'
import { typed } from '../../../src/music/tempo.ts'
import {
  type Action,
  clickOf,
  clickText,
  markBeside,
  newClick,
  noteOf,
  reduce,
  type State,
} from '../../../src/screens/click/reduce.ts'
import { commandOf } from '../../../src/screens/click/screen.ts'
import { meter, tempoOf } from '../../click/support.ts'
import { TWO } from '../controls.ts'

const click = (t = '112', m = '4/4', more: Partial<State> = {}): State => ({
  ...newClick({ tempo: tempoOf(t), meter: meter(m), subdivide: 1, pulse: null, only: null, countIn: 0 }),
  ...more,
})
const upon = (s: State, ...actions: Action[]): State => actions.reduce((x, a) => reduce(x, a).state, s)
const keys = (text: string): Action[] => [...text].map(c => ({ kind: 'digit', text: c }))
const taps = (...at: number[]): Action[] => at.map(t => ({ kind: 'tap', at: t }))

describe('tempo', () => {
  test('goes to the next mark of the traditional scale, from any tempo between two marks', () => {
    expect(typed(upon(click('112'), { kind: 'mark', by: 1 }).tempo)).toBe('116')
    expect(typed(upon(click('113.5'), { kind: 'mark', by: -1 }).tempo)).toBe('112')
    expect(typed(upon(click('dotted-quarter=208'), { kind: 'mark', by: 1 }).tempo)).toBe('dotted-quarter=216')
    expect(markBeside(tempoOf('2'), -1)).toBeNull()
    expect(upon(click('2'), { kind: 'mark', by: -1 }).tempo).toEqual(tempoOf('2'))
  })

  test('is any number that is typed, in the same note value', () => {
    expect(typed(upon(click(), ...keys('63.5'), { kind: 'enter' }).tempo)).toBe('63.5')
    expect(typed(upon(click('half=60'), ...keys('72'), { kind: 'enter' }).tempo)).toBe('half=72')
    expect(upon(click(), ...keys('127'), { kind: 'erase' }).typing).toBe('12')
  })

  test('that cannot be is refused in one sentence, and the click stays', () => {
    const s = upon(click(), ...keys('1200'), { kind: 'enter' })
    expect(s.tempo).toEqual(tempoOf('112'))
    expect(noteOf(s)).toMatch(/^"1200" doesn't work for the tempo. Try beats a minute from 1 to 999/)
    expect(noteOf(upon(s, { kind: 'escape' }))).toBe('')
  })

  test('is found by taps and taken with Enter at the nearest mark', () => {
    const two = upon(click(), ...taps(0, 484))
    expect(noteOf(two)).toBe('tapped twice; at least three times')
    expect(upon(two, { kind: 'enter' }).tempo).toEqual(tempoOf('112'))
    const three = upon(two, ...taps(968))
    expect(noteOf(three)).toBe('about quarter = 124; nearest mark 126, Enter takes it')
    const taken = upon(three, { kind: 'enter' })
    expect(typed(taken.tempo)).toBe('126')
    expect(noteOf(taken)).toBe('')
    expect(noteOf(upon(click('dotted-quarter=80', '6/8'), ...taps(0, 500, 1000)))).toBe(
      'about dotted quarter = 120, a mark of the scale; Enter takes it',
    )
  })
})

describe('a press', () => {
  test('starts and stops; a change while it sounds is a change of the sound', () => {
    const started = reduce(click(), { kind: 'press' })
    expect(started.effects).toEqual(['start'])
    expect(reduce(started.state, { kind: 'mark', by: 1 }).effects).toEqual(['change'])
    expect(reduce(click(), { kind: 'mark', by: 1 }).effects).toEqual([])
    expect(reduce(started.state, { kind: 'press' })).toMatchObject({
      state: { going: false },
      effects: ['stop'],
    })
  })
})

describe('meter', () => {
  test('goes round through the usual ones, with the same number of their own beats', () => {
    const seen: string[] = []
    let s = click('72')
    for (let i = 0; i < 10; i++) {
      s = upon(s, { kind: 'meter' })
      seen.push(`${meterText(s.meter)} ${typed(s.tempo)}`)
    }
    expect(seen).toEqual([
      '5/4 72',
      '2/2 half=72',
      '6/8 dotted-quarter=72',
      '9/8 dotted-quarter=72',
      '12/8 dotted-quarter=72',
      '5/8 72',
      '7/8 72',
      '2/4 72',
      '3/4 72',
      '4/4 72',
    ])
  })

  test('an unusual one goes on to the first', () => {
    expect(meterText(upon(click('72', '11/16'), { kind: 'meter' }).meter)).toBe('2/4')
  })

  test('keeps the chosen beats that it has; with none of them all beats click', () => {
    const s = click('112', '4/4', { only: { beats: [2, 4] } })
    expect(clickOf(s).only).toEqual({ beats: [2, 4] })
    const three = { ...s, meter: meter('3/4') }
    expect(clickOf(three).only).toEqual({ beats: [2] })
    expect(clickOf({ ...s, meter: meter('1/4') }).only).toBeUndefined()
    expect(clickOf({ ...s, meter: meter('2/4') }).only).toEqual({ beats: [2] })
  })

  test('and what clicks in it are said in words', () => {
    expect(clickText(click())).toBe('4/4')
    const s = click('60', '2+2+3/8', {
      subdivide: 2,
      pulse: frac(1, 8),
      only: { beats: [3], measures: { on: 2, off: 1 } },
      countIn: 1,
    })
    expect(clickText(s)).toBe(
      '7/8, counted in eighths, 2 to the beat, on beat 3, 2 of 3 measures, count-in 1',
    )
  })

  test('subdivisions go from one to four and round', () => {
    const seen = [1, 2, 3, 4].map(
      n => upon(click(), ...Array<Action>(n).fill({ kind: 'subdivide' })).subdivide,
    )
    expect(seen).toEqual([2, 3, 4, 1])
  })
})

describe('keys', () => {
  const of = (id: string, s: State = click(), p = {}) => commandOf(id, 7, { ...TWO, ...p }, s)

  test('Enter takes what is typed or tapped, and is a pedal else', () => {
    expect(of('Enter')).toEqual({ kind: 'pedal', pedal: 'right' })
    expect(of('Enter', upon(click(), ...keys('9')))).toEqual({ kind: 'enter' })
    expect(of('Enter', upon(click(), ...taps(0, 500, 1000)))).toEqual({ kind: 'enter' })
  })

  test('arrows up and down move a mark, unless they were learned as pedals', () => {
    expect(of('Up')).toEqual({ kind: 'mark', by: 1 })
    expect(of('Up', click(), { right: 'Up', left: 'Down' })).toEqual({ kind: 'pedal', pedal: 'right' })
  })

  test('a tap knows its time', () => {
    expect(of('t')).toEqual({ kind: 'tap', at: 7 })
  })
})
