import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Visit } from '../../src/ladder/history.ts'
import { decodeKey, warmUpKey } from '../../src/ladder/key.ts'
import { allKeys, keyText } from '../../src/music/keys.ts'
import { EXTENDED_MARKS, parseTempo, type Tempo, tempo, typed } from '../../src/music/tempo.ts'
import {
  keysOfDay,
  lastTempo,
  marksBetween,
  movedBy,
  type PlayedKey,
  WITHIN,
  warmedUp,
} from '../../src/warm-up/exercises.ts'

const at = (s: string): Tempo => {
  const read = parseTempo(s)
  if (!read.ok) throw new Error(s)
  return read.value
}
const visit = (key: string, time: string, played = 3): Visit => ({
  id: time,
  key,
  time,
  offset: 0,
  clean: 0,
  verdicts: 0,
  played,
  seconds: 60,
  ceiling: null,
  goal: false,
  last: null,
  rule: '3-in-a-row',
  stops: [],
  air: null,
})
const scale = (key: string, t: string): string =>
  warmUpKey({ warmUp: 'mornings', item: 'One scale', key, tempo: at(t) })

describe('the key under which the journal keeps an exercise', () => {
  it('reads back what was played, in which key, from which tempo', () => {
    for (const tempo of ['66', 'dotted-quarter=54.5'])
      for (const key of [null, 'Bb harmonic minor']) {
        const w = { warmUp: 'mornings', item: 'Long tones, soft', key, tempo: at(tempo) }
        expect(decodeKey(warmUpKey(w))).toEqual({ kind: 'warm-up', ...w })
      }
  })
  it('is told from every other key', () => {
    for (const key of ['section p1 even', 'warmup', 'warmup a b c d', 'warmup a b c 60 more'])
      expect(decodeKey(key).kind).not.toBe('warm-up')
  })
})

describe('tempo memory', () => {
  const visits = [
    visit(scale('F major', '72'), '2031-03-01T10:00:00.000Z'),
    visit(scale('C major', '60'), '2031-03-02T10:00:00.000Z'),
    visit(scale('C major', '96'), '2031-03-03T10:00:00.000Z', 0),
    visit('section p1 even', '2031-03-04T10:00:00.000Z'),
  ]
  const last = (key: string, item = 'One scale') =>
    lastTempo(warmedUp(visits), { warmUp: 'mornings', item, key })
  it('is that of the key, else that of the exercise; what was not played to the end of a turn is not remembered', () => {
    expect(typed(last('F major') as Tempo)).toBe('72')
    expect(typed(last('C major') as Tempo)).toBe('60')
    expect(typed(last('G major') as Tempo)).toBe('60')
    expect(last('C major', 'Thirds')).toBeNull()
  })
})

describe('marks', () => {
  it('lead up and down the traditional scale, from a tempo between two of them too', () => {
    expect(typed(movedBy(at('60'), 2))).toBe('66')
    expect(typed(movedBy(at('62'), -1))).toBe('60')
    expect(typed(movedBy(at('dotted-quarter=60'), -3))).toBe('dotted-quarter=54')
    expect(typed(movedBy(at('2'), -1))).toBe('2')
  })
  it('between two tempos are as many as lead from one to the other', () => {
    const marks = EXTENDED_MARKS.filter(m => m >= 20 && m <= 400)
    const mark = fc.constantFrom(...marks)
    fc.assert(
      fc.property(mark, mark, (a, b) => {
        expect(marksBetween(tempo(a), tempo(b))).toBe(marks.indexOf(b) - marks.indexOf(a))
      }),
    )
    expect(marksBetween(at('60'), at('64'))).toBe(1)
    expect(marksBetween(at('60'), at('65'))).toBe(2)
    expect(marksBetween(at('62'), at('62'))).toBe(0)
  })
})

const KEYS = allKeys('major').map(keyText)
const date = (n: number): string => new Date(Date.UTC(2031, 2, 3) + n * 86_400_000).toISOString().slice(0, 10)

/** Plays what is proposed on each of these days. */
const practice = (days: readonly number[], before: readonly PlayedKey[] = []) => {
  const played = [...before]
  const many: number[] = []
  for (const n of days) {
    const keys = keysOfDay(KEYS, played, date(n))
    many.push(keys.length)
    for (const key of keys) played.push({ key, day: date(n) })
  }
  return { played, many }
}

/** The longest time for which a key was left, from the first day on to the last. */
const longest = (played: readonly PlayedKey[], first: number, last: number): number =>
  Math.max(
    ...KEYS.map(key => {
      const days = [...new Set(played.filter(p => p.key === key).map(p => p.day))].sort()
      const all = [date(first - 1), ...days, date(last)].map(d => Date.parse(d) / 86_400_000)
      return Math.max(...all.slice(1).map((d, i) => d - (all[i] as number)))
    }),
  )

const range = (n: number): number[] => [...Array(n).keys()]

describe('the keys of the day', () => {
  it('begin at the top of the circle and go round it, one a day', () => {
    const { played, many } = practice(range(24))
    expect(many.every(n => n === 1)).toBe(true)
    expect(played.map(p => p.key)).toEqual([...KEYS, ...KEYS])
  })

  it('leave no key for more than 14 days, as long as no more than three lie between two warm-ups', () => {
    const steps = fc.array(fc.integer({ min: 1, max: 3 }), { minLength: 20, maxLength: 60 })
    fc.assert(
      fc.property(steps, gaps => {
        let day = 0
        const days = [0, ...gaps.map(g => (day += g))]
        expect(longest(practice(days).played, 0, days.at(-1) as number)).toBeLessThanOrEqual(WITHIN)
      }),
    )
  })

  it.each([
    ['on weekdays', [0, 1, 2, 3, 4], 2],
    ['on three days a week', [0, 2, 4], 4],
  ])('are few %s, never all at once', (_, weekdays, most) => {
    const days = range(20).flatMap(w => weekdays.map(d => 7 * w + d))
    const { played, many } = practice(days)
    expect(longest(played, 0, days.at(-1) as number)).toBeLessThanOrEqual(WITHIN)
    expect(Math.max(...many.slice(weekdays.length))).toBeLessThanOrEqual(most)
  })

  it('after a long holiday come back a few a day, the longest untouched first', () => {
    const before = practice(range(12)).played
    const first = keysOfDay(KEYS, before, date(60))
    expect(first).toEqual([KEYS[0]])
    const after = practice(
      range(13).map(n => 60 + n),
      before,
    )
    expect(new Set(after.played.filter(p => p.day >= date(60)).map(p => p.key)).size).toBe(12)
    expect(Math.max(...after.many)).toBeLessThanOrEqual(2)
  })

  it('stay the same for the rest of a day, and heed no other keys', () => {
    const played = [
      { key: 'C major', day: date(4) },
      { key: 'X', day: date(1) },
    ]
    expect(keysOfDay(KEYS, played, date(5))).toEqual(['G major'])
    expect(keysOfDay(KEYS, [...played, { key: 'G major', day: date(5) }], date(5))).toEqual(['G major'])
    expect(keysOfDay(['C major'], [], date(0))).toEqual(['C major'])
  })
})
