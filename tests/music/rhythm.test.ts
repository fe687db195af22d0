import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { measures } from '../../src/music/form.ts'
import { frac, mul, times, zero } from '../../src/music/fraction.ts'
import { meterText } from '../../src/music/meter.ts'
import { sentence } from '../../src/music/result.ts'
import {
  alteredForm,
  clickFor,
  guideOf,
  parseRhythm,
  quickAt,
  quickNotesWords,
  quickness,
  type Rhythm,
  rhythmText,
  suits,
  writtenForm,
} from '../../src/music/rhythm.ts'
import { sameTempo, typed } from '../../src/music/tempo.ts'
import { countInFrames, framesOf, meter, music, nearest, played, RATE, tempoOf } from '../click/support.ts'
import { anyText } from './any.ts'

const rhythm = (s: string): Rhythm => {
  const r = parseRhythm(s)
  if (!r.ok) throw new Error(sentence(r.problem))
  return r.value
}
const sixteenth = frac(1, 16)

describe('how much quicker the quick notes are', () => {
  // The click of each at a goal of 132, so that its quick notes run as fast as even ones at 132.
  it.each([
    ['3:1', frac(2), '66'],
    ['3:1:1:1', frac(3, 2), '88'],
    ['1:1:1:3', frac(3, 2), '88'],
    ['2:1:1', frac(4, 3), '99'],
    ['5:1:1:1:1:1', frac(5, 3), '79.2'],
    ['2:1', frac(3, 2), '88'],
    ['3:1:2', frac(2), '66'],
    ['5:1:1:1', frac(2), '66'],
    ['5:1:1:1/2', frac(1), '132'],
    ['4:1:1/2', frac(1), '132'],
    ['1:1:1:1:1:7/2', frac(1), '132'],
  ])('%s', (s, factor, click) => {
    expect(quickness(rhythm(s))).toEqual(factor)
    expect(typed(clickFor(tempoOf('132'), rhythm(s)))).toBe(click)
  })

  it('is said in one line', () => {
    expect(quickNotesWords(tempoOf('56'), rhythm('3:1'))).toBe('click 56, quick notes as at 112')
    expect(quickNotesWords(clickFor(tempoOf('100'), rhythm('1:1:1:3')), rhythm('1:1:1:3'))).toBe(
      'click 66.667, quick notes as at 100',
    )
  })

  it('the click of a tempo has quick notes of that tempo; too fine a click is rounded to 0.01', () => {
    const exact = clickFor(tempoOf('dotted-quarter=92'), rhythm('5:1:1:1:1:1'))
    expect(typed(exact)).toBe('dotted-quarter=55.2')
    expect(sameTempo(quickAt(exact, rhythm('5:1:1:1:1:1')), tempoOf('dotted-quarter=92'))).toBe(true)
    expect(clickFor(tempoOf('63.517'), rhythm('13:11:7')).bpm.d).toBeLessThanOrEqual(10_000)
  })

  it('each note lasts its share of the group: the sum is the group, the shortest is as much quicker', () => {
    const lengths = fc.array(fc.integer({ min: 1, max: 16 }), { minLength: 2, maxLength: 12 })
    fc.assert(
      fc.property(lengths, fc.constantFrom(1, 2, 3), (ratios, over) => {
        const read = parseRhythm(`${ratios.join(':')}${over > 1 ? `/${over}` : ''}`)
        expect(read.ok).toBe(new Set(ratios).size > 1)
        if (!read.ok) return
        const r = read.value
        const { group } = guideOf(r, sixteenth)
        const total = r.ratios.reduce((a, b) => a + b, 0)
        const shortest = mul(group, frac(Math.min(...r.ratios), total))
        expect(mul(shortest, quickness(r))).toEqual(sixteenth)
        expect(rhythm(rhythmText(r))).toEqual({ ...r, name: rhythmText(r), words: rhythmText(r) })
      }),
    )
  })
})

describe('a rhythm as it is typed', () => {
  it('is known by its smallest numbers', () => {
    expect(rhythmText(rhythm('6:2'))).toBe('3:1')
    expect(rhythmText(rhythm(' 10:2:2:2/2 '))).toBe('5:1:1:1/2')
  })

  it.each([
    '',
    '3',
    '1:1',
    '2:2:2/2',
    '3:0',
    '17:1',
    '3:1/5',
    '3:1/0',
    '3-1',
    'swing',
    `1${':2'.repeat(12)}`,
  ])('%j is refused with what is accepted', s => {
    const r = parseRhythm(s)
    expect(!r.ok && sentence(r.problem)).toMatch(
      / for the rhythm\. Try 2|^The rhythm is missing\. Type 2 to 12 lengths from 1 to 16 that differ/,
    )
  })

  it('nothing that is typed throws', () => {
    fc.assert(
      fc.property(anyText, s => {
        const r = parseRhythm(s)
        if (!r.ok) expect(r.problem.got).toBe(s)
      }),
      { numRuns: 1000 },
    )
  })
})

