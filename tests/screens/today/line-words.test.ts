import { describe, expect, test } from 'vitest'
import { dayAfter } from '../../../src/music/day.ts'
import { dayOf } from '../../../src/plan/day.ts'
import { inRows, inWindow, wrapped } from '../../../src/screens/text-rows.ts'
import { clockText, dayLines, dayTitle, itemText } from '../../../src/screens/today/line-words.ts'
import { LATER, SIX, seam, TODAY, work } from '../../plan/scene.ts'
import { setDay } from '../../plan/set-day.ts'

const EVENING = 18 * 60
const page = (d: ReturnType<typeof dayOf>, pieceOf = (_: string) => '') =>
  dayLines(d, { nearest: LATER, start: EVENING, pieceOf })

describe('the day as a page', () => {
  test('is set out like a rehearsal order', () => {
    const day = {
      ...dayOf(SIX, [], { date: TODAY, minutes: 45, played: [] }),
      items: setDay(),
      later: [{ key: 'C', label: 'section C' }],
    }
    expect(page(day)).toEqual([
      'Wednesday, 45 minutes, rehearsal in 6 days',
      '',
      '18:00  9 min    Fundamentals',
      '18:09  3 min    section D                                 58 -> 96',
      '18:12  3 min    section A                                 74 -> 120',
      '18:15  5 min    Rest',
      '18:20  1 min    section E: once, cold                     at 120',
      '18:21  3 min    section D                                 on -> 96',
      '18:24  3 min    section F                                 79 -> 132',
      '18:27  3 min    section B                                 88 -> 120',
      '18:30  3 min    section D                                 on -> 96',
      '18:33  3 min    section A                                 on -> 120',
      '18:36  3 min    section F                                 on -> 132',
      '18:39  3 min    section B                                 on -> 120',
      '18:42  2 min    section D and 3 more: last time through',
      '18:44           Stop',
      '',
      "It's still open whether everything will be ready by then: each day counts.",
      'In turn on another day: section C.',
    ])
  })

  test('no line is longer than 80 columns, whatever things are called', () => {
    const long = 'the run at the weir after the second pause of the low strings, m. 141-144, section 12'
    const works = SIX.map(w => ({ ...w, label: `${long} ${w.key}` }))
    const day = dayOf(works, [seam('B', 'C', { label: long })], { date: TODAY, minutes: 60, played: [] })
    for (const line of page(day, () => 'Weir Street Overture')) expect(line.length).toBeLessThanOrEqual(80)
  })

  test('is scanned in columns, at most five lines of words under it', () => {
    const works = SIX.map(w => ({
      ...w,
      label: `the run at the weir after the second pause, section ${w.key}`,
    }))
    const played = Array.from({ length: 7 }, (_, i) => ({ day: dayAfter(TODAY, i - 7), minutes: 3 }))
    const all = page(dayOf(works, [], { date: dayAfter(LATER, -2), minutes: 60, played }))
    const empty = all.lastIndexOf('')
    expect(all.length - 1 - empty).toBeLessThanOrEqual(5)
    for (const line of all.slice(2, empty)) expect(line).toMatch(/^\d\d:\d\d {2}(\d+ min| {5}) +\S/)
    for (const line of all.slice(2, empty))
      expect(line.slice(16, 58).trimEnd().length).toBeLessThanOrEqual(40)
  })

  test('names the piece where there are several', () => {
    const day = dayOf([work('1', 90, 120)], [], { date: TODAY, minutes: 30, played: [] })
    expect(page(day, () => 'Lantern Study').join('\n')).toMatch(/section 1, Lantern Study {2,}87 -> 120/)
  })

  test('of the sections of one passage that follow each other only the first is named in full', () => {
    const label = (n: number) => `run at the weir, section ${n}, from m. ${39 + 2 * n}`
    const works = [1, 2, 3, 4, 5, 6, 7, 8].map(n =>
      work(`${n}`, n === 6 ? 100 : null, 138, { label: label(n), next: null, readyBy: dayAfter(TODAY, 3) }),
    )
    const text = page(dayOf(works, [], { date: TODAY, minutes: 25, played: [] }), () => 'Lantern Study')
      .join(' ')
      .replace(/\s+/g, ' ')
    expect(text).toMatch(/run at the weir, section \d, from m. \d\d… \? -> 138/)
    expect(text).toMatch(
      /In turn on another day: Lantern Study, run at the weir, sections? [\d, to]+( and \d)?\./,
    )
    expect(text).toMatch(/(ready, and|as far as it goes:) Lantern Study, run at the weir, section/)
  })

  test('nobody is told to play more than twice as long', () => {
    const text = (minutes: number) =>
      page(dayOf(SIX, [], { date: dayAfter(LATER, -3), minutes, played: [] })).join(' ')
    expect(text(24)).toContain('Two ways: all of it at')
    expect(text(60)).toContain('Three ways: ')
    expect(text(24)).not.toContain('minutes a day; or')
  })

  test('last evening, the day, after the date', () => {
    const on = (days: number) => [work('1', 112, 120, { readyBy: dayAfter(TODAY, days) })]
    const lines = (days: number) =>
      page(dayOf(on(days), [], { date: TODAY, minutes: 40, played: [] }))
        .join('\n')
        .replace(/\n +/g, ' ')
    expect(lines(1)).toMatch(/section 1: one run +at 112\n18:\S+ +Stop/)
    expect(lines(0)).toContain('Weir Street Overture: entrances once')
    const [spots] = dayOf(on(0), [], { date: TODAY, minutes: 40, played: [] }).items.filter(
      i => i.kind === 'entries',
    )
    expect(spots && itemText(spots, () => '')).toContain(
      'within two hours before: entrances and exposed spots once, no verdicts: section 1 at 95 to 101',
    )
    expect(lines(-2)).toContain('Weir Street Overture, March 10: How was it? True tempo, spots, next date.')
  })

  test('a sudden jump is cautioned once, and defers to those who know', () => {
    const played = Array.from({ length: 7 }, (_, i) => ({ day: dayAfter(TODAY, i - 7), minutes: 12 }))
    const text = page(dayOf(SIX, [], { date: TODAY, minutes: 60, played })).join(' ')
    expect(text).toContain('sudden jump')
    expect(text).toContain('physician or therapist who treats musicians')
    expect(page(dayOf(SIX, [], { date: TODAY, minutes: 20, played })).join(' ')).not.toContain('jump')
  })
})

