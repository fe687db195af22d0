import { strFromU8 } from 'fflate'
import { describe, expect, test } from 'vitest'
import { div, frac, times } from '../../src/music/fraction.ts'
import { typed } from '../../src/music/tempo.ts'
import { readPart } from '../../src/score/read-part.ts'
import { readScore } from '../../src/score/read-score.ts'
import { performed } from '../../src/score/repeats.ts'
import type { Part, Score } from '../../src/score/score.ts'
import { must, refusal, text } from '../score/scores.ts'
import { scoreBytes, suite } from './scores-by-others.ts'

/*
 * Source: the unofficial MusicXML test suite (cuthbertLab, state 924db45a, MIT; scores/README.md), and counts of the raw
 * XML made here. Real scores: openscore.test.ts.
 */
const suiteScore = (start: string): Score => {
  const name = suite.find(n => n.startsWith(start)) ?? ''
  return must(readScore(scoreBytes('musicxml-suite', name), name))
}
const suitePart = (start: string, id = 'P1'): Part => must(readPart(suiteScore(start), id))
const count = (xml: string, re: RegExp): number => [...xml.matchAll(re)].length

describe('every file of the test suite', () => {
  test.each(suite)('%s is read, or refused in one sentence', name => {
    const file = scoreBytes('musicxml-suite', name)
    const score = readScore(file, name)
    if (score.ok) {
      for (const p of score.value.parts) {
        const part = must(readPart(score.value, p.id))
        expect(performed(part).order.length).toBeGreaterThan(0)
      }
    } else {
      expect(refusal(score)).toMatch(/^[^\n]+, line \d+[:,] .* Try .*\.$/)
    }
  })

  test('only one of them is refused', () => {
    const refused = suite.filter(name => !readScore(scoreBytes('musicxml-suite', name), name).ok)
    expect(refused).toEqual(['32ad-Notations5.musicxml'])
  })
})

describe('what the files of the suite say of themselves', () => {
  const groups = (start: string) => suitePart(start).measures.map(m => m.meter?.groups ?? m.meterText)
  const positions = (start: string) => suitePart(start).measures.map(m => [m.number, text(m.length)])
  const order = (start: string) =>
    performed(suitePart(start))
      .order.map(i => i + 1)
      .join(' ')

  test('11c: 3+2/8 and 5+3+1/4', () => {
    expect(groups('11c')).toEqual([
      [3, 2],
      [5, 3, 1],
    ])
  })
  test('11d: 3/8+2/8+3/4 and 5/2+1/8', () => {
    expect(groups('11d')).toEqual([
      [3, 2, 2, 2, 2],
      [4, 4, 4, 4, 4, 1],
    ])
  })
  test('11e: (3+2)/8+3/4', () => expect(groups('11e')).toEqual([[3, 2, 2, 2, 2]]))
  test('11h: senza misura', () => expect(groups('11h')).toEqual(['senza misura']))
  test('11b: no time signature', () => expect(groups('11b')).toEqual(['no time signature']))

  test('31c: note = number, text (note = number), note = note', () => {
    const part = suitePart('31c')
    expect(part.tempos.map(t => [text(t.at), t.text])).toEqual([
      ['0', 'dotted quarter = 100'],
      ['1/2', '4/1 = 100'],
      ['1', 'dotted quarter = dotted half'],
      ['3/2', '4/1 = dotted 32nd'],
      ['2', 'dotted quarter = dotted half'],
      ['5/2', 'dotted quarter = 77'],
    ])
    // a dotted quarter at long = 100 is 1066 2/3 a minute: beyond what anyone plays
    expect(part.warnings[0]).toBe(
      'measure 2: dotted quarter = dotted half gives dotted half = 1066.667, which is left out',
    )
    const last = part.tempos.at(-1)
    expect(last?.tempo && typed(last.tempo)).toBe('dotted-quarter=77')
  })

  test('03c: divisions change within the piece', () => {
    const lengths = suitePart('03c').notes.map(n => text(n.length))
    expect(new Set(lengths).size).toBeLessThan(4)
    expect(suitePart('03c').warnings).toEqual([])
  })

  test('32a: one breath mark and one caesura', () => {
    expect(
      suitePart('32a-')
        .breaths.filter(b => b.kind !== 'fermata')
        .map(b => b.kind),
    ).toEqual(['breath', 'caesura'])
  })

  test('33c: the slurs', () => {
    const xml = strFromU8(scoreBytes('musicxml-suite', suite.find(n => n.startsWith('33c')) ?? ''))
    expect(suitePart('33c').slurs.length).toBe(count(xml, /<slur [^>]*type="start"/g))
  })

  test('45a: one measure five times', () => expect(order('45a')).toBe('1 1 1 1 1 2'))
  test('45b: two endings', () => expect(order('45b')).toBe('1 2 1 3 4'))
  test('45c: five times, then three times', () =>
    expect(order('45c')).toBe('1 2 3 2 3 2 3 2 3 2 3 4 5 6 7 4 5 6 7 4 5 6 7 8'))
  test('45d: five endings', () => expect(order('45d')).toBe('1 2 1 3 4 5 1 6 7 8 9 1 10 1 11 12'))
  test('45e: a repeat that begins inside a second ending', () => {
    expect(order('45e')).toBe('1 2 1 3 4 5 5 6 7 6 8 9 8 9 10')
  })
  test('45f: endings that make no sense are played somehow, with a remark', () => {
    const part = suitePart('45f')
    expect(performed(part).warnings).toEqual(['the endings from measure 2 on share a number'])
    expect(performed(part).order.length).toBeGreaterThanOrEqual(part.measures.length)
  })
  test('45g: a repeat that does not end is played once, with a remark', () => {
    expect(order('45g')).toBe('1 2')
    expect(performed(suitePart('45g')).warnings).toEqual([
      'the repeat that begins at measure 2 does not end: it is played once',
    ])
  })

  test('46d: a pick-up of 3/8 and a measure in two halves', () => {
    expect(positions('46d')).toEqual([
      ['0', '3/8'],
      ['1', '1/2'],
      ['X1', '1/2'],
      ['2', '3/4'],
    ])
  })
  test('46f: measures that hold less than their meter', () => {
    expect(positions('46f').map(p => p[1])).toEqual(['1/2', '1', '1/2', '1'])
    expect(suitePart('46f').warnings).toEqual(['measure 3: it holds half where 4/4 asks for whole'])
  })

  test('72a: transposing instruments', () => {
    const score = suiteScore('72a')
    const all = score.parts.map(p => must(readPart(score, p.id)).transpositions.map(t => t.semitones))
    const xml = strFromU8(scoreBytes('musicxml-suite', suite.find(n => n.startsWith('72a')) ?? ''))
    expect(all.flat().length).toBe(count(xml, /<transpose>/g))
    // in B flat a whole step below what is written, in E flat a major sixth (common practice)
    expect(all.flat()).toEqual([-2, -9])
  })

  test('90a: a compressed score', () => expect(suiteScore('90a').parts.length).toBe(1))

  // MusicXML 4.0, element divisions: "if duration = 1 and divisions = 2, this is an eighth note".
  test('an eighth is one of two divisions', () => {
    expect(div(frac(1), times(frac(2), 4))).toEqual(frac(1, 8))
    expect(suitePart('11h').notes.map(n => text(n.length))).toEqual(['1/8', '1/8', '1/8'])
  })
})
