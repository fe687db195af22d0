import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { compare, div, frac } from '../../src/music/fraction.ts'
import { NOTE_VALUES } from '../../src/music/note-value.ts'
import { ok } from '../../src/music/result.ts'
import {
  compareTempo,
  faster,
  goalText,
  inUnit,
  parseTempo,
  quarters,
  ratioOf,
  sameTempo,
  scaleTempo,
  slower,
  spoken,
  type Tempo,
  tempo,
  tempoRatio,
  tidy,
  typed,
} from '../../src/music/tempo.ts'
import { anyTempo, anyText } from './any.ts'

const DOTTED = frac(3, 8)

describe('a tempo as it is typed', () => {
  it('112 alone is quarters', () => {
    expect(parseTempo('112')).toEqual(ok({ unit: frac(1, 4), bpm: frac(112) }))
  })

  it('dotted-quarter=80 names the note value that is counted, 63.5 has a decimal', () => {
    expect(parseTempo('dotted-quarter=80')).toEqual(ok({ unit: DOTTED, bpm: frac(80) }))
    expect(parseTempo(' half = 63.5 ')).toEqual(ok({ unit: frac(1, 2), bpm: frac(127, 2) }))
  })

  it('reaches from 1 to 999', () => {
    for (const s of ['1', '999', '1.000', '998.999']) expect(parseTempo(s).ok).toBe(true)
    for (const s of ['0', '0.999', '999.001', '1000']) expect(parseTempo(s).ok).toBe(false)
  })

  it.each([
    '',
    'fast',
    '-112',
    '1e2',
    '112 bpm',
    '=112',
    '112=',
    'quarter=',
    'quarter=112=',
    'quarter=half',
    '80-92',
  ])('%j is refused, naming the field and what is accepted', s => {
    const read = parseTempo(s, 'goal tempo')
    expect(read.ok).toBe(false)
    if (read.ok) return
    expect(read.problem.field).toMatch(/^goal tempo/)
    expect(read.problem.accepted).not.toBe('')
  })

  it('an unknown note value is said to be what was wrong', () => {
    expect(parseTempo('crotchet=60', 'start')).toMatchObject({
      problem: { field: 'start, note value', got: 'crotchet' },
    })
  })

  it('comes back as it was typed', () => {
    expect(typed(tempo(112))).toBe('112')
    expect(typed(tempo(80, DOTTED))).toBe('dotted-quarter=80')
    fc.assert(
      fc.property(anyTempo, t => {
        expect(parseTempo(typed(t))).toEqual(ok(t))
      }),
      { numRuns: 1000 },
    )
  })

  it('never throws, and what is taken lies between 1 and 999', () => {
    fc.assert(
      fc.property(anyText, s => {
        const read = parseTempo(s)
        if (!read.ok) return
        expect(compare(read.value.bpm, frac(1))).toBeGreaterThanOrEqual(0)
        expect(compare(read.value.bpm, frac(999))).toBeLessThanOrEqual(0)
      }),
      { numRuns: 2000 },
    )
  })

  it('is spoken as it stands over a staff', () => {
    expect(spoken(tempo(112))).toBe('quarter = 112')
    expect(spoken(tempo(63.5, frac(7, 8)))).toBe('double dotted half = 63.5')
  })

  it.each([0, -1, 1000, Number.NaN, Number.POSITIVE_INFINITY, 60.0001])('%d is no tempo', bpm => {
    expect(() => tempo(bpm)).toThrow(RangeError)
  })
})

describe('tempos beside each other', () => {
  it('dotted quarter = 80 is quarter = 120 is half = 60', () => {
    // MusicXML 4.0, sound@tempo: "expressed in quarter notes per minute"; so dotted quarter 80 is 120.
    expect(quarters(tempo(80, DOTTED))).toEqual(frac(120))
    expect(sameTempo(tempo(80, DOTTED), tempo(120))).toBe(true)
    expect(sameTempo(tempo(60, frac(1, 2)), tempo(120))).toBe(true)
  })

  it('eighth = 120 is slower than quarter = 80: the number alone says nothing', () => {
    expect(compareTempo(tempo(120, frac(1, 8)), tempo(80))).toBeLessThan(0)
    expect(faster(tempo(120, frac(1, 8)), tempo(80))).toEqual(tempo(80))
    expect(tempoRatio(tempo(120, frac(1, 8)), tempo(80))).toBe(0.75)
  })

  it('of two equal ones the first is kept, as it was typed', () => {
    expect(faster(tempo(80, DOTTED), tempo(120))).toEqual(tempo(80, DOTTED))
    expect(faster(tempo(120), tempo(80, DOTTED))).toEqual(tempo(120))
    expect(slower(tempo(80, DOTTED), tempo(120))).toEqual(tempo(80, DOTTED))
    expect(slower(tempo(120), tempo(80, DOTTED))).toEqual(tempo(120))
  })

  it('of any two the one is the faster and the other the slower', () => {
    fc.assert(
      fc.property(anyTempo, anyTempo, (a, b) => {
        fc.pre(!sameTempo(a, b))
        const [low, high] = tempoRatio(a, b) < 1 ? [a, b] : [b, a]
        expect([slower(a, b), faster(a, b)]).toEqual([low, high])
      }),
    )
  })

  it('counting in another note value changes nothing that is heard, there and back exactly', () => {
    expect(inUnit(tempo(112), DOTTED)).toEqual({ unit: DOTTED, bpm: frac(224, 3) })
    fc.assert(
      fc.property(anyTempo, fc.constantFrom(...NOTE_VALUES), (t, unit) => {
        const other = inUnit(t, unit)
        expect(other.unit).toEqual(unit)
        expect(sameTempo(other, t)).toBe(true)
        expect(inUnit(other, t.unit)).toEqual(t)
      }),
    )
  })

  it('a whole map scales by one ratio: relations stay', () => {
    fc.assert(
      fc.property(anyTempo, anyTempo, fc.integer({ min: 1, max: 100 }), (a, b, percent) => {
        const by = (t: Tempo) => scaleTempo(t, frac(percent, 100))
        expect(compareTempo(by(a), by(b))).toBe(compareTempo(a, b))
        expect(div(quarters(by(a)), quarters(a))).toEqual(frac(percent, 100))
        expect(by(a).unit).toEqual(a.unit)
      }),
    )
  })
})

describe('tempos that come out of a division', () => {
  it('are kept exact while they are simple, else to 0.01', () => {
    const third = { unit: frac(1, 4), bpm: frac(200, 3) }
    expect(tidy(third)).toBe(third)
    expect(tidy({ unit: DOTTED, bpm: frac(1_000_000, 10_007) })).toEqual({
      unit: DOTTED,
      bpm: frac(9993, 100),
    })
  })

  it('have a ratio, exact for all that can be typed', () => {
    expect(ratioOf(tempo(126), tempo(84))).toEqual(frac(3, 2))
    fc.assert(
      fc.property(anyTempo, anyTempo, (a, b) => {
        expect(Math.abs(ratioOf(a, b).n / ratioOf(a, b).d - tempoRatio(a, b))).toBeLessThan(
          1e-6 * (1 + tempoRatio(a, b)),
        )
      }),
    )
  })
})

it('a goal is said in its note value, as a range where it is one, and as open where nobody knows it', () => {
  expect(goalText(tempo(116), null)).toBe('goal quarter = 116')
  expect(goalText(tempo(80, DOTTED), tempo(126))).toBe('goal dotted quarter = 80 to 84')
  expect(goalText(tempo(116), null, true)).toBe('goal open (for now quarter = 116)')
})