describe('where a rhythm suits the music', () => {
  const pairs = rhythm('3:1')
  const fours = rhythm('3:1:1:1')
  const threes = rhythm('2:1:1')
  it('sixteenths in fours on each quarter, in threes or sixes on each dotted quarter', () => {
    expect(suits(fours, sixteenth, meter('4/4'))).toBe(true)
    expect(suits(pairs, sixteenth, meter('4/4'))).toBe(true)
    expect(suits(threes, sixteenth, meter('6/8'))).toBe(true)
    expect(suits(fours, sixteenth, meter('6/8'))).toBe(false)
    expect(suits(threes, sixteenth, meter('4/4'))).toBe(false)
    expect(suits(threes, frac(1, 12), meter('4/4'))).toBe(true)
    expect(suits(fours, sixteenth, meter('2+2+3/8'))).toBe(false)
  })

  it('eighths in fours on two quarters of 4/4, not on 3/4', () => {
    expect(suits(fours, frac(1, 8), meter('4/4'))).toBe(true)
    expect(suits(fours, frac(1, 8), meter('3/4'))).toBe(false)
    expect(suits(pairs, frac(1, 8), meter('6/8'))).toBe(false)
  })
})

describe('a rhythm that keeps its time', () => {
  it('moves only a breath between two notes of a group', () => {
    const form = {
      ...music('2/4', 1, '60'),
      breaths: [{ at: sixteenth, kind: 'breath' as const, adds: zero }],
    }
    const altered = alteredForm(form, rhythm('3:1:1:1'), sixteenth)
    expect(altered).toEqual({ ...form, breaths: [{ ...form.breaths[0], at: frac(1, 8) }] })
  })
})

describe('a stop on the first of four sixteenths, one whole beat long', () => {
  const stop = rhythm('5:1:1:1/2')
  const even = music('3/4', 2, '60', frac(1, 4))
  const altered = alteredForm(even, stop, sixteenth)

  it('makes two beats of each, in the same measures', () => {
    expect(measures(altered).map(m => [m.number, meterText(m.meter), m.to])).toEqual([
      [0, '6/4', frac(1, 2)],
      [1, '6/4', frac(2)],
      [2, '6/4', frac(7, 2)],
    ])
  })

  it('every first note stays on the beat, and the rest follow it at the written speed', () => {
    const p = played(altered, { guide: guideOf(stop, sixteenth) })
    // From the pick-up's beat: held for five sixteenths of a second a quarter, then three quick ones; two beats in all.
    expect(framesOf(p, 'guide').slice(0, 8)).toEqual(nearest([0, 1.25, 1.5, 1.75, 2, 3.25, 3.5, 3.75]))
    expect(framesOf(p, 'downbeat')).toEqual(nearest([2, 8]))
    expect(framesOf(p, 'downbeat', 'beat')).toEqual(nearest([...Array(14).keys()]))
    expect(p.end).toBe(14 * RATE)
  })

  it('is counted in by the measure of the part: three beats, and one more before the pick-up of two', () => {
    const p = played(altered, { countIn: 1 })
    expect(countInFrames(p)).toEqual(nearest([0, 1, 2, 3]))
    expect(p.firstNote).toBe(4 * RATE)
    const without = played(alteredForm(music('3/4', 2, '60'), stop, sixteenth), { countIn: 1 })
    expect(countInFrames(without)).toEqual(nearest([0, 1, 2]))
  })

  it('a breath after the fourth note stays there, one after the first stays after the long note', () => {
    const breaths = [
      { at: frac(1, 4), kind: 'breath' as const, adds: zero },
      { at: frac(5, 16), kind: 'breath' as const, adds: zero },
    ]
    const placed = alteredForm({ ...even, breaths }, stop, sixteenth).breaths?.map(b => b.at)
    expect(placed).toEqual([frac(1, 2), frac(13, 16)])
  })

  it('in 6/8 two dotted beats become four, tempos and meters with them', () => {
    const form = {
      ...music('6/8', 2, 'dotted-quarter=60'),
      meters: [
        { at: zero, meter: meter('6/8') },
        { at: frac(3, 4), meter: meter('9/8') },
      ],
      marks: [
        { at: zero, tempo: tempoOf('dotted-quarter=60') },
        { at: frac(3, 4), tempo: tempoOf('dotted-quarter=120') },
      ],
      length: frac(15, 8),
    }
    const p = played(alteredForm(form, rhythm('4:1:1/2'), frac(1, 8)), {
      guide: guideOf(rhythm('4:1:1/2'), frac(1, 8)),
    })
    expect(framesOf(p, 'downbeat', 'beat')).toEqual(nearest([0, 1, 2, 3, 4, 4.5, 5, 5.5, 6, 6.5]))
    expect(framesOf(p, 'guide').slice(0, 6)).toEqual(nearest([0, 4 / 3, 5 / 3, 2, 2 + 4 / 3, 2 + 5 / 3]))
    expect(times(form.length, 2)).toEqual(alteredForm(form, rhythm('4:1:1/2'), frac(1, 8)).length)
  })
})

it('a form that a rhythm stretched is the written one again, whatever its meters', () => {
  for (const text of ['4/4', '3/4', '6/8', '3+2/8', '7/8'])
    for (const name of ['5:1:1:1/2', '4:1:1/2', '3:1']) {
      const form = music(text, 2, '60')
      const r = rhythm(name)
      const { meters, marks, pickup, length } = writtenForm(alteredForm(form, r, frac(1, 16)), r.over)
      expect({ meters, marks: marks.map(m => m.at), pickup, length }, `${text} ${name}`).toEqual({
        meters: form.meters,
        marks: form.marks.map(m => m.at),
        pickup: form.pickup,
        length: form.length,
      })
    }
})
