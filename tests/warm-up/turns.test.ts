import { describe, expect, it } from 'vitest'
import { toNumber } from '../../src/music/fraction.ts'
import { parseMeter } from '../../src/music/meter.ts'
import { parseTempo, typed } from '../../src/music/tempo.ts'
import type { Exercise } from '../../src/warm-up/exercises.ts'
import {
  firstTempo,
  lengthOf,
  newWarmUp,
  step,
  tempoOf,
  turnProgram,
  turnsOf,
  type WarmUpAction,
  type WarmUpState,
} from '../../src/warm-up/turns.ts'
import { RATE } from '../click/support.ts'

const tempo = (s: string) => {
  const t = parseTempo(s)
  if (!t.ok) throw new Error(s)
  return t.value
}
const meter = (s: string) => {
  const m = parseMeter(s)
  if (!m.ok) throw new Error(s)
  return m.value
}
const exercise = (o: Partial<Exercise> = {}): Exercise => ({
  warmUp: 'mornings',
  item: 'One scale',
  key: null,
  words: '',
  heading: '',
  notes: [],
  meter: meter('4/4'),
  measures: 2,
  lengths: [],
  tempos: [tempo('60'), tempo('72')],
  shift: 0,
  times: 2,
  minutes: null,
  tone: null,
  asLong: false,
  ...o,
})
const going = (...all: Exercise[]): WarmUpState => step(newWarmUp(all), 'start')
const played = (s: WarmUpState, ...actions: (WarmUpAction | readonly ['over', number])[]): WarmUpState =>
  actions.reduce((at, a) => (typeof a === 'string' ? step(at, a, 10) : step(at, ...a)), s)
const seconds = (frames: number): number => frames / RATE

describe('moving on', () => {
  it('by count: each tempo so many times, then the next exercise, then it is done', () => {
    let s = going(exercise(), exercise({ item: 'Thirds' }))
    const tempos: string[] = []
    while (s.exercise === 0) {
      tempos.push(typed(tempoOf(s)))
      s = step(s, 'over', 10)
    }
    expect(tempos).toEqual(['60', '60', '72', '72'])
    expect(played(s, 'over', 'over', 'over').phase).toBe('going')
    expect(played(s, 'over', 'over', 'over', 'over').phase).toBe('done')
  })

  it('by the clock: not before the minutes are over, and never within a turn; the last tempo and length stay', () => {
    const s = going(exercise({ minutes: 1, times: 1, lengths: [4, 6] }), exercise({ item: 'Thirds' }))
    const five = played(s, 'over', 'over', 'over', 'over', 'over')
    expect(five.exercise).toBe(0)
    expect(typed(tempoOf(five))).toBe('72')
    expect(lengthOf(five)).toBe(6)
    const on = played(five, 'over')
    expect([on.exercise, on.turn, on.heard]).toEqual([1, 0, 0])
  })

  it('by press: next, or this one again from its first turn', () => {
    const s = going(exercise(), exercise({ item: 'Thirds', shift: 2 }))
    expect(played(s, 'over', 'over', 'again').turn).toBe(0)
    expect(played(s, 'next').exercise).toBe(1)
    expect(played(s, 'next').shift).toBe(2)
    expect(played(s, 'next', 'next').phase).toBe('done')
    expect(played(s, 'wait').phase).toBe('hold')
    expect(played(s, 'wait', 'start').phase).toBe('going')
    expect(played(s, 'wait', 'over').turn).toBe(0)
  })
})

describe('tempo', () => {
  it('begins where it was left, moves by marks for all that follows, and the beginning is what is remembered', () => {
    const s = going(exercise({ shift: 1 }))
    expect(typed(tempoOf(s))).toBe('63')
    const up = played(s, 'faster', 'faster', 'slower')
    expect(typed(firstTempo(up))).toBe('66')
    expect(typed(tempoOf(played(up, 'over', 'over')))).toBe('80')
    expect(typed(firstTempo(played(up, 'over', 'over')))).toBe('66')
  })
})

describe('lengths', () => {
  const long = exercise({ lengths: [4, 6, 9], tempos: [tempo('60')], times: 1, asLong: true })
  it('grow from turn to turn, in beats, exactly', () => {
    expect(turnsOf(long)).toBe(3)
    let s = going(long)
    const heard: number[] = []
    for (; s.phase === 'going'; s = step(s, 'over', 1)) {
      const p = turnProgram(s, RATE, null)
      heard.push(seconds(p.end - p.firstNote))
      expect(p.onsets.filter(o => o.frame >= p.firstNote)).toHaveLength(lengthOf(s) ?? 0)
    }
    expect(heard).toEqual([4, 6, 9])
  })

  it('are counted in the note value of the tempo', () => {
    const s = going({ ...long, meter: meter('6/8'), tempos: [tempo('dotted-quarter=60')] })
    const p = turnProgram(s, RATE, null)
    expect(seconds(p.end - p.firstNote)).toBe(4)
    expect(toNumber(tempoOf(s).unit)).toBe(3 / 8)
  })

  it('with a rest as long as what was played: silence and count-in together, a breath at least', () => {
    const first = going(long)
    const p1 = turnProgram(first, RATE, null)
    expect(p1.segments[0]?.kind).toBe('countIn')
    const second = step(first, 'over', 1)
    const p2 = turnProgram(second, RATE, p1)
    // Four seconds were played and the count-in takes four, so a breath stays.
    expect(p2.firstNote).toBe(5.5 * RATE)
    const p3 = turnProgram(step(second, 'over', 1), RATE, p2)
    expect(p3.firstNote).toBe(6 * RATE)
    const p4 = turnProgram(step(second, 'over', 1), RATE, null)
    expect(p4.firstNote).toBe(4 * RATE)
  })
})

describe('a tone', () => {
  const tone = { hz: 233, dbfs: -20, words: '' }
  it('sounds from the count-in to the end of the turn, and not in the rest', () => {
    const s = going(exercise({ tone }))
    const first = turnProgram(s, RATE, null)
    expect(first.tone).toEqual({ hz: 233, dbfs: -20, from: 0, to: first.end })
    const next = turnProgram(step(s, 'over'), RATE, first)
    expect(next.segments[0]?.kind).toBe('rest')
    expect(next.tone?.from).toBe(1.5 * RATE)
  })
  it('can be turned off and on', () => {
    const s = going(exercise({ tone }))
    expect(turnProgram(step(s, 'tone'), RATE, null).tone).toBeUndefined()
    expect(turnProgram(played(s, 'tone', 'tone'), RATE, null).tone).toBeDefined()
    expect(turnProgram(going(exercise()), RATE, null).tone).toBeUndefined()
  })
})