describe('small things', () => {
  test('whole minutes only; midnight is passed', () => {
    expect([0, 9.5, 18 * 60 + 8, 24 * 60 + 30].map(clockText)).toEqual(['00:00', '00:10', '18:08', '00:30'])
  })

  test('the title without a date says none', () => {
    const day = dayOf([], [], { date: TODAY, minutes: 40, played: [] })
    expect(dayTitle(day, null)).toBe('Wednesday, 40 minutes')
    expect(dayTitle(day, TODAY)).toBe('Wednesday, 40 minutes, rehearsal today')
  })

  test('lines break between words only, and keep their indent', () => {
    expect(wrapped('  one two three four', 11, 4)).toEqual(['  one two', '    three', '    four'])
    expect(wrapped('one', 2)).toEqual(['one'])
    expect(wrapped('', 10)).toEqual([''])
    expect(inWindow('  one two three four', 11)).toEqual(['  one two', '    three', '    four'])
    expect(inWindow('  one two three four', undefined)).toEqual(['  one two three four'])
    const command = 'To practice: gradino practice "Weir Street Overture/the run"'
    expect(inWindow(command, 60)).toEqual([command])
    expect(inWindow(command, 40)).toEqual(['To practice:', `  ${command.slice(13)}`])
  })
})

test('"m. 21" and "41 %" are read in one row, on a page and on a screen', () => {
  const text = 'All of it at 41 % of the goals; m. 1-4 at 60; m. 21-26 at 60'
  for (let width = 12; width < 60; width++)
    for (const rows of [wrapped(text, width), inRows(text, width)]) {
      for (const row of rows) expect(row).not.toMatch(/\bm\.$|^%/)
      expect(rows.join(' ')).toBe(text)
    }
})
