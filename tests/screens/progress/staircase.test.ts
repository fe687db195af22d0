import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { dayAfter } from '../../../src/music/day.ts'
import { EXTENDED_MARKS } from '../../../src/music/tempo.ts'
import { type Stairs, staircase } from '../../../src/screens/progress/staircase.ts'

const MARCH = '2031-03-01'
const on = (day: number) => dayAfter(MARCH, day - 1)
const rungs = (from: number, goal: number) => EXTENDED_MARKS.filter(m => m >= from && m <= goal)
const drawn = (s: Partial<Stairs> & Pick<Stairs, 'days'>) =>
  staircase(
    { rungs: rungs(s.days[0]?.ceiling ?? 92, 138), today: on(15), readyBy: null, ahead: null, ...s },
    d => `March ${Number(d.slice(8))}`,
  )
const CLIMB = [
  { day: on(10), ceiling: 92 },
  { day: on(11), ceiling: 104 },
  { day: on(12), ceiling: 104 },
  { day: on(14), ceiling: 112 },
]

describe('the staircase', () => {
  test('solid where it was climbed, dotted where it may lead, level for the goal; real dates below', () => {
    expect(drawn({ days: CLIMB, readyBy: on(19), ahead: { low: 3, high: 8 } })).toEqual([
      '   138  - - - - - - - - - - - - - - - - - - ..... - - - - - - - - -..... goal',
      '   132                                    ..:                ......:',
      '   126                                  ..:           .......:',
      '   120                                 .:       ......:',
      '   116                               ..: .......:',
      '   112                    _________..:...:',
      '   108                    |',
      '   104      ______________|',
      '   100      |',
      '    96      |',
      '    92  ____|',
      '        March 10              today              March 19',
    ])
  })

  test('however few lines there are, what was reached has its own', () => {
    for (const rows of [3, 4, 5, 6])
      for (const ceiling of rungs(96, 132)) {
        const page = drawn({ days: [...CLIMB.slice(0, 1), { day: on(15), ceiling }], rows })
        expect(page.find(l => /_$/.test(l) && !l.includes(' 92 '))).toMatch(new RegExp(`^ +${ceiling} `))
      }
  })

  test('without an outlook nothing is dotted, without a date none is written', () => {
    const page = drawn({ days: CLIMB }).join('\n')
    expect(page).not.toMatch(/[.:]/)
    expect(page).toContain('today')
  })

  test('an open end is still on its way at the edge', () => {
    const at = (high: number | null) =>
      drawn({ days: CLIMB, ahead: { low: 3, high } }).map(l => /\.$/.test(l.replace(/ goal$/, '').trimEnd()))
    expect(at(8).indexOf(true)).toBe(0)
    expect(at(null).indexOf(true)).toBeGreaterThan(0)
  })

  test('a reached goal stands on its landing', () => {
    const [top] = drawn({ days: [...CLIMB, { day: on(15), ceiling: 138 }] })
    expect(top).toMatch(/138 .*_ goal$/)
  })

  test('of a hundred days and of twenty rungs there is still a page of 80 columns, steps in order', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: 1, max: 9 }), fc.integer({ min: 0, max: 3 })), {
          minLength: 1,
          maxLength: 40,
          size: 'max',
        }),
        fc.option(fc.tuple(fc.integer({ min: 1, max: 14 }), fc.integer({ min: 0, max: 30 }))),
        (steps, ahead) => {
          const marks = rungs(60, 138)
          let [day, up] = [0, 0]
          const days = steps.map(([wait, climbed]) => {
            day += wait
            up = Math.min(marks.length - 1, up + climbed)
            return { day: on(day), ceiling: marks[up] as number }
          })
          const page = staircase(
            {
              days,
              rungs: marks.filter(m => m >= (days[0]?.ceiling ?? 0)),
              today: on(day + 2),
              readyBy: on(day + 5),
              ahead: ahead && { low: ahead[0], high: ahead[0] + ahead[1] },
            },
            d => d.slice(5),
          )
          expect(page.length).toBeLessThanOrEqual(15)
          for (const line of page) {
            expect(line.length).toBeLessThanOrEqual(80)
            expect(line).toMatch(/^[\x20-\x7e]*$/)
          }
          // Each step is seen: from the lowest line up, solid steps begin further and further right.
          const begins = page
            .slice(0, -1)
            .reverse()
            .map(l => l.slice(8).search(/[_|]/))
            .filter(c => c >= 0)
          expect(begins).toEqual([...begins].sort((a, b) => a - b))
          expect(begins.length).toBeGreaterThan(0)
        },
      ),
    )
  })
})
