import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  DEFAULT_RULES,
  dayStartText,
  parseDayStart,
  parseSlips,
  parseUp,
  slipsText,
  type Up,
  upText,
  upWords,
} from '../../src/ladder/rules.ts'
import { ok } from '../../src/music/result.ts'
import { anyText } from '../music/any.ts'

describe('when a rung is done, as it is typed', () => {
  it.each([
    ['3-in-a-row', { kind: 'row', n: 3 }, 'three in a row'],
    ['8-in-all', { kind: 'total', n: 8 }, 'eight in all'],
    ['4-of-5', { kind: 'most', n: 4, of: 5 }, 'four of the last five'],
    ['1-in-a-row', { kind: 'row', n: 1 }, 'one in a row'],
    ['12-in-all', { kind: 'total', n: 12 }, '12 in all'],
    ['5-of-5', { kind: 'most', n: 5, of: 5 }, 'five of the last five'],
  ] as const)('%s is %o: %s', (s, up, words) => {
    expect(parseUp(s)).toEqual(ok(up))
    expect(parseUp(s.replaceAll('-', ' '))).toEqual(ok(up))
    expect(upText(up)).toBe(s)
    expect(upWords(up)).toBe(words)
  })

  it('a number alone is in a row', () => {
    expect(parseUp('3')).toEqual(parseUp('3-in-a-row'))
  })

  it.each([
    '',
    'in-a-row',
    '0-in-a-row',
    '21-in-a-row',
    '3-in-row',
    '5-of-4',
    '4-of-21',
    '0-of-5',
    '-3-in-all',
  ])('%j is refused with what is accepted', s => {
    expect(parseUp(s)).toMatchObject({ ok: false, problem: { field: 'clean repetitions', got: s } })
  })

  it('reads back from its text', () => {
    const n = fc.integer({ min: 1, max: 20 })
    const up: fc.Arbitrary<Up> = fc.oneof(
      fc.record({ kind: fc.constantFrom('row' as const, 'total' as const), n }),
      fc.tuple(n, n).map(([a, b]) => ({ kind: 'most' as const, n: Math.min(a, b), of: Math.max(a, b) })),
    )
    fc.assert(
      fc.property(up, u => {
        expect(parseUp(upText(u))).toEqual(ok(u))
      }),
    )
  })

  it('never throws', () => {
    const near = fc
      .tuple(fc.nat({ max: 99 }), fc.constantFrom('-in-a-row', '-in-all', '-of-5', '-of-'))
      .map(x => x.join(''))
    fc.assert(
      fc.property(fc.oneof(anyText, near), s => {
        const read = parseUp(s)
        if (read.ok) expect(parseUp(upText(read.value))).toEqual(read)
      }),
      { numRuns: 2000 },
    )
  })

  it('unless said otherwise: three in a row up, two slips down, five in a row at the goal', () => {
    expect(DEFAULT_RULES).toEqual({ up: { kind: 'row', n: 3 }, slips: 2, top: 5 })
  })
})

describe('after how many slips in a row it goes back, as it is typed', () => {
  it.each([0, 1, 2, 5, 9])('%d reads back from its text', n => {
    expect(parseSlips(slipsText(n))).toEqual(ok(n))
  })

  it('is never, or a number from 1 to 9', () => {
    expect(parseSlips(' Never ')).toEqual(ok(0))
    expect([0, 1, 9].map(slipsText)).toEqual(['never', '1', '9'])
    for (const s of ['', '10', '-1', '2.5', 'two', 'nevermore'])
      expect(parseSlips(s)).toMatchObject({
        ok: false,
        problem: { field: 'slips', got: s, accepted: 'a number from 1 to 9, or never' },
      })
  })
})

describe('at which share of the ceiling a day begins, as it is typed', () => {
  it.each([80, 97, 100])('%d % reads back from its text', n => {
    expect(parseDayStart(`${n}%`)).toEqual(ok(n / 100))
    expect(parseDayStart(`${n} %`)).toEqual(ok(n / 100))
    expect(parseDayStart(String(n))).toEqual(ok(n / 100))
    expect(dayStartText(n / 100)).toBe(`${n}%`)
  })

  it.each(['79%', '101%', '97.5%', '', '%', '0.97'])('%j is refused with what is accepted', s => {
    expect(parseDayStart(s)).toMatchObject({ ok: false, problem: { field: 'day start', got: s } })
  })
})
