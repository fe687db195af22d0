import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Visit } from '../../src/ladder/history.ts'
import { decodeKey, warmUpKey } from '../../src/ladder/key.ts'
import { EXTENDED_MARKS } from '../../src/music/scale.ts'
import { parseTempo, type Tempo, tempo, typed } from '../../src/music/tempo.ts'
import { lastTempo, marksBetween, movedBy, warmedUp } from '../../src/warm-up/exercise.ts'

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
